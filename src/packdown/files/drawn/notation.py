"""The notation of floor plans: what a drawing in text says, read and printed.

A drawing is a list of levels from the table up, each a map seen from above: the last line is the
front row, the first character of a line is at the left. Cells are separated by blanks::

    Fw^<    Fw^   Fw^>
    Fw<     F     Fp w>
    -- at 1 0 height 64mm
    F       F

A cell is ``.`` where it is empty, or what stands in it from below: one character for each piece,
followed by ``!`` where it is upside down and by an arrow for the way its front looks (``>`` right,
``^`` back, ``<`` left; without one it looks to the front). ``:`` at the beginning stands for
something that reaches in from another cell. A line that begins with ``--`` begins the next level
and may say where it is.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from packdown.files.place import Place, show

__all__ = ["TURN_BY_ARROW", "Cell", "Level", "Mark", "drawing_text", "is_symbol", "read_drawing"]

TURN_BY_ARROW = {"": 0, ">": 90, "^": 180, "<": 270}
"""Degrees anticlockwise from above, by the arrow that says where a piece's front looks."""
EMPTY, REACHED, BREAK = ".", ":", "--"
MAX_SIDE = 1_000
MAX_TEXT = 100_000
_ARROW_BY_TURN = {turn: arrow for arrow, turn in TURN_BY_ARROW.items()}
_MARK = re.compile(r"([^\W_])(!?)([<^>]?)")
_CELL = re.compile(r"(:*)((?:[^\W_]!?[<^>]?)*)")
_OPTIONS = {"at": 2, "height": 1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One piece in a cell of a drawing.

    Parameters
    ----------
    symbol
        The character that stands for it.
    turn
        Degrees anticlockwise by which it is turned.
    flipped
        Whether it is upside down.
    """

    symbol: str
    turn: int = 0
    flipped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What stands in a cell, from below.

    Parameters
    ----------
    reached
        How many things reach in from other cells, below all others.
    marks
        The pieces of the cell itself.
    """

    reached: int = 0
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level of a drawing.

    Parameters
    ----------
    rows
        Its cells row by row, the front row first; rows need not be equally long.
    at
        Where the front left corner of its first cell is, as written: along x and along y.
    height
        Where its lowest pieces stand, as written; without it they come down until they rest.
    """

    rows: tuple[tuple[Cell, ...], ...]
    at: tuple[str, str] | None = None
    height: str | None = None


def is_symbol(text: str) -> bool:
    """Whether a text is a character that can stand for a part: a letter or a digit.

    >>> [is_symbol(text) for text in ("F", "7", "FF", ":", "_")]
    [True, True, False, False, False]
    """
    return len(text) == 1 and _MARK.fullmatch(text) is not None


def read_drawing(text: str, place: Place) -> tuple[Level, ...]:
    r"""Read a drawing; what cannot be used is reported and reads as empty.

    >>> (level,) = read_drawing("F F>\n. :w!^", Place("builds/shed.toml", []))
    >>> level.rows[1][1].marks, level.rows[0][1].reached
    ((Mark(symbol='F', turn=90, flipped=False),), 1)
    """
    if len(text) > MAX_TEXT:
        place.report(f"expected at most {MAX_TEXT:,} characters, not {len(text):,}")
        return ()
    levels: list[Level] = []
    head: dict[str, tuple[str, ...]] = {}
    rows: list[tuple[Cell, ...]] = []
    started = False
    for number, line in enumerate(text.splitlines(), start=1):
        words = line.split()
        here = place.at(f"line {number}")
        if not words:
            continue
        if words[0].startswith(BREAK):
            if started:
                levels.append(_level(head, rows))
            head, rows = _head(words, here), []
        else:
            rows.append(_row(words, here))
        started = True
    if started:
        levels.append(_level(head, rows))
    if max((len(level.rows) for level in levels), default=0) > MAX_SIDE:
        place.report(f"expected at most {MAX_SIDE:,} rows in a level")
    return tuple(levels)


def _level(head: Mapping[str, tuple[str, ...]], rows: Sequence[tuple[Cell, ...]]) -> Level:
    at, height = head.get("at"), head.get("height")
    return Level(
        rows=tuple(rows[::-1]),
        at=(at[0], at[1]) if at else None,
        height=height[0] if height else None,
    )


def _head(words: Sequence[str], place: Place) -> dict[str, tuple[str, ...]]:
    """Return what a line says that begins a level, or nothing where it cannot be used."""
    said, found = list(words[1:]), {}
    while said and said[0] in _OPTIONS and said[0] not in found:
        option, *values = said[: 1 + _OPTIONS[said[0]]]
        if len(values) < _OPTIONS[option]:
            break
        found[option] = tuple(values)
        said = said[1 + len(values) :]
    if words[0] == BREAK and not said:
        return found
    place.expected('"--", then "at X Y" or "height Z" or nothing', " ".join(words))
    return {}


def _row(words: Sequence[str], place: Place) -> tuple[Cell, ...]:
    if len(words) > MAX_SIDE:
        place.report(f"expected at most {MAX_SIDE:,} cells in a row")
        return ()
    return tuple(_cell(word, place, column) for column, word in enumerate(words, start=1))


def _cell(word: str, place: Place, column: int) -> Cell:
    if word == EMPTY:
        return Cell()
    found = _CELL.fullmatch(word)
    if not found:
        place.report(
            f"cell {column}: expected symbols, each with ! or an arrow or nothing, "
            f"not {show(word)}",
            'an empty cell is ".", and ":" comes before all symbols',
        )
        return Cell()
    marks = (
        Mark(symbol=symbol, turn=TURN_BY_ARROW[arrow], flipped=bool(flip))
        for symbol, flip, arrow in _MARK.findall(found[2])
    )
    return Cell(reached=len(found[1]), marks=tuple(marks))


def drawing_text(levels: Sequence[Level]) -> str:
    r"""Print a drawing with its columns below each other; reading it gives the same again.

    >>> rows = ((Cell(marks=(Mark(symbol="w", turn=90),)), Cell()), (Cell(reached=1), Cell()))
    >>> drawing_text([Level(rows=rows, height="8mm")])
    '-- height 8mm\n:  .\nw> .\n'
    """
    return "".join(f"{line}\n" for level in levels for line in _lines(level, levels[0]))


def _lines(level: Level, first: Level) -> Iterator[str]:
    at = f" at {' '.join(level.at)}" if level.at else ""
    height = f" height {level.height}" if level.height else ""
    if level is not first or at or height or not level.rows:
        yield f"{BREAK}{at}{height}"
    words = [[_word(cell) for cell in row] for row in level.rows[::-1]]
    width: dict[int, int] = {}
    for row in words:
        for column, word in enumerate(row):
            width[column] = max(width.get(column, 0), len(word))
    for row in words:
        yield " ".join(word.ljust(width[k]) for k, word in enumerate(row)).rstrip()


def _word(cell: Cell) -> str:
    marks = (f"{m.symbol}{'!' * m.flipped}{_ARROW_BY_TURN[m.turn]}" for m in cell.marks)
    return REACHED * cell.reached + "".join(marks) or EMPTY
