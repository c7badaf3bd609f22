"""Changing counts.csv without touching what else it says."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from packdown.errors import InputError, Problem
from packdown.files.place import Place
from packdown.files.rows import read_rows
from packdown.files.table import read_text

__all__ = ["ChangedCounts", "change_counts"]

_HEADING = "part,count\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedCounts:
    """What changing counts makes of the file.

    Parameters
    ----------
    path, text
        The file, and its whole text afterwards.
    changed
        For each part whose count changes what it was, None if it was not there, and what it is.
    """

    path: Path
    text: str
    changed: dict[str, tuple[int | None, int]]


def change_counts(path: Path, counts: Mapping[str, int]) -> ChangedCounts:
    """Set how many pieces of some parts are owned. Nothing is written.

    Raises
    ------
    InputError
        If the file cannot be read.
    """
    found: list[Problem] = []
    text = (read_text(path, Place(path.name, found)) or "") if path.exists() else _HEADING
    columns = ("part", "count")
    rows = read_rows(path, Place(path.name, found), columns, columns) if path.exists() else []
    if found:
        raise InputError(found)
    lines = text.replace("\r\n", "\n").rstrip("\n").split("\n")
    changed: dict[str, tuple[int | None, int]] = {}
    known = set()
    for place, cells in rows or ():
        part, old = cells.get("part", ""), cells.get("count", "")
        known.add(part)
        if part in counts and old != str(counts[part]):
            number = int(place.entry.removeprefix("line ")) - 1
            lines[number] = _line(lines, part, counts[part])
            changed[part] = (int(old) if old.isdecimal() and len(old) < 9 else None, counts[part])
    for part, count in counts.items():
        if part not in known:
            lines.append(_line(lines, part, count))
            changed[part] = (None, count)
    return ChangedCounts(path=path, text="\n".join(lines) + "\n", changed=changed)


def _line(lines: list[str], part: str, count: int) -> str:
    """Return a line in the order of the columns."""
    heading = next((line for line in lines if line.strip() and not line.startswith("#")), "part")
    is_first = heading.strip().startswith(("part", '"part"'))
    return f"{part},{count}" if is_first else f"{count},{part}"
