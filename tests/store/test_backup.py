"""The whole store in one file, and back."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from packdown.errors import StoreError, UsageError
from packdown.store.backup import backup, extent, restore
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.individuals import describe
from packdown.store.moving import move
from packdown.store.tally import Answer
from packdown.store.undoing import undo
from support.stores import everything, file_store, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan({"long": ["crate#1", "mill/wall"], "small": ["crate#2"]}, left=["tile#1"])


def fill(store: Store) -> None:
    """Make a store with a row in every table."""
    stowed(store, PLAN)
    describe(store, "crate#1", name="Chipped", paths=["a.jpg"])
    move(store, ["mill"], "out")
    count(store, "small", [Answer(what="crate", found=0)])
    undo(store)


def test_backup_then_restore_is_identity(store: Store, tmp_path: Path) -> None:
    """Down to the last row of the history, whatever was changed in between."""
    fill(store)
    before = everything(store)
    assert all(rows for name, rows in before.items() if name != "contents")
    backup(store, tmp_path / "save.db")
    move(store, ["crate"], "out")
    restore(store, tmp_path / "save.db")
    assert everything(store) == before
    stowed(store, PLAN)  # the store goes on as it would have


def test_a_backup_is_one_file_and_a_store(store: Store, tmp_path: Path) -> None:
    """It can be searched as it is, also from where nothing can be written."""
    fill(store)
    folder = tmp_path / "backups"
    folder.mkdir()
    backup(store, folder / "save.db")
    assert [path.name for path in folder.iterdir()] == ["save.db"]
    assert everything(Store(f"sqlite:///{folder / 'save.db'}")) == everything(store)


def test_a_backup_makes_a_new_store(store: Store, tmp_path: Path) -> None:
    """It can be restored where there was none."""
    fill(store)
    backup(store, tmp_path / "save.db")
    (tmp_path / "new").mkdir()
    new = file_store(tmp_path / "new")
    assert restore(new, tmp_path / "save.db") == extent(store)
    assert everything(new) == everything(store)


def test_an_older_backup_is_replaced_and_nothing_else(store: Store, tmp_path: Path) -> None:
    """What is no backup keeps its name."""
    fill(store)
    backup(store, tmp_path / "save.db")
    move(store, ["crate"], "out")
    backup(store, tmp_path / "save.db")
    assert everything(Store(f"sqlite:///{tmp_path / 'save.db'}")) == everything(store)
    notes = tmp_path / "notes.txt"
    notes.write_text("keep me, I am no database")
    with pytest.raises(UsageError, match="is no backup"):
        backup(store, notes)
    assert notes.read_text() == "keep me, I am no database"


def test_what_cannot_be_restored(store: Store, tmp_path: Path) -> None:
    """The store holds what it held before."""
    fill(store)
    before = everything(store)
    with pytest.raises(UsageError, match="no such file"):
        restore(store, tmp_path / "nothing.db")
    (tmp_path / "text.db").write_text("no database at all, only some text that is long enough")
    with pytest.raises(StoreError, match="it is no store"):
        restore(store, tmp_path / "text.db")
    backup(store, tmp_path / "save.db")
    with closing(sqlite3.connect(tmp_path / "save.db")) as file:
        file.execute("DELETE FROM parts")  # pieces of parts that are not there
        file.commit()
    with pytest.raises(StoreError, match="is damaged"):
        restore(store, tmp_path / "save.db")
    assert everything(store) == before


def test_the_store_is_no_backup_of_itself(tmp_path: Path) -> None:
    """It is not written over itself."""
    store = file_store(tmp_path)
    fill(store)
    before = everything(store)
    for use in (backup, restore):
        with pytest.raises(UsageError, match="is the store itself"):
            use(store, tmp_path / "packdown.db")
    assert everything(store) == before
