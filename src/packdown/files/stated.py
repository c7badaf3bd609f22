"""Tables of contents as CSV: out for other programs, and in again."""

import csv
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from packdown.errors import InputError, Problem
from packdown.files.place import Place
from packdown.files.rows import read_rows

__all__ = ["StatedPlace", "read_stated", "rows_text"]

_NEEDED = ("piece", "place")
_USED = (*_NEEDED, "condition", "event")


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedPlace:
    """Where a table says that a piece is.

    Parameters
    ----------
    piece, place
        Id of the piece, and its container or the word for being in none.
    condition, event
        What else is said of it, or nothing.
    entry
        The line, to name it in errors.
    """

    piece: str
    place: str
    condition: str
    event: str
    entry: str


def rows_text(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return rows as the text of a CSV file; what is None becomes an empty cell."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return text.getvalue()


def read_stated(path: Path, columns: Sequence[str]) -> tuple[StatedPlace, ...]:
    """Read a table of contents.

    Parameters
    ----------
    path
        The file; it needs the columns ``piece`` and ``place`` and may have ``condition`` and
        ``event``.
    columns
        All columns that it may have; the others are not used.

    Raises
    ------
    InputError
        With everything that is wrong in it.
    """
    found: list[Problem] = []
    place = Place(path.name, found)
    rows = read_rows(path, place, columns, _NEEDED)
    stated = []
    for here, row in rows or ():
        for column in _NEEDED:
            if column not in row:
                here.at(column).report("is missing")
        values = {column: row.get(column, "") for column in _USED}
        stated.append(StatedPlace(**values, entry=here.entry))
    if found:
        raise InputError(found)
    return tuple(stated)
