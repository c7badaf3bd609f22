"""Symbols of a floor plan: the part each stands for, and where in its cell that part stands."""

from collections.abc import Mapping
from dataclasses import dataclass

from packdown.files.drawn.notation import is_symbol
from packdown.files.parts import Parts
from packdown.files.place import Place
from packdown.files.placing import WAYS, turn
from packdown.files.table import Table
from packdown.files.values import Reader, choice, list_of, text
from packdown.geometry import WayUp
from packdown.model import Part

__all__ = ["ANCHORS", "Anchor", "Symbol", "read_symbols"]

Anchor = tuple[int, int]
_SIDES = {"front": (0, -1), "back": (0, 1), "left": (-1, 0), "right": (1, 0)}
_CORNERS = {
    f"{one}-{two}": (_SIDES[two][0], _SIDES[one][1])
    for one in ("front", "back")
    for two in ("left", "right")
}
ANCHORS: dict[str, Anchor] = {
    "middle": (0, 0),
    **_SIDES,
    **_CORNERS,
    **{f"{name}-line": (2 * x, 2 * y) for name, (x, y) in (_SIDES | _CORNERS).items()},
}
"""Where in its cell a piece stands, along x and y: 1 is inside against the edge of the cell, 2 is
with its middle on that edge, 0 is the middle of the cell."""
NO_SHIFT = (0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Symbol:
    """What a character of a drawing stands for.

    Parameters
    ----------
    part
        The part; None where that cannot be used.
    way_up, turn
        How it lies where the drawing says nothing more.
    anchor
        Where in its cell it stands; turns with the arrow.
    shift_um
        How far it is off that, along x and y; turns with the arrow.
    place
        Where the file says so.
    """

    part: Part | None
    way_up: WayUp
    turn: int
    anchor: Anchor
    shift_um: tuple[int, int]
    place: Place


def read_symbols(table: Table, parts: Parts, reader: Reader[int]) -> dict[str, Symbol]:
    """Read a table of symbols: each is the id of a part, or a table with more about it."""
    found = {}
    for key in table:
        value = table.need(key, _as_is)
        place = table.place.at(key)
        if not is_symbol(key):
            place.report("expected one letter or digit as a symbol")
        entry = value if isinstance(value, Mapping) else {"part": value}
        found[key] = _symbol(Table(dict(entry), place), parts, reader)
    return found


def _as_is(value: object, _place: Place) -> object:
    return value


def _symbol(table: Table, parts: Parts, reader: Reader[int]) -> Symbol:
    part = table.need("part", text)
    shift = table.get("shift", list_of(reader, 2, 2), NO_SHIFT) or NO_SHIFT
    symbol = Symbol(
        part=parts.find(part, table.place.at("part")),
        way_up=table.get("way_up", choice(WAYS), WayUp.UPRIGHT),
        turn=table.get("turn", turn, 0),
        anchor=table.get("on", choice(ANCHORS), ANCHORS["middle"]),
        shift_um=(shift[0], shift[1]),
        place=table.place,
    )
    table.done()
    return symbol
