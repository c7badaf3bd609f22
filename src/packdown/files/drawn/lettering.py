"""Letters for the symbols of a drawing that the program makes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from string import ascii_letters, digits

from packdown.files.drawn.notation import Cell, Level
from packdown.files.drawn.symbols import Symbol
from packdown.geometry import bounds

__all__ = ["Draft", "lettered"]

_LETTERS = ascii_letters + digits
_MORE_LETTERS = "".join(map(chr, [*range(0x3B1, 0x3CA), *range(0x410, 0x450)]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A drawing of placed pieces.

    Parameters
    ----------
    cell_um
        The length of a cell.
    symbols, levels
        The drawing.
    names
        Ids of the drawn pieces by those of the placed ones.
    """

    cell_um: int
    symbols: dict[str, Symbol]
    levels: tuple[Level, ...]
    names: dict[str, str]


def lettered(
    cell_um: int, symbols: Mapping[str, Symbol], levels: Sequence[Level], names: Mapping[str, str]
) -> Draft:
    """Put letters in place of stand-ins: capitals for what fills its cells, the part's initial."""
    marks = [m for lv in levels for row in lv.rows for cell in row for m in cell.marks]
    letters: dict[str, str] = {}
    for symbol in dict.fromkeys(mark.symbol for mark in marks):
        taken = set(letters.values())
        wanted = _candidates(symbols[symbol], cell_um)
        letter = next((one for one in wanted if one not in taken), None)
        if letter is None:
            raise ValueError("there are more kinds of symbols than letters")
        letters[symbol] = letter
    return Draft(
        cell_um=cell_um,
        symbols={letter: symbols[symbol] for symbol, letter in letters.items()},
        levels=tuple(
            replace(
                level,
                rows=tuple(tuple(_with(cell, letters) for cell in row) for row in level.rows),
            )
            for level in levels
        ),
        names={old: letters[new[0]] + new[1:] for old, new in names.items()},
    )


def _with(cell: Cell, letters: Mapping[str, str]) -> Cell:
    marks = (replace(mark, symbol=letters[mark.symbol]) for mark in cell.marks)
    return replace(cell, marks=tuple(marks))


def _candidates(symbol: Symbol, cell_um: int) -> Iterator[str]:
    part = symbol.part
    if part is None:
        return
    broad = min(bounds(part.cover_um).size[:2]) * 2 > cell_um
    own = [c for c in part.id if c in _LETTERS and c.isalpha()]
    for letter in own:
        yield letter.upper() if broad else letter.lower()
    for letter in own:
        yield letter.lower() if broad else letter.upper()
    yield from _LETTERS + _MORE_LETTERS
