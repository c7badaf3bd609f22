"""Tables of separated values, whatever separates them and however they are encoded."""

import csv
import io

from packdown.tables.sheet import MAX_COLUMNS, MAX_ROWS, Cell, Sheet

__all__ = ["read_separated"]

SEPARATORS = (";", "\t", ",", "|")
_SAMPLE = 50
_MAX_CELL = 20_000


def read_separated(data: bytes, file: str, encoding: str | None = None) -> Sheet:
    """Read separated values.

    Parameters
    ----------
    data
        Contents of the file.
    file
        What to call it.
    encoding
        How it is encoded; None to find out.

    Raises
    ------
    ValueError
        If it is no such table; the message says why.
    """
    text, notes = _decode(data, encoding)
    if "\0" in text:
        raise ValueError("is no text")
    lines = text.splitlines(keepends=True)
    start = 0
    if lines and lines[0].strip().lower() in {f"sep={each}" for each in SEPARATORS}:
        separator, start = lines[0].strip()[4], 1
    else:
        separator = _separator(lines)
    rows = _rows(lines[start:], separator, start)
    return Sheet(
        file=file, name="", rows=tuple(rows), notes=tuple(notes), decimal_comma=separator == ";"
    )


def _decode(data: bytes, encoding: str | None) -> tuple[str, list[str]]:
    if encoding:
        try:
            return data.decode(encoding).removeprefix("\ufeff"), []
        except (LookupError, UnicodeError) as error:
            raise ValueError(f"cannot be read as {encoding}: {error}") from error
    for mark, name in ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"), (b"", "utf-8-sig")):
        if data.startswith(mark):
            try:
                return data.decode(name), []
            except UnicodeError:
                continue
    try:
        return data.decode("cp1252"), ["is not UTF-8; it was read as Windows-1252"]
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise ValueError(
            f"line {line}: is neither UTF-8 nor Windows-1252; say how it is encoded with --encoding"
        ) from error


def _separator(lines: list[str]) -> str:
    """Return the separator that splits most of the first lines into equally many cells."""

    def score(separator: str) -> tuple[int, int]:
        widths = [len(row) for row in _parsed(lines[:_SAMPLE], separator) if any(row)]
        split = [width for width in widths if width > 1]
        if not split:
            return (0, 0)
        usual = max(set(split), key=split.count)
        return (split.count(usual), usual)

    return max(SEPARATORS, key=score)


def _parsed(lines: list[str], separator: str) -> list[list[str]]:
    try:
        return [[cell.strip() for cell in row] for row in csv.reader(lines, delimiter=separator)]
    except csv.Error:
        return []


def _rows(lines: list[str], separator: str, start: int) -> list[tuple[int, dict[int, Cell]]]:
    reader = csv.reader(io.StringIO("".join(lines), newline=""), delimiter=separator, strict=True)
    rows: list[tuple[int, dict[int, Cell]]] = []
    number = start
    try:
        for cells in reader:
            number, before = reader.line_num + start, number
            filled = {
                column: _cell(cell, before + 1, column)
                for column, cell in enumerate(cells)
                if cell.strip()
            }
            if filled:
                rows.append((before + 1, filled))
            if len(rows) > MAX_ROWS:
                raise ValueError(f"has more than {MAX_ROWS:,} rows")
    except csv.Error as error:
        raise ValueError(f"line {reader.line_num + start}: is no table: {error}") from error
    return rows


def _cell(text: str, line: int, column: int) -> Cell:
    name = f"line {line}, column {column + 1}"
    if column >= MAX_COLUMNS or len(text) > _MAX_CELL:
        raise ValueError(f"{name}: expected at most {MAX_COLUMNS} columns and short cells")
    return Cell(name=name, text=" ".join(text.split()))
