"""Parts and counts out again as a table, with all that a plain table cannot say in one column."""

import json
from collections.abc import Sequence
from io import BytesIO, StringIO
from pathlib import Path

from packdown.errors import InputError, Problem
from packdown.files.counts import read_listed
from packdown.files.parts import read_parts, written_parts
from packdown.files.sets import read_sets, written_sets
from packdown.geometry import size
from packdown.model import Part

__all__ = ["COLUMNS", "parts_table", "separated_text", "workbook_bytes"]

COLUMNS = (
    "id", "name", "length (mm)", "width (mm)", "height (mm)", "weight (g)", "count", "ways_up",
    "carry", "magnets", "bagged", "alone", "tags", "more",
)  # fmt: skip
Row = tuple[object, ...]
_PLAIN = {"name", "weight", "size", "ways_up", "carry", "magnets", "bagged", "alone", "tags"}


def parts_table(folder: Path) -> tuple[Row, ...]:
    """Return a row of `COLUMNS` for every part and every set of a workspace.

    Raises
    ------
    InputError
        With everything that is wrong with its parts and counts.
    """
    found: list[Problem] = []
    parts = read_parts(folder, found)
    read_sets(folder, found, parts)
    counts = {name: count for name, (count, _) in read_listed(folder, found).items()}
    written, sets = written_parts(folder, []), written_sets(folder, [])
    if found:
        raise InputError(found)
    rows = [
        _row(part, written[part.id][1], counts.get(part.id))
        for part in parts.by_id.values()
        if part
    ]
    rows.extend(_set_row(name, entry, counts.get(name)) for name, entry in sets.items())
    return tuple(rows)


def _set_row(name: str, entry: dict[str, object], count: int | None) -> Row:
    filled = {"id": name, "name": entry.get("name", name), "count": count, "more": _json(entry)}
    return tuple(filled.get(column) for column in COLUMNS)


def _row(part: Part, entry: dict[str, object], count: int | None) -> Row:
    length, width, height = (side / 1_000 for side in size(part.cover_um))
    tags = "; ".join(part.tags)
    more = {key: value for key, value in entry.items() if key not in _PLAIN}
    if tags != " ".join(tags.split()) or any(mark in tag for tag in part.tags for mark in ",;"):
        more["tags"], tags = list(part.tags), ""
    name: str | None = part.name
    if part.name != " ".join(part.name.split()):
        more["name"] = name = part.name
    carry = part.carry_limit_g
    return (
        part.id,
        name,
        length,
        width,
        height,
        part.weight_g,
        count,
        _listed(entry.get("ways_up")),
        None if "carry" not in entry else "any" if carry is None else f"{carry} g",
        part.magnets or None,
        "yes" if part.bagged else None,
        "yes" if part.alone else None,
        tags or None,
        _json(more) if more else None,
    )


def _json(value: dict[str, object]) -> str:
    """Return JSON that bears that blanks in cells are joined."""
    return json.dumps(value).replace("  ", " \\u0020")


def _listed(words: object) -> str | None:
    return "; ".join(str(word) for word in words) if isinstance(words, list) else None


def separated_text(rows: Sequence[Row]) -> str:
    """Return the rows as comma-separated text, with a heading."""
    import csv  # noqa: PLC0415 - only here

    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows([["" if cell is None else _shown(cell) for cell in row] for row in rows])
    return text.getvalue()


def _shown(cell: object) -> object:
    return f"{cell:.3f}".rstrip("0").rstrip(".") if isinstance(cell, float) else cell


def workbook_bytes(rows: Sequence[Row]) -> bytes:
    """Return the rows as a workbook of one sheet; text stays text, whatever it begins with."""
    import openpyxl  # noqa: PLC0415 - takes a while

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Parts"
    for number, row in enumerate([COLUMNS, *rows], start=1):
        for column, value in enumerate(row, start=1):
            if value is not None:
                cell = sheet.cell(number, column, value)
                if isinstance(value, str):
                    cell.data_type = "s"
    sheet.freeze_panes = "B2"
    sheet.column_dimensions["B"].width = 32
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()
