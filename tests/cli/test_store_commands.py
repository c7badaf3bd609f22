"""Stowing, finding, moving and counting as a user meets them."""

import json
import sys
from pathlib import Path

import pytest

from packdown.files import write_plan
from packdown.model import short_id
from packdown.store.location import ENVIRONMENT
from support.commands import run, run_at_terminal
from support.plans import GOOD
from support.stow_plans import stowing_plan

FIRST = stowing_plan(
    {"long": ["crate#1", "crate#2", "mill/wall", "tile#1"], "small": ["crate#3", "tile#2"]}
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a plan, in which the commands are run."""
    monkeypatch.delenv(ENVIRONMENT, raising=False)
    monkeypatch.chdir(tmp_path)
    write_plan(FIRST, tmp_path / "plan.json")
    return tmp_path


@pytest.fixture
def full(folder: Path) -> Path:
    """The same folder once the plan is stowed."""
    assert run("stow", "plan.json", "--yes")[0] == 0
    return folder


def test_stowing_shows_what_changes(folder: Path) -> None:
    """What comes from where is shown, and written only then."""
    status, shown, said = run("stow", "plan.json", "--yes")
    assert status == 0
    assert "new -> long: 4 pieces\n  2 x Crate, 1 x Tile, 1 piece of mill\n" in shown
    assert "change 1" in said
    assert (folder / "packdown.db").exists()
    assert "already recorded" in run("stow", "plan.json", "--yes")[1]


def test_nobody_to_confirm(folder: Path) -> None:
    """Where nobody can answer, nothing is written."""
    status, shown, said = run("stow", "plan.json")
    assert status == 2
    assert "new -> long" in shown
    assert "--yes" in said
    assert not (folder / "packdown.db").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="terminals are opened otherwise there")
def test_confirming_at_a_terminal(folder: Path) -> None:
    """Only a yes writes; the question goes to standard error."""
    status, shown, said = run_at_terminal(folder, "\n", "stow", "plan.json")
    assert status == 1
    assert "new -> long" in shown
    assert said.startswith("Record this? [y/N]: ")
    assert not (folder / "packdown.db").exists()
    assert run_at_terminal(folder, "y\n", "stow", "plan.json")[0] == 0
    assert (folder / "packdown.db").exists()


def test_a_broken_plan_is_not_stowed(folder: Path) -> None:
    """The broken rules are listed; the answer is no."""
    data = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    data["objective"]["containers"] += 1
    (folder / "plan.json").write_text(json.dumps(data), encoding="utf-8")
    status, _, said = run("stow", "plan.json", "--yes")
    assert status == 1
    assert "objective" in said
    assert not (folder / "packdown.db").exists()


@pytest.mark.usefixtures("folder")
def test_stowing_some_containers() -> None:
    """Only what was done is recorded."""
    assert run("stow", "plan.json", "--containers", short_id("small"), "--yes")[0] == 0
    assert "not stowed: 2" in run("find", "crate")[1]


@pytest.mark.usefixtures("full")
def test_finding() -> None:
    """Container, layer and place, in words and as JSON, with typing errors."""
    status, shown, _ = run("find", "crtae")
    assert status == 0
    assert shown.startswith("Crate: 3 pieces\n  long (")
    assert "first layer" in shown
    data = json.loads(run("find", "crate", "--json")[1])
    assert data["hits"][0]["number"] == 3
    assert len(data["hits"][0]["places"]) == 3


@pytest.mark.usefixtures("full")
def test_finding_nothing() -> None:
    """The answer is no."""
    status, shown, _ = run("find", "xyzzy")
    assert status == 1
    assert "Nothing is called that" in shown


def test_a_store_elsewhere(folder: Path) -> None:
    """A file, or a workspace, can be named."""
    write_plan(GOOD, folder / "plan.json")
    assert run("stow", "plan.json", "--yes", "--store", folder / "club.db")[0] == 0
    assert run("find", "plank", "--store", folder / "club.db")[0] == 1
    assert run("find", "p1", "--store", folder / "club.db")[0] == 0
    status, _, said = run("find", "p1", "--store", folder)
    assert status == 2
    assert "no store yet" in said


@pytest.mark.usefixtures("full")
def test_listing_a_container() -> None:
    """By its short id too; the highest layer first."""
    status, shown, _ = run("show", short_id("long"))
    assert status == 0
    assert shown.startswith(f"long ({short_id('long')}): 4 pieces, ")
    assert "    2 x Crate" not in shown  # these cubes go by their ids
    assert json.loads(run("show", "long", "--json")[1])["number"] == 4
    assert run("show", "lonng")[0] == 2


@pytest.mark.usefixtures("full")
def test_the_containers_of_a_build() -> None:
    """They come in the order in which to open them."""
    status, shown, _ = run("where", "mil")
    assert status == 0
    assert "mill: 1 piece in 1 container" in shown
    assert json.loads(run("where", "mill", "--json")[1])["stops"][0]["box"]["id"] == "long"
    assert run("where", "xyzzy")[0] == 2
