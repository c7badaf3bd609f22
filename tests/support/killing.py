"""Killing a program at random moments while it changes a store, and looking what is left.

Started as a program of its own, since it forks: ``python -m support.killing TRIALS SEED``. It needs
a system that can fork. The program under test is forked from this one with everything loaded, so
that nearly every moment at which it is killed lies in its work on the store.
"""

import json
import os
import random
import shutil
import signal
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from packdown.errors import StoreError
from packdown.store.backup import backup, restore
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.moving import move
from packdown.store.tally import Answer, Rest
from packdown.store.undoing import undo
from support.stores import SCHEMAS, everything, stowed
from support.stow_plans import stowing_plan

NAMES = [f"crate#{n}" for n in range(1, 41)] + [f"tile#{n}" for n in range(1, 41)]
FIRST = stowing_plan({"long": NAMES[:50], "small": NAMES[50:]})
SECOND = stowing_plan({"long": NAMES[30:], "small": NAMES[:30]})
Work = Callable[[Store, Path], object]

WORKS: dict[str, Work] = {
    "make": lambda store, _: stowed(store, FIRST),
    "stow": lambda store, _: stowed(store, SECOND),
    "move": lambda store, _: move(store, ["crate"], "out"),
    "count": lambda store, _: count(store, "long", [Answer(what="crate", found=3)], Rest.THERE),
    "undo": lambda store, _: undo(store),
    "migrate": lambda store, _: _read(store),
    "restore": lambda store, folder: restore(store, folder / "save.db"),
}
"""What is done when the program is killed."""


def _read(store: Store) -> None:
    with store.reading():
        pass


def prepare(name: str, folder: Path) -> None:
    """Put into a folder what the work begins with."""
    store = Store(f"sqlite:///{folder / 'packdown.db'}")
    if name == "migrate":
        script = min(SCHEMAS.glob("*.sql")).read_text(encoding="utf-8")
        with closing(sqlite3.connect(folder / "packdown.db")) as file:
            file.executescript(script)
            file.execute("PRAGMA journal_mode = WAL")
    elif name != "make":
        stowed(store, FIRST)
        if name == "restore":
            backup(store, folder / "save.db")
        if name in {"undo", "restore"}:
            stowed(store, SECOND)


def fingerprint(path: Path) -> str:
    """Return all that a store says, but for the clock; it must open and be sound."""
    if not path.exists():
        return "no store"
    with closing(sqlite3.connect(path)) as file:
        assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert file.execute("PRAGMA foreign_key_check").fetchall() == []
        tables = sorted(row[0] for row in file.execute("SELECT name FROM sqlite_master"))
        if "packdown_version" not in tables:
            assert tables == [], tables
            return "no store"
        version = file.execute("SELECT version_num FROM packdown_version").fetchall()
        if version != [("0002",)]:
            return str(version)
    rows = everything(Store(f"sqlite:///{path}"))
    clocks = {"changes": 1, "plans": 3, "collection": 1}
    for name, column in clocks.items():
        rows[name] = [(*row[:column], *row[column + 1 :]) for row in rows[name]]
    return json.dumps(rows, default=str)


def _fork(work: Work, folder: Path) -> int:
    child = os.fork()
    if child == 0:
        try:
            work(Store(f"sqlite:///{folder / 'packdown.db'}"), folder)
        except BaseException:  # noqa: BLE001 - a forked child must not go on as its parent
            os._exit(1)
        os._exit(0)
    return child


def trials(name: str, number: int, rng: random.Random) -> Counter[str]:
    """Kill one kind of work so many times; return how often which state was left.

    The first run is not killed: it tells the new state, and how long the work takes.
    """
    work = WORKS[name]
    with tempfile.TemporaryDirectory() as base:
        start = Path(base) / "start"
        start.mkdir()
        prepare(name, start)
        old = fingerprint(start / "packdown.db")
        done = Path(base) / "done"
        shutil.copytree(start, done)
        began = time.monotonic()
        _, status = os.waitpid(_fork(work, done), 0)
        lasts = time.monotonic() - began
        assert status == 0, name
        new = fingerprint(done / "packdown.db")
        assert old != new
        left: Counter[str] = Counter()
        for _ in range(number):
            here = Path(base) / "here"
            shutil.copytree(start, here)
            child = _fork(work, here)
            time.sleep(rng.uniform(0, 1.1 * lasts))
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            found = fingerprint(here / "packdown.db")
            assert found in {old, new}, f"{name}: neither the old nor the new state is left"
            left["new" if found == new else "old"] += 1
            _go_on(work, here, found == new)
            shutil.rmtree(here)
    return left


def _go_on(work: Work, folder: Path, finished: bool) -> None:  # noqa: FBT001 - a test's helper
    """Whatever is left can be used: the work that was cut off can be done again."""
    if not finished:
        try:
            work(Store(f"sqlite:///{folder / 'packdown.db'}"), folder)
        except StoreError as error:
            raise AssertionError(str(error)) from error


def main(number: int, seed: int) -> dict[str, dict[str, int]]:
    """Kill every kind of work, all kinds as often; return what was left."""
    rng = random.Random(seed)
    each = -(-number // len(WORKS))
    return {name: dict(trials(name, each, rng)) for name in WORKS}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(main(int(sys.argv[1]), int(sys.argv[2]))) + "\n")
