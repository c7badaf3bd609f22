"""What can go wrong around a store: killed programs, two writers, full disks, read-only folders."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from packdown.errors import StoreError
from packdown.store.backup import backup, restore
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.moving import move
from packdown.store.tally import Answer
from packdown.store.undoing import undo
from support.stores import address, everything, file_store, places, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan({"long": [f"crate#{n}" for n in range(1, 41)], "small": ["tile#1"]})
OTHER = stowing_plan({"long": ["tile#1"], "small": [f"crate#{n}" for n in range(1, 41)]})
CHANGES: dict[str, Callable[[Store], object]] = {
    "stow": lambda store: stowed(store, OTHER),
    "move": lambda store: move(store, ["crate"], "out"),
    "count": lambda store: count(store, "long", [Answer(what="crate", found=1)]),
    "undo": undo,
    "restore": lambda store: restore(store, store.file.with_name("save.db")),  # type: ignore[union-attr]
}


TESTS = Path(__file__).resolve().parents[1]
ENVIRONMENT = {
    **os.environ,
    "PYTHONPATH": os.pathsep.join([str(TESTS), os.environ.get("PYTHONPATH", "")]),
}
"""So that a program of its own finds what supports the tests."""


def program(*words: str) -> subprocess.CompletedProcess[str]:
    """Run Python with arguments to its end."""
    return subprocess.run(
        [sys.executable, *words], check=False, capture_output=True, text=True, env=ENVIRONMENT
    )


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
def test_a_killed_program_leaves_the_old_or_the_new_state() -> None:
    """Killed at random moments of every kind of change; `benchmarks.killing` does it more often."""
    done = program("-m", "support.killing", "21", "7")
    assert done.returncode == 0, done.stderr
    left = json.loads(done.stdout)
    assert set(left) == {"make", "stow", "move", "count", "undo", "migrate", "restore"}
    assert all(sum(states.values()) == 3 for states in left.values())


def test_two_programs_write_at_once(store: Store) -> None:
    """Both begin with no store at all; nothing that either wrote is lost."""
    number = 8
    programs = [
        subprocess.Popen(
            [sys.executable, "-m", "support.writing", address(store), prefix, str(number)],
            stderr=subprocess.PIPE,
            text=True,
            env=ENVIRONMENT,
        )
        for prefix in ("crate", "tile")
    ]
    for one in programs:
        said = one.communicate(timeout=120)[1]
        assert one.returncode == 0, said
    rows = everything(store)
    assert [row[0] for row in rows["changes"]] == list(range(1, 2 * number + 3))
    assert len(rows["individuals"]) == 2 * number
    assert set(places(store).values()) == {"box-crate", "box-tile"}


@pytest.mark.parametrize("change", CHANGES)
def test_a_full_disk(change: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No page can be added to the file: that is said, and the store holds what it held before."""
    (tmp_path / "large").mkdir()
    large = file_store(tmp_path / "large")
    for plan in (PLAN, OTHER, PLAN, OTHER):
        stowed(large, plan)
    backup(large, tmp_path / "save.db")
    store = file_store(tmp_path)
    stowed(store, PLAN)
    before = everything(store)
    set_up = Store._set_up_file

    def full(self: Store, connection: object, record: object) -> None:
        set_up(self, connection, record)  # type: ignore[arg-type]
        connection.execute("PRAGMA max_page_count = 1")  # type: ignore[attr-defined]

    with monkeypatch.context() as patch:
        patch.setattr(Store, "_set_up_file", full)
        with pytest.raises(StoreError, match="the disk is full"):
            CHANGES[change](store)
    assert everything(store) == before
    CHANGES[change](store)


@contextmanager
def tiny_disk() -> Iterator[Path]:
    """Lend a disk of 300 kB, where the system lets us have one."""
    with tempfile.TemporaryDirectory() as folder:
        mount = ["mount", "-t", "tmpfs", "-o", "size=300k", "tmpfs", folder]
        able = shutil.which("mount") is not None
        if not able or subprocess.run(mount, check=False, capture_output=True).returncode:
            pytest.skip("no disk can be mounted here")
        try:
            yield Path(folder)
        finally:
            subprocess.run(["umount", folder], check=True)


def test_a_disk_that_fills_up() -> None:
    """On a real disk that fills up by the changes themselves; then a backup has no room either."""
    with tiny_disk() as folder:
        store = file_store(folder)
        stowed(store, PLAN)
        before = everything(store)
        for plan in (OTHER, PLAN) * 50:
            before = everything(store)
            try:
                stowed(store, plan)
            except StoreError as error:
                said = error.message + error.hint
                break
        else:
            pytest.fail("the disk did not fill up")
        assert "full" in said
        assert everything(store) == before
        with pytest.raises(StoreError, match="full"):
            backup(store, folder / "save.db")
        assert {path.name for path in folder.iterdir()} <= {
            "packdown.db", "packdown.db-wal", "packdown.db-shm",
        }  # fmt: skip
        assert everything(store) == before


READ_ONLY = """
import os, sys
from pathlib import Path
from packdown.errors import StoreError
from packdown.store.finding import find
from support.stores import file_store, stowed
from packdown.store.backup import backup
from packdown.store.moving import move
from support.stow_plans import stowing_plan
import alembic.command, rapidfuzz.process, sqlalchemy.dialects.sqlite.pysqlite
folder = Path(sys.argv[1])
store = file_store(folder)
try:
    stowed(file_store(folder.parent / "warm"), stowing_plan({"long": ["tile#1"]}))
except StoreError:
    raise SystemExit("the folder to warm up in cannot be written") from None
os.setgid(65534) if os.getuid() == 0 else None
os.setuid(65534) if os.getuid() == 0 else None
with store.reading() as rows:
    print(find(rows, "crate").hits[0].number)
for change in (lambda: move(store, ["crate"], "out"), lambda: backup(store, folder / "save.db")):
    try:
        change()
    except StoreError as error:
        print(error.message.removeprefix(str(folder)), "|", error.hint)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="folders are not made read-only like this")
def test_a_read_only_folder() -> None:
    """One can still search; what would write is told why it cannot."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as base:
        Path(base).chmod(0o755)
        folder = Path(base) / "store"
        folder.mkdir()
        (Path(base) / "warm").mkdir()
        store = file_store(folder)
        stowed(store, PLAN)
        before = everything(store)
        (folder / "packdown.db").chmod(0o444)
        folder.chmod(0o555)
        done = program("-c", READ_ONLY, str(folder))
        folder.chmod(0o755)
        (folder / "packdown.db").chmod(0o644)
        assert done.returncode == 0, done.stderr
        found, moved, saved = done.stdout.splitlines()
        assert found == "40"
        assert "cannot be opened" in moved or "read-only" in moved
        assert "may you write to it" in moved
        assert "cannot be opened" in saved
        assert everything(store) == before
