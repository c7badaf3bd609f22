"""A table file in: from bytes to what it changes in a workspace."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from packdown.archives import read_limited
from packdown.errors import InputError, Problem
from packdown.files.place import Place
from packdown.tables.changes import Changes, find_changes, known_parts_of
from packdown.tables.heading import FIELDS, Heading, find_heading
from packdown.tables.memory import Memory
from packdown.tables.sheet import Sheet
from packdown.tables.text_in import read_separated
from packdown.tables.understanding import Understood, understand
from packdown.tables.workbook_in import read_workbook

__all__ = ["MAX_BYTES", "Preview", "read_sheets", "read_table"]

MAX_BYTES = 16 * 2**20


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What was understood of a table, and what it would change.

    Parameters
    ----------
    sheet, heading, understood, changes
        The table, its heading, its rows, and what they change.
    others
        Names of sheets that are not read.
    """

    sheet: Sheet
    heading: Heading
    understood: Understood
    changes: Changes
    others: tuple[str, ...]


def read_sheets(
    path: Path, *, sheet: str | None = None, encoding: str | None = None
) -> tuple[Sheet, ...]:
    """Read the tables in a file of separated values or in a workbook.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    try:
        return _sheets(read_limited(path, MAX_BYTES), path.name, sheet, encoding)
    except ValueError as error:
        raise InputError([Problem(file=path.name, entry="", message=str(error))]) from error


def _sheets(data: bytes, name: str, sheet: str | None, encoding: str | None) -> tuple[Sheet, ...]:
    if data.startswith(b"PK\x03\x04"):
        return read_workbook(data, name, sheet)
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise ValueError("is an old or a locked workbook; save it as XLSX or CSV, unlocked")
    return (read_separated(data, name, encoding),)


def read_table(
    folder: Path,
    sheets: Sequence[Sheet],
    memory: Memory,
    *,
    estimate: Callable[[tuple[int, int, int]], int] | None = None,
    replace: bool = False,
) -> Preview:
    """Understand the first sheet that has a heading, and find what it changes in a workspace.

    Parameters
    ----------
    folder
        The workspace.
    sheets
        What `read_sheets` returns.
    memory
        How the user's tables are read.
    estimate, replace
        See `find_changes`.

    Raises
    ------
    InputError
        With every cell that cannot be understood.
    """
    found: list[Problem] = []
    known, find_part = known_parts_of(folder, found)
    if found:
        raise InputError(found)
    sheet, heading = _headed(sheets, memory.fields)
    place = Place(sheet.file, found)
    _check_heading(heading, place)
    if found:
        raise InputError(found)
    understood = understand(
        sheet,
        heading,
        find_part=find_part,
        units=memory.units,
        decimal=memory.decimal,
        found=found,
    )
    if not understood.lines and not found:
        place.report("has no row that says something of a part")
    changes = find_changes(
        folder, understood.lines, known, place, estimate=estimate, replace=replace
    )
    if changes is None or found:
        raise InputError(found)
    others = tuple(other.name for other in sheets if other is not sheet and other.rows)
    return Preview(
        sheet=sheet, heading=heading, understood=understood, changes=changes, others=others
    )


def _headed(sheets: Sequence[Sheet], known: Mapping[str, str]) -> tuple[Sheet, Heading]:
    for sheet in sheets:
        heading = find_heading(sheet, known)
        if heading:
            return sheet, heading
    filled = next((sheet for sheet in sheets if sheet.rows), None)
    if filled is None:
        problem = Problem(file=sheets[0].file if sheets else "", entry="", message="is empty")
        raise InputError([problem])
    first = filled.rows[0]
    shown = ", ".join(repr(cell.text) for _, cell in sorted(first[1].items())[:8])
    raise InputError(
        [
            Problem(
                file=filled.file,
                entry=next(iter(first[1].values())).name,
                message="no row was found that names the columns; this one says " + shown,
                hint='say what your columns hold: --column "Your heading=name"; '
                f"known are {', '.join(FIELDS)}",
            )
        ]
    )


def _check_heading(heading: Heading, place: Place) -> None:
    """Report columns that are there twice, or hidden where no other holds the same."""
    for column in heading.twice:
        other = heading.find(column.field)
        place.at(column.cell).report(
            f"holds the {column.field}, as {other.heading if other else ''!r} does already",
            f'say which is not to be used: --column "{column.heading}=-"',
        )
    for column in heading.hidden:
        place.at(column.cell).report(
            f"the column {column.heading!r} is hidden, and no other holds the {column.field}",
            "show it, or delete it",
        )
