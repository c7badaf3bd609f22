"""How many pieces of each part are owned: counts.csv, sets taken apart."""

from pathlib import Path

from packdown.errors import Problem, nearest
from packdown.files.parts import Parts, number_in
from packdown.files.place import ABSENT, Place
from packdown.files.rows import read_rows
from packdown.files.sets import NO_SETS, Sets
from packdown.files.values import MAX_COUNT, STAND_IN, text, whole

__all__ = ["COUNTS_FILE", "MAX_PIECES", "Count", "read_counts", "read_listed"]

Count = tuple[int, Place]
COUNTS_FILE = "counts.csv"
MAX_PIECES = 100_000
"""Pieces in all that a collection may have."""


def read_listed(folder: Path, found: list[Problem]) -> dict[str, Count]:
    """Read the counts of parts and sets as they are listed, each with its line."""
    path = folder / COUNTS_FILE
    counts: dict[str, Count] = {}
    if not path.exists():
        return counts
    columns = ("part", "count")
    for row, cells in read_rows(path, Place(path.name, found), columns, columns) or ():
        part = text(cells.get("part", ABSENT), row.at("part"))
        value = number_in(cells["count"]) if "count" in cells else ABSENT
        count = whole(0)(value, row.at("count"))
        if part in counts:
            row.at("part").report(f'the part "{part}" is counted twice')
        counts[part] = (count, row)
    return counts


def read_counts(
    folder: Path, found: list[Problem], parts: Parts, sets: Sets = NO_SETS
) -> dict[str, Count]:
    """Read how many pieces of each part are owned, in sets and singly, and a line that says so."""
    counts: dict[str, Count] = {}
    complete = parts.complete and sets.complete
    for name, (count, row) in read_listed(folder, found).items():
        if name in sets.by_id:
            for part, each in (sets.by_id[name] or {}).items():
                _add(counts, part, count * each, row)
            continue
        if name not in parts.by_id and name != STAND_IN and complete:
            known = {*parts.by_id, *sets.by_id}
            row.at("part").report(f'unknown part "{name}"', nearest(name, known))
        _add(counts, name, count, row)
    total = sum(count for count, _ in counts.values())
    if total > MAX_PIECES:
        Place(COUNTS_FILE, found).report(
            f"comes to {total:,} pieces in all, more than {MAX_PIECES:,}"
        )
    return counts


def _add(counts: dict[str, Count], part: str, count: int, row: Place) -> None:
    before, first = counts.get(part, (0, row))
    counts[part] = (before + count, first)
    if before <= MAX_COUNT < before + count:
        row.at("count").report(
            f"comes to {before + count:,} pieces of {part}, more than {MAX_COUNT:,}"
        )
