"""From a table to parts and counts, with every cell that cannot be understood named."""

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from packdown.errors import Problem
from packdown.files.part_text import short_name
from packdown.files.place import Place
from packdown.tables.heading import Heading
from packdown.tables.quantities import Decimal, Spelling, evident_decimal
from packdown.tables.sheet import Cell, Sheet
from packdown.units import format_length

__all__ = ["Line", "Understood", "understand"]

T = TypeVar("T")

_NAME = re.compile(r"\w[\w-]*")
_TOTALS = {"total", "totals", "sum", "grand total", "subtotal", "summe", "gesamt"}
_SIDES = ("length", "width", "height")
_YES_NO = {"yes": True, "y": True, "true": True, "x": True, "1": True} | dict.fromkeys(
    ("no", "n", "false", "0", "-"), False
)
_LISTS = ("ways_up", "tags")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """What a row says of one part.

    Parameters
    ----------
    part
        Id of the part.
    entry
        What it says, as the keys and values of parts.toml.
    count
        How many are owned, if it says.
    size_um
        Its size, if it says; the weight may be estimated from it.
    where
        The cell that names the part.
    """

    part: str
    entry: dict[str, object]
    count: int | None
    size_um: tuple[int, int, int] | None
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """A table as it was understood.

    Parameters
    ----------
    lines
        One for each part.
    skipped
        Rows that say nothing of a part, each with its reason.
    decimal
        What stands before decimals, as far as it was found out or said.
    """

    lines: tuple[Line, ...]
    skipped: tuple[str, ...]
    decimal: Decimal | None


def understand(
    sheet: Sheet,
    heading: Heading,
    *,
    find_part: Callable[[str], str | None],
    units: Mapping[str, str],
    decimal: Decimal | None,
    found: list[Problem],
) -> Understood:
    """Read every row below the heading.

    Parameters
    ----------
    sheet, heading
        The table.
    find_part
        Returns the id of the part that is known by an id or a name.
    units
        Units of ``length`` and ``weight`` where neither a cell nor its heading names one.
    decimal
        What stands before decimals, if the user said; otherwise it is found out.
    found
        Takes every problem.
    """
    below = [(number, row) for number, row in sheet.rows if number > heading.last_row]
    decimal = decimal or _decimal(sheet, heading, below)
    reader = _Reader(
        place=Place(sheet.file, found),
        heading=heading,
        spelling=Spelling(decimal=decimal),
        find_part=find_part,
        units=units,
    )
    reader.check_spans(sheet)
    if found:
        return Understood(lines=(), skipped=(), decimal=decimal)
    lines: dict[str, Line] = {}
    skipped = []
    for number, row in below:
        reason = reader.why_skip(row)
        if reason:
            skipped.append(f"row {number}: {reason}")
            continue
        line = reader.line(row)
        if line and line.part in lines:
            first = lines[line.part].where
            reader.place.at(line.where).report(f'"{line.part}" is there already, in {first}')
        elif line:
            lines[line.part] = line
    return Understood(lines=tuple(lines.values()), skipped=tuple(skipped), decimal=decimal)


