"""What the database says when it cannot do something, in words for the user."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from packdown.errors import StoreError

__all__ = ["explained"]

_KEPT = "the store holds what it held before"
_SAID = {
    sqlite3.SQLITE_FULL: ("the disk is full", f"make room and try again; {_KEPT}"),
    sqlite3.SQLITE_READONLY: ("it is read-only", f"may you write to it and to its folder? {_KEPT}"),
    sqlite3.SQLITE_CANTOPEN: (
        "it cannot be opened",
        "is there such a folder, and may you write to it? nothing was changed",
    ),
    sqlite3.SQLITE_BUSY: ("another program is writing to it", f"try again; {_KEPT}"),
    sqlite3.SQLITE_IOERR: ("the disk cannot be read or written", f"is it full? {_KEPT}"),
    sqlite3.SQLITE_NOTADB: ("it is no store", "name another file, or restore a backup"),
    sqlite3.SQLITE_CORRUPT: ("it is damaged", "restore a backup into a new store"),
}


@contextmanager
def explained(name: str) -> Iterator[None]:
    """Turn what the database says into an error that the user can act on.

    Parameters
    ----------
    name
        What the user calls the store.

    Raises
    ------
    StoreError
        In place of errors of the database; faults of the program stay as they are.
    """
    try:
        yield
    except Exception as error:
        told = _told(name, error)
        if told is None:
            raise
        raise told from error


def _told(name: str, error: Exception) -> StoreError | None:
    """Explain an error of the driver, bare or as SQLAlchemy wraps it."""
    inner = getattr(error, "orig", None) or error
    if isinstance(inner, sqlite3.Error):
        code = getattr(inner, "sqlite_errorcode", 0) & 0xFF
        if code not in _SAID:
            return None
        message, hint = _SAID[code]
        return StoreError(f"{name}: {message}", hint=hint)
    if inner is not error and type(inner).__name__ == "OperationalError":
        first = str(inner).strip().partition("\n")[0]
        return StoreError(f"{name}: {first}", hint="is the server running, and may you use it?")
    return None
