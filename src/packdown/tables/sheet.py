"""A table as it stands in a file, before anybody has understood it."""

from dataclasses import dataclass, field

__all__ = ["MAX_COLUMNS", "MAX_ROWS", "Cell", "Sheet", "letters"]

MAX_ROWS = 10_000
MAX_COLUMNS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell.

    Parameters
    ----------
    name
        How the user finds it, such as ``Parts!C7`` or ``line 7, column 3``.
    text
        What stands in it, without blanks around it.
    wrong
        Why it cannot be used, if it cannot, and something were to be read from it.
    """

    name: str
    text: str
    wrong: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The filled cells of a table.

    Parameters
    ----------
    file, name
        The file, and the sheet in it if it has several.
    rows
        For each row that is not empty its number, and its cells by their column from 0.
    spans
        Merged cells: first row, first column, last row and last column.
    hidden
        Columns that are hidden.
    notes
        What was noticed on the way and the user should know.
    decimal_comma
        Whether the way the file is written speaks for decimal commas.
    """

    file: str
    name: str
    rows: tuple[tuple[int, dict[int, Cell]], ...]
    spans: tuple[tuple[int, int, int, int], ...] = ()
    hidden: frozenset[int] = frozenset()
    notes: tuple[str, ...] = field(default=())
    decimal_comma: bool = False


def letters(column: int) -> str:
    """Return the letters of a column of a spreadsheet, counted from 0.

    >>> letters(0), letters(27)
    ('A', 'AB')
    """
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name
