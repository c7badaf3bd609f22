"""Where the store is."""

from pathlib import Path

import pytest

from packdown.store.location import ENVIRONMENT, file_of, store_url


@pytest.fixture(autouse=True)
def _no_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(ENVIRONMENT, raising=False)


def test_the_store_is_in_the_workspace(tmp_path: Path) -> None:
    """From anywhere inside a workspace its store is found."""
    (tmp_path / "packdown.toml").touch()
    inner = tmp_path / "builds" / "old"
    inner.mkdir(parents=True)
    assert file_of(store_url(None, inner)) == tmp_path / "packdown.db"


def test_without_a_workspace_it_is_in_the_folder(tmp_path: Path) -> None:
    """A plan may lie in any folder; the store is then beside it."""
    assert file_of(store_url(None, tmp_path)) == tmp_path / "packdown.db"


def test_what_is_said_wins(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The option comes before the environment, the environment before the workspace."""
    (tmp_path / "packdown.toml").touch()
    monkeypatch.setenv(ENVIRONMENT, "postgresql+psycopg://club/scenery")
    assert store_url(None, tmp_path) == "postgresql+psycopg://club/scenery"
    assert file_of(store_url("other.db", tmp_path)) == Path("other.db")
    assert file_of(store_url(str(tmp_path), Path())) == tmp_path / "packdown.db"


@pytest.mark.parametrize("url", ["sqlite://", "sqlite:///", "sqlite:///:memory:"])
def test_a_store_in_memory_is_refused(url: str) -> None:
    """It would be lost when the command ends."""
    with pytest.raises(ValueError, match="would be lost"):
        file_of(url)


def test_a_store_on_a_server_is_no_file() -> None:
    """Only SQLite keeps a store in a file."""
    assert file_of("postgresql+psycopg://club/scenery") is None
