"""From nothing, and from every schema that was ever released, to the present one."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from packdown.errors import StoreError
from packdown.store import migrate
from packdown.store.backup import restore
from packdown.store.connection import Store
from packdown.store.finding import find
from packdown.store.listing import list_container
from packdown.store.revision import REVISION, REVISIONS, VERSION_TABLE
from packdown.store.schema import METADATA, STATE, TABLES
from packdown.store.undoing import undo
from support.plans import GOOD
from support.stores import everything, file_store, places, released, stowed
from support.stow_plans import stowing_plan


def test_every_revision_is_known() -> None:
    """The scripts stand in one line, and the program knows them in this order."""
    config = Config()
    config.set_main_option("script_location", str(migrate._SCRIPTS))
    scripts = ScriptDirectory.from_config(config)
    walked = [script.revision for script in scripts.walk_revisions()]
    assert tuple(reversed(walked)) == REVISIONS
    assert scripts.get_current_head() == REVISION


def test_the_migrations_make_the_schema(store: Store) -> None:
    """What they lead to from nothing is what the program writes to."""
    stowed(store, stowing_plan({"long": ["crate#1"]}))
    with store.writing() as connection:
        context = MigrationContext.configure(connection, opts={"version_table": VERSION_TABLE})
        assert compare_metadata(context, METADATA) == []


def test_state_is_journalled_and_records_are_not() -> None:
    """Every table is one or the other."""
    records = {
        "collection", "changes", "change_rows", "plans",
        "stowings", "stowed_containers", "counts", "count_lines",
    }  # fmt: skip
    assert {table.name for table in STATE} == TABLES.keys() - records


@pytest.mark.parametrize("revision", REVISIONS[:-1])
def test_a_released_store_is_brought_up_to_date(revision: str, tmp_path: Path) -> None:
    """Its schema becomes that of a new store; all that it told it still tells, and can undo."""
    store = released(revision, tmp_path)
    (tmp_path / "new").mkdir()
    new = file_store(tmp_path / "new")
    stowed(new, GOOD, "box")
    stowed(new, GOOD)
    assert places(store) == places(new)
    old_rows, new_rows = everything(store), everything(new)
    for name in ("items", "pieces", "containers", "stowings", "stowed_containers"):
        assert old_rows[name] == new_rows[name]
    with store.writing() as connection:
        context = MigrationContext.configure(connection, opts={"version_table": VERSION_TABLE})
        assert compare_metadata(context, METADATA) == []
    with store.reading() as rows:
        assert find(rows, "p1").hits[0].id == "p1"
        assert [item.num_pieces for item in list_container(rows, "box").items] == [3, 2, 3, 1, 1, 2]
    undo(store)
    undo(store)
    assert places(store) == {}


@pytest.mark.parametrize("revision", REVISIONS[:-1])
def test_a_backup_of_an_earlier_version(revision: str, tmp_path: Path, store: Store) -> None:
    """It is restored, and the file itself stays as it is."""
    (tmp_path / "old").mkdir()
    old = released(revision, tmp_path / "old")
    assert old.file is not None
    before = old.file.read_bytes()
    restore(store, old.file)
    assert old.file.read_bytes() == before
    assert places(store) == places(old)


@pytest.mark.parametrize("revision", REVISIONS[:-1])
def test_a_migration_that_fails_changes_nothing(
    revision: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The store keeps its old schema, and can be brought up to date later."""
    store = released(revision, tmp_path)
    assert store.file is not None

    def fail(*_: object) -> None:
        raise StoreError("no such luck")

    with monkeypatch.context() as patch:
        patch.setattr(migrate, "now", fail)
        patch.setattr(migrate, "_has_row", lambda _: False)
        with pytest.raises(StoreError, match="no such luck"):
            places(store)
    said = f"SELECT version_num FROM {VERSION_TABLE}"  # noqa: S608 - our own constant
    with closing(sqlite3.connect(store.file)) as file:
        assert file.execute(said).fetchone() == (revision,)
    assert len(places(store)) == 17
