"""Where the store is: as asked, as the environment says, or in the workspace."""

import os
from pathlib import Path

__all__ = ["ENVIRONMENT", "FILE", "file_of", "store_url"]

ENVIRONMENT = "PACKDOWN_STORE"
"""Environment variable that names the store."""
FILE = "packdown.db"
"""The store of a workspace, in its folder."""
_MARKS = (FILE, "packdown.toml")
_SQLITE = "sqlite:///"


def store_url(said: str | None, start: Path) -> str:
    """Return the address of the store.

    Parameters
    ----------
    said
        What the user asked for: an address such as ``postgresql+psycopg://host/name``, a file, or
        the folder of a workspace. Without it the environment is asked.
    start
        Where to look otherwise: the store is in this folder, or in the nearest one above it that
        is a workspace or has a store.
    """
    wanted = said or os.environ.get(ENVIRONMENT)
    if wanted and "://" in wanted:
        return wanted
    if wanted:
        path = Path(wanted)
        return _SQLITE + str(path / FILE if path.is_dir() else path)
    start = start.resolve()
    for folder in (start, *start.parents):
        if any((folder / mark).exists() for mark in _MARKS):
            return _SQLITE + str(folder / FILE)
    return _SQLITE + str(start / FILE)


def file_of(url: str) -> Path | None:
    """Return the file of a store that is one, or None for a store on a server.

    Raises
    ------
    ValueError
        If it would be kept in memory alone.
    """
    if not url.startswith("sqlite:"):
        return None
    path = url.removeprefix(_SQLITE)
    if path in {url, "", ":memory:"}:
        raise ValueError(f"{url} names no file: a store in memory would be lost")
    return Path(path)
