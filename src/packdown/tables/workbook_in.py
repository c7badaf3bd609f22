"""Sheets of XLSX workbooks, by openpyxl once it is certain that they are harmless.

Values come from openpyxl's reader for large files, which keeps no more than a row. That reader
does not tell merged cells, hidden rows and columns, or formulas whose result was never saved;
these are read from the XML beside it.
"""

import datetime as dt
import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any
from zipfile import BadZipFile, ZipFile

from defusedxml.ElementTree import iterparse

from packdown.archives import check_archive
from packdown.tables.sheet import MAX_COLUMNS, MAX_ROWS, Cell, Sheet, letters

__all__ = ["MAX_UNPACKED_BYTES", "read_workbook"]

MAX_UNPACKED_BYTES = 32 * 2**20
_MAX_DEPTH = 60
_MAX_CELL = 20_000
_PLACE = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")


@dataclass
class _Layout:
    """What openpyxl's reader for large files leaves out."""

    spans: list[tuple[int, int, int, int]] = field(default_factory=list)
    columns: set[int] = field(default_factory=set)
    rows: set[int] = field(default_factory=set)
    unsaved: set[tuple[int, int]] = field(default_factory=set)


def read_workbook(data: bytes, file: str, wanted: str | None = None) -> tuple[Sheet, ...]:
    """Read the visible sheets of a workbook, or the one that is wanted.

    Raises
    ------
    ValueError
        If it cannot be read; the message says why.
    """
    try:
        with ZipFile(BytesIO(data)) as archive:
            check_archive(archive, MAX_UNPACKED_BYTES)
    except BadZipFile as error:
        raise ValueError("is no XLSX workbook: it is not an archive") from error
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return tuple(_sheets(data, file, wanted))
    except ValueError:
        raise
    except MemoryError as error:
        raise ValueError("needs more memory than there is") from error
    except Exception as error:
        raise ValueError(f"cannot be read as XLSX: {type(error).__name__}: {error}") from error


def _sheets(data: bytes, file: str, wanted: str | None) -> Iterator[Sheet]:
    import openpyxl  # noqa: PLC0415 - takes a while

    book = openpyxl.load_workbook(BytesIO(data), read_only=True, data_only=True)
    names = [sheet.title for sheet in book.worksheets]
    if wanted is not None and wanted not in names:
        raise ValueError(f"has no sheet {wanted!r}; there are {', '.join(names)}")
    for sheet in book.worksheets:
        if sheet.title == wanted or (wanted is None and sheet.sheet_state == "visible"):
            with sheet._get_source() as stream:  # noqa: SLF001 - the XML behind the sheet
                layout = _layout(stream)
            yield _sheet(sheet, file, layout)


def _layout(stream: Any) -> _Layout:  # noqa: ANN401 - any binary stream
    found = _Layout()
    depth = 0
    row = 0
    for event, node in iterparse(stream, events=("start", "end"), forbid_dtd=True):
        tag = node.tag.rpartition("}")[2]
        if event == "start":
            depth += 1
            if depth > _MAX_DEPTH:
                raise ValueError("is nested too deeply")
            if tag == "row":
                row = _row(node.get("r"), row + 1)
                if _yes(node.get("hidden")):
                    found.rows.add(row)
            continue
        depth -= 1
        if tag == "col" and _yes(node.get("hidden")):
            first, last = int(node.get("min", 1)), int(node.get("max", 1))
            found.columns.update(range(first - 1, min(last, MAX_COLUMNS)))
        elif tag == "mergeCell":
            first, _, last = node.get("ref", "").partition(":")
            found.spans.append((*_place(first), *_place(last or first)))
        elif tag == "c":
            _note_formula(node, found)
        if tag in {"row", "mergeCell", "col"}:
            node.clear()
    return found


def _note_formula(node: Any, found: _Layout) -> None:  # noqa: ANN401 - a node of XML
    kinds = {child.tag.rpartition("}")[2]: child for child in node}
    value = kinds.get("v")
    if "f" in kinds and (value is None or not (value.text or "").strip()):
        place = node.get("r")
        if place and node.get("t") != "str":
            found.unsaved.add(_place(place))


def _row(text: str | None, default: int) -> int:
    return int(text) if text and text.isdecimal() and len(text) < 8 else default


def _yes(text: str | None) -> bool:
    return text in {"1", "true"}


def _place(text: str) -> tuple[int, int]:
    """Return row and column of a place such as ``C7``; rows from 1, columns from 0."""
    match = _PLACE.fullmatch(text)
    if not match:
        raise ValueError(f"has a cell at no place: {text[:20]!r}")
    column = 0
    for letter in match[1]:
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(match[2]), column - 1


def _sheet(sheet: Any, file: str, layout: _Layout) -> Sheet:  # noqa: ANN401 - openpyxl is untyped
    rows: list[tuple[int, dict[int, Cell]]] = []
    skipped = []
    for number, cells in enumerate(sheet.iter_rows(), start=1):
        filled = {}
        for column, cell in enumerate(cells):
            unsaved = (number, column) in layout.unsaved
            if cell.value is None and not unsaved:
                continue
            name = f"{sheet.title}!{letters(column)}{number}"
            if column >= MAX_COLUMNS:
                raise ValueError(f"{name}: expected at most {MAX_COLUMNS} columns")
            found = _cell(name, cell, unsaved=unsaved)
            if found.text or found.wrong:
                filled[column] = found
        if filled and number in layout.rows:
            skipped.append(number)
        elif filled:
            rows.append((number, filled))
        if len(rows) > MAX_ROWS or number > 100 * MAX_ROWS:
            raise ValueError(f"has more than {MAX_ROWS:,} rows")
    notes = []
    if skipped:
        shown = ", ".join(str(number) for number in skipped[:10])
        notes.append(f"rows that are hidden are not read: {shown}")
    return Sheet(
        file=file,
        name=sheet.title,
        rows=tuple(rows),
        spans=tuple(layout.spans),
        hidden=frozenset(layout.columns),
        notes=tuple(notes),
    )


def _cell(name: str, cell: Any, *, unsaved: bool) -> Cell:  # noqa: ANN401 - openpyxl is untyped
    value = cell.value
    if unsaved:
        wrong = "holds a formula whose result was not saved; open the file, save it, try again"
        return Cell(name=name, text="", wrong=wrong)
    if cell.data_type == "e":
        return Cell(name=name, text=str(value), wrong=f"holds the error {value}")
    if isinstance(value, bool):
        return Cell(name=name, text="yes" if value else "no")
    if isinstance(value, int | float):
        return Cell(name=name, text=f"{value:.12g}")
    if isinstance(value, dt.date | dt.time | dt.timedelta):
        wrong = "holds a date or a time; was a fraction such as 1/2 typed into it?"
        return Cell(name=name, text=str(value), wrong=wrong)
    text = " ".join(str(value).split())
    if len(text) > _MAX_CELL:
        raise ValueError(f"{name}: holds more than {_MAX_CELL:,} characters")
    return Cell(name=name, text=text)
