"""Which row of a table is its heading, and which column holds what."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from packdown.tables.quantities import unit_in
from packdown.tables.sheet import Cell, Sheet

__all__ = ["FIELDS", "UNUSED", "Column", "Heading", "find_heading", "key_of"]

FIELDS = (
    "id", "name", "size", "length", "width", "height", "weight", "count", "ways_up", "carry",
    "magnets", "bagged", "alone", "tags", "more",
)  # fmt: skip
UNUSED = "-"
_LOOK_IN = 20
_LONGEST = 200
_ALIASES: dict[str, tuple[str, ...]] = {
    "id": ("id", "code", "sku", "part id", "part no", "part number", "ref", "reference"),
    "name": ("name", "part", "description", "item", "piece", "title", "part name", "what"),
    "size": ("size", "dimensions", "dims", "l x w x h", "lxwxh", "measurements"),
    "length": ("length", "l", "long", "len", "x"),
    "width": ("width", "w", "wide", "depth", "d", "breadth", "y"),
    "height": ("height", "h", "high", "tall", "z"),
    "weight": ("weight", "mass", "wt", "weight each", "unit weight"),
    "count": (
        "count", "qty", "quantity", "amount", "owned", "have", "pieces", "pcs",
        "how many", "number owned",
    ),
    "ways_up": ("ways up", "ways_up", "orientation"),
    "carry": ("carry", "may carry", "load"),
    "magnets": ("magnets",),
    "bagged": ("bagged", "bag", "small"),
    "alone": ("alone",),
    "tags": ("tags", "tag", "category", "group", "keywords", "type"),
    "more": ("more",),
}  # fmt: skip
_FIELD_BY_WORD = {word: name for name, words in _ALIASES.items() for word in words}


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column whose contents are known.

    Parameters
    ----------
    index
        Its number from 0.
    heading
        What stands above it.
    field
        What it holds, one of `FIELDS`.
    unit
        The unit that its heading names.
    cell
        Name of the cell with the heading.
    """

    index: int
    heading: str
    field: str
    unit: str | None
    cell: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The heading of a table.

    Parameters
    ----------
    last_row
        Number of its last row; what follows is data.
    columns
        Those that are read.
    unused
        Headings of the others.
    hidden
        Headings of columns that would be read if they were not hidden.
    twice
        Columns of a field that an earlier one holds already.
    """

    last_row: int
    columns: tuple[Column, ...]
    unused: tuple[str, ...]
    hidden: tuple[Column, ...]
    twice: tuple[Column, ...]

    def find(self, field: str) -> Column | None:
        """Return the column of a field."""
        return next((column for column in self.columns if column.field == field), None)


def key_of(heading: str) -> str:
    """Return what is compared of a heading: small letters, no unit, no marks.

    >>> key_of("Length (mm):")
    'length'
    """
    bare = re.sub(r"[(\[].*?[)\]]", " ", heading[:_LONGEST].lower())
    bare = re.sub(r"\bin (mm|cm|m|inches|in|g|kg|oz|lb)\b", " ", bare)
    words = re.sub(r"[^\w/×]+|_", " ", bare).split()
    while len(words) > 1 and words[-1] in {"mm", "cm", "m", "in", "inches", "g", "kg", "oz", "lb"}:
        words.pop()
    return " ".join(words)


def find_heading(sheet: Sheet, known: Mapping[str, str]) -> Heading | None:
    """Find the heading among the first rows: the row that names the most fields.

    Parameters
    ----------
    sheet
        The table.
    known
        Fields, or `UNUSED`, by headings that the user has named before, as `key_of` gives them.

    Returns
    -------
    Heading or None
        None if no row names what a piece is and anything else of it.
    """
    best: Heading | None = None
    spread = {number: _spread(sheet, number, row) for number, row in sheet.rows[:_LOOK_IN]}
    above: dict[int, Cell] = {}
    last = -1
    for number, _ in sheet.rows[:_LOOK_IN]:
        row = spread[number]
        for heads in (row, _joined(above, row) if last == number - 1 else row):
            found = _heading(sheet, number, heads, known)
            if found and (best is None or len(found.columns) > len(best.columns)):
                best = found
        above, last = row, number
    return best


def _spread(sheet: Sheet, number: int, row: Mapping[int, Cell]) -> dict[int, Cell]:
    """Return a row with merged cells repeated over their columns."""
    cells = dict(row)
    for first, left, last, right in sheet.spans:
        if first <= number <= last and left in row:
            for column in range(left, min(right, left + 50) + 1):
                cells.setdefault(column, row[left])
    return cells


def _joined(above: Mapping[int, Cell], row: Mapping[int, Cell]) -> dict[int, Cell]:
    """Put the words of the row above before those of a row; a gap continues what is left of it."""
    joined: dict[int, Cell] = {}
    words = ""
    for column in range(max([*above, *row], default=-1) + 1):
        over, cell = above.get(column), row.get(column)
        words = over.text if over else words
        if cell and over and cell.text == over.text:
            joined[column] = cell
        elif cell:
            joined[column] = Cell(name=cell.name, text=f"{words} / {cell.text}")
        elif over:
            joined[column] = over
    return joined


def _field(heading: str, known: Mapping[str, str]) -> str | None:
    """Return the field that a heading names; of two joined rows the lower counts first."""
    upper, slash, lower = heading.partition(" / ")
    names = [heading, lower] if slash else [heading]
    for name in names:
        key = key_of(name)
        if key in known:
            return known[key]
        if key in _FIELD_BY_WORD:
            return _FIELD_BY_WORD[key]
    del upper
    return None


def _heading(
    sheet: Sheet, number: int, heads: Mapping[int, Cell], known: Mapping[str, str]
) -> Heading | None:
    columns: dict[str, Column] = {}
    hidden: dict[str, Column] = {}
    unused, twice = [], []
    for index, cell in sorted(heads.items()):
        field = _field(cell.text, known)
        if field is None or field == UNUSED:
            unused.append(cell.text)
            continue
        column = Column(
            index=index, heading=cell.text, field=field, unit=unit_in(cell.text), cell=cell.name
        )
        if index in sheet.hidden:
            hidden.setdefault(field, column)
        elif field in columns:
            twice.append(column)
        else:
            columns[field] = column
    if not {"id", "name"} & set(columns) or len(columns) < 2:
        return None
    return Heading(
        last_row=number,
        columns=tuple(columns.values()),
        unused=tuple(unused),
        hidden=tuple(column for field, column in hidden.items() if field not in columns),
        twice=tuple(twice),
    )
