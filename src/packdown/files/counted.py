"""Lists of what was counted: lines of what, found and broken, with or without a heading."""

import csv
from dataclasses import dataclass

from packdown.errors import InputError
from packdown.files.place import Place

__all__ = ["Counted", "read_counted"]

_PLAIN = ("what", "found", "broken")


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """One line of such a list.

    Parameters
    ----------
    what
        What was counted, as it stands there.
    found, broken
        How many are there, and how many of those are broken if that is said.
    entry
        The line, to name it in errors.
    """

    what: str
    found: int
    broken: int | None
    entry: str


def read_counted(text: str, name: str) -> tuple[Counted, ...]:
    """Read a list of what was counted; lines without a number found are left out.

    Parameters
    ----------
    text
        Lines of comma-separated values. The first may be a heading that names the columns
        ``what``, ``found`` and ``broken``, among others; without it they come in this order.
    name
        What to call the list in errors.

    Raises
    ------
    InputError
        With everything that is wrong in it.
    """
    place = Place(name, [])
    reader = csv.reader(text.splitlines())
    columns: tuple[str, ...] = _PLAIN
    counted: list[Counted] = []
    for cells in reader:
        here = place.at(f"line {reader.line_num}")
        values = [cell.strip() for cell in cells]
        if not any(values) or values[0].startswith("#"):
            continue
        if not counted and "what" in values:
            columns = tuple(values)
            for column in ("found",):
                if column not in columns:
                    here.report(f"the column {column} is missing")
            continue
        line = _line(dict(zip(columns, values, strict=False)), here)
        if line:
            counted.append(line)
    if place.found:
        raise InputError(place.found)
    return tuple(counted)


def _line(row: dict[str, str], place: Place) -> Counted | None:
    if not row.get("what"):
        place.report("says of nothing how many there are")
        return None
    if not row.get("found"):
        return None
    found = _number(row["found"], place)
    broken = _number(row["broken"], place) if row.get("broken") else None
    if found is None:
        return None
    return Counted(what=row["what"], found=found, broken=broken, entry=place.entry)


def _number(text: str, place: Place) -> int | None:
    if text.isdecimal() and len(text) < 8:
        return int(text)
    place.expected("a number of pieces", text)
    return None
