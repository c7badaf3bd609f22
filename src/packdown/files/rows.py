"""Rows of CSV files with a header line."""

import csv
from collections.abc import Sequence
from pathlib import Path

from packdown.errors import nearest
from packdown.files.place import Place
from packdown.files.table import read_text

__all__ = ["Row", "RowPlace", "read_rows"]

Row = tuple["RowPlace", dict[str, str]]
_SIZE = ("length", "width", "height")


class RowPlace(Place):
    """A line of a CSV file; what lies inside it is one of its columns."""

    __slots__ = ()

    def at(self, step: str | int) -> "RowPlace":
        """Return the place of a column; sides of a size have a column each."""
        line, _, column = self.entry.partition(", column ")
        if isinstance(step, str):
            column = step
        elif column == "size":
            column = _SIZE[step]
        return self._moved(f"{line}, column {column}")


def read_rows(
    path: Path, place: Place, columns: Sequence[str], needed: Sequence[str]
) -> list[Row] | None:
    """Read the rows of a CSV file; empty cells are left out, as are lines that begin with #.

    Parameters
    ----------
    path, place
        The file.
    columns
        All columns that may be there.
    needed
        Those that must be there.

    Returns
    -------
    list of Row or None
        None if the file cannot be read as a table of these columns.
    """
    text = read_text(path, place)
    if text is None:
        return None
    lines = ("" if line.startswith("#") else line for line in text.split("\n"))
    reader = csv.reader((f"{line}\n" for line in lines), strict=True)
    filled: list[tuple[RowPlace, list[str]]] = []
    try:
        for cells in reader:
            trimmed = [cell.strip() for cell in cells]
            if any(trimmed):
                here = RowPlace(place.file, place.found, f"line {reader.line_num}")
                filled.append((here, trimmed))
    except csv.Error as error:
        place.at(f"line {reader.line_num}").report(f"is not CSV: {error}")
        return None
    if not filled:
        place.at("line 1").report(f"expected the columns {', '.join(needed)}")
        return None
    header = filled[0][1]
    if not _right_header(header, filled[0][0], columns, needed):
        return None
    rows: list[Row] = []
    for here, cells in filled[1:]:
        if len(cells) == len(header):
            named = zip(header, cells, strict=True)
            rows.append((here, {column: cell for column, cell in named if cell}))
        else:
            here.report(f"expected {len(header)} cells as in the first line, not {len(cells)}")
    return rows


def _right_header(
    header: Sequence[str], place: RowPlace, columns: Sequence[str], needed: Sequence[str]
) -> bool:
    before = len(place.found)
    for index, column in enumerate(header):
        if column not in columns:
            place.at(column or f"{index + 1}").report("unknown column", nearest(column, columns))
        elif column in header[:index]:
            place.at(column).report("this column is there twice")
    for column in needed:
        if column not in header:
            place.at(column).report("is missing")
    return len(place.found) == before
