"""Writing whole files so that at no instant anything is lost."""

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from packdown.errors import UsageError

__all__ = ["write_bytes", "write_text"]


def write_text(text: str, path: Path) -> None:
    """Write a text file in one step, as UTF-8 with plain line ends.

    Raises
    ------
    UsageError
        If it cannot be written; see `write_bytes`.
    """
    write_bytes(text.encode(), path)


def write_bytes(data: bytes, path: Path) -> None:
    """Write a file in one step: a reader finds the old one or the new one, whole.

    Parameters
    ----------
    data
        What the file is to hold.
    path
        The file; it is replaced if it exists, and its permissions are kept.

    Raises
    ------
    UsageError
        If it cannot be written. The old file is then untouched and nothing else is left behind.
    """
    temporary: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
        temporary = Path(name)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        temporary.chmod(_mode(path))
        temporary.replace(path)
        temporary = None
        _sync_folder(path.parent)
    except OSError as error:
        raise UsageError(
            f"{path} cannot be written: {error.strerror or error}",
            hint="is there such a folder, and may you write to it?",
        ) from error
    finally:
        if temporary is not None:
            temporary.unlink(missing_ok=True)


def _mode(path: Path) -> int:
    """Return the permissions of the old file, or those that a new one would get."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _sync_folder(folder: Path) -> None:
    """Make the new name last; not every system can do so for a folder."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
