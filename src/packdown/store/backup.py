"""The whole store in one file, and back.

A backup is a store of its own: it can be searched like any other, wherever it came from. It is
written beside its final name and takes that name when it is complete.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from packdown.errors import StoreError, UsageError
from packdown.store.connection import NoStoreError, Rows, Store
from packdown.store.schema import TABLES

__all__ = ["Extent", "backup", "extent", "restore"]

CHUNK = 5_000
"""Rows that are written at once."""
Extent = tuple[int, int, str | None]
"""How many pieces and changes a store holds, and when the last change was made."""


def extent(store: Store) -> Extent:
    """Return how much a store holds; nothing if it is not there."""
    try:
        with store.reading() as rows:
            return _extent(rows)
    except NoStoreError:
        return 0, 0, None


def _extent(rows: Rows) -> Extent:
    pieces = rows.rows("SELECT COUNT(*) FROM pieces")[0][0]
    number, last = rows.rows("SELECT COUNT(*), MAX(at) FROM changes")[0]
    return pieces, number, last


def backup(store: Store, path: Path) -> Extent:
    """Write the whole store into one file; return how much that is.

    Parameters
    ----------
    store
        The store.
    path
        The file; an older backup there is replaced.

    Raises
    ------
    UsageError
        If something else has that name, or it cannot be written.
    StoreError
        If the store cannot be read.
    """
    if path.exists():
        _check_is_other(store, path)
        _check_is_store(path)
    part = path.with_name(f".{path.name}.part")
    try:
        _remove(part)
        with store.reading() as rows:
            _copy(rows, Store(f"sqlite:///{part}"))
            held = _extent(rows)
        part.replace(path)
    finally:
        _remove(part)
    return held


def restore(store: Store, path: Path) -> Extent:
    """Replace all that a store holds by a backup, in one change; return how much that is.

    Parameters
    ----------
    store
        The store; it is made if it is not there.
    path
        A backup, also of an earlier version of the program.

    Raises
    ------
    UsageError
        If there is no such file.
    StoreError
        If the file is no backup or is damaged, or the store cannot be written; the store then
        holds what it held before.
    """
    if not path.is_file():
        raise UsageError(f"{path}: there is no such file")
    _check_is_other(store, path)
    with _apart(path) as source, source.reading() as rows:
        sound = rows.rows("PRAGMA integrity_check") == [("ok",)]
        if not sound or rows.rows("PRAGMA foreign_key_check"):
            raise StoreError(f"{path} is damaged", hint="restore another backup")
        _copy(rows, store)
        return _extent(rows)


def _copy(rows: Rows, target: Store) -> None:
    """Replace all rows of a store by those of another."""
    with target.writing() as connection:
        for table in TABLES.values():
            connection.execute(table.delete())
        for table in TABLES.values():
            names = [column.name for column in table.columns]
            found = rows.rows(f"SELECT {', '.join(names)} FROM {table.name}")  # noqa: S608 - ours
            for start in range(0, len(found), CHUNK):
                chunk = found[start : start + CHUNK]
                connection.execute(
                    table.insert(), [dict(zip(names, row, strict=True)) for row in chunk]
                )


@contextmanager
def _apart(path: Path) -> Iterator[Store]:
    """Lend a copy of a backup, so that it stays as it is even if its tables are older."""
    with tempfile.TemporaryDirectory(prefix="packdown-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        wal = Path(f"{path}-wal")
        if wal.exists():
            shutil.copyfile(wal, f"{copy}-wal")
        yield Store(f"sqlite:///{copy}")


def _check_is_other(store: Store, path: Path) -> None:
    if store.file and store.file.exists() and path.samefile(store.file):
        raise UsageError(f"{path} is the store itself", hint="name another file")


def _check_is_store(path: Path) -> None:
    try:
        with _apart(path) as copy:
            extent(copy)
    except StoreError as error:
        raise UsageError(f"{path} is no backup", hint="name another file") from error


def _remove(part: Path) -> None:
    for end in ("", "-wal", "-shm", "-journal"):
        name = Path(f"{part}{end}")
        if os.path.lexists(name):
            name.unlink()
