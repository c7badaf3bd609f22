"""Reading under watch: nothing may be raised, written, waited for or piled up."""

import os
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from support.most_memory import most_memory

if TYPE_CHECKING:
    from fuzzing.targets import Target

__all__ = ["MOST_BYTES", "MOST_S", "FindingError", "read_watched"]

MOST_S = 5.0
"""Processor time that one file may take."""
MOST_BYTES = 1 << 30
"""Memory that the whole program may take."""
_CHANGING = frozenset(
    {"os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "os.chmod",
     "os.truncate", "shutil.rmtree", "subprocess.Popen", "os.system", "socket.connect"}
)  # fmt: skip
_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT
_seen: list[str] = []
_folder: list[str] = []


class FindingError(AssertionError):
    """A reader did what none may do."""


def _watch(event: str, args: tuple[object, ...]) -> None:
    """Note what is changed on the disk or beyond while a file is read."""
    if not _folder:
        return
    flags = args[2] if event == "open" and len(args) > 2 else 0
    written = isinstance(flags, int) and bool(flags & _WRITING)
    if event in _CHANGING or (written and not str(args[0]).startswith(_folder[0])):
        _seen.append(f"{event} {args[0]}")


sys.addaudithook(_watch)


def read_watched(target: "Target", data: bytes, folder: Path) -> None:
    """Let a reader read bytes in its prepared folder.

    Raises
    ------
    FindingError
        If a file appears or is written outside, or if it takes too long or too much memory.
    """
    before = _names(folder)
    _seen.clear()
    _folder.append(str(folder))
    start = time.process_time()
    try:
        target.read(data, folder)
    finally:
        _folder.clear()
    spent = time.process_time() - start
    if spent > MOST_S:
        raise FindingError(f"{target.name} took {spent:.1f} s")
    if _seen:
        raise FindingError(f"{target.name} did {_seen[0]}")
    if more := _names(folder) - before - _own(target):
        raise FindingError(f"{target.name} wrote {min(more)}")
    if most_memory() > MOST_BYTES:
        raise FindingError(f"{target.name}: the program takes {most_memory() >> 20} MiB")


def _own(target: "Target") -> set[str]:
    """Return the files that the harness itself puts there."""
    return {target.name, "places.csv"}


def _names(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*")}