def _decimal(
    sheet: Sheet, heading: Heading, below: list[tuple[int, dict[int, Cell]]]
) -> Decimal | None:
    numbers = {"size", "weight", *_SIDES}
    indexes = [column.index for column in heading.columns if column.field in numbers]
    texts = [row[index].text for _, row in below for index in indexes if index in row]
    found = evident_decimal(texts)
    if found is None and sheet.decimal_comma and not any("." in text for text in texts):
        return Decimal.COMMA
    return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reader:
    place: Place
    heading: Heading
    spelling: Spelling
    find_part: Callable[[str], str | None]
    units: Mapping[str, str]

    def check_spans(self, sheet: Sheet) -> None:
        """Report merged cells below the heading in columns that are read."""
        rows = {number for number, row in sheet.rows if not self.why_skip(row)}
        for first, left, last, right in sheet.spans:
            if first <= self.heading.last_row:
                continue
            for column in self.heading.columns:
                inside = left <= column.index <= right
                covered = any(first <= number <= last for number in rows)
                if inside and covered and column.field not in {"name", "tags"}:
                    self.place.at(f"row {first}, {column.heading}").report(
                        "cells are merged here, so it is not clear to which they belong",
                        "split them",
                    )

    def why_skip(self, row: Mapping[int, Cell]) -> str:
        """Say why a row says nothing of a part; nothing if it does."""
        filled = [column for column in self.heading.columns if column.index in row]
        words = [row[c.index].text for c in filled if c.field in {"id", "name"}]
        if not filled:
            return "nothing in the columns that are read"
        if any(word.casefold().rstrip(":") in _TOTALS for word in words):
            return "a total"
        if not words and any(cell.text.casefold().rstrip(":") in _TOTALS for cell in row.values()):
            return "a total"
        if all(row[column.index].text == column.heading for column in filled):
            return "the heading again"
        lone = len({row[c.index].text for c in filled}) == 1 and len(words) == len(filled)
        if lone and len(self.heading.columns) > len(filled) and not self.find_part(words[0]):
            return f"a title, {words[0]!r}"
        return ""

    def line(self, row: Mapping[int, Cell]) -> Line | None:
        """Read a row; None if something in it is wrong."""
        before = len(self.place.found)
        cells = {c.field: row[c.index] for c in self.heading.columns if c.index in row}
        for cell in cells.values():
            if cell.wrong:
                self.place.at(cell.name).report(cell.wrong)
        named = cells.get("id") or cells.get("name")
        if named is None or named.wrong:
            first = next(iter(cells.values()), None)
            if first and named is None:
                self.place.at(first.name).report("says something of a part without a name")
            return None
        is_id = "id" in cells and _NAME.fullmatch(named.text)
        part = self.find_part(named.text) or (named.text if is_id else short_name(named.text))
        entry: dict[str, object] = {}
        if "name" in cells:
            entry["name"] = cells["name"].text
        size = self._size(cells)
        entry.update(self._others(cells))
        if size and "cuboids" not in entry:
            entry["size"] = [format_length(side) for side in size]
        count = self._read(cells, "count", self.spelling.count)
        if len(self.place.found) > before:
            return None
        return Line(part=part, entry=entry, count=count, size_um=size, where=named.name)

    def _read(self, cells: Mapping[str, Cell], field: str, reader: Callable[[str], T]) -> T | None:
        cell = cells.get(field)
        if cell is None or cell.wrong:
            return None
        try:
            return reader(cell.text)
        except ValueError as error:
            self.place.at(cell.name).report(str(error))
            return None

    def _unit(self, field: str) -> str | None:
        column = self.heading.find(field)
        kind = "weight" if field == "weight" else "length"
        return (column.unit if column else None) or self.units.get(kind)

    def _size(self, cells: Mapping[str, Cell]) -> tuple[int, int, int] | None:
        if "size" in cells:
            unit = self._unit("size")
            return self._read(cells, "size", lambda text: self.spelling.lengths(text, unit))
        given = [side for side in _SIDES if side in cells]
        sides = [self._read(cells, side, partial(self._length, side)) for side in given]
        if not given or any(side is None for side in sides):
            return None
        missing = [side for side in _SIDES if side not in cells]
        if missing:
            known = {column.field: column for column in self.heading.columns}
            cell = cells[given[0]]
            words = known[missing[0]].heading if missing[0] in known else missing[0]
            self.place.at(cell.name).report(f"gives a {given[0]}, but {words!r} is missing")
            return None
        return (sides[0] or 1, sides[1] or 1, sides[2] or 1)

    def _length(self, side: str, text: str) -> int:
        found = self.spelling.length(text, self._unit(side))
        if found < 1:
            raise ValueError(f"{text!r} is no length above 0")
        return found

    def _others(self, cells: Mapping[str, Cell]) -> dict[str, object]:
        entry: dict[str, object] = {}
        weight = self._read(
            cells, "weight", lambda text: self.spelling.weight(text, self._unit("weight"))
        )
        if weight is not None:
            entry["weight"] = f"{weight} g"
        for field in _LISTS:
            if field in cells:
                text = cells[field].text
                words = (word.strip() for word in text.split(";" if ";" in text else ","))
                entry[field] = [word for word in words if word]
        if "carry" in cells:
            entry["carry"] = cells["carry"].text.casefold()
        for field in ("bagged", "alone"):
            flag = self._read(cells, field, _flag)
            if flag is not None:
                entry[field] = flag
        magnets = self._read(cells, "magnets", self.spelling.count)
        if magnets is not None:
            entry["magnets"] = magnets
        entry.update(self._read(cells, "more", _more) or {})
        return entry


def _flag(text: str) -> bool:
    if text.casefold() not in _YES_NO:
        raise ValueError(f"{text!r} is neither yes nor no")
    return _YES_NO[text.casefold()]


def _more(text: str) -> dict[str, object]:
    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise ValueError("holds something else than packdown export wrote there") from error
    if not isinstance(found, dict):
        raise ValueError("holds something else than packdown export wrote there")  # noqa: TRY004
    return found
