"""From placed pieces back to a drawing of them."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from packdown.errors import Problem
from packdown.files.drawn.cells import cells_across, offset, turned
from packdown.files.drawn.drawing import spots_of
from packdown.files.drawn.lettering import Draft, lettered
from packdown.files.drawn.notation import Cell, Level, Mark
from packdown.files.drawn.symbols import ANCHORS, NO_SHIFT, Anchor, Symbol
from packdown.files.place import Place
from packdown.files.placing import distance
from packdown.files.spots import Spot, heights, posed
from packdown.geometry import WayUp, bounds
from packdown.units import format_length

__all__ = ["draft"]

_NOWHERE = Place("", [])
_STAND_INS = 0x4E00
_STEPS = 8
_TRIED = 8
_SHIFTED = 16
_Key = tuple[str, WayUp, Anchor, tuple[int, int]]
_Stand = tuple[str, WayUp, int, int, int, int]


def draft(spots: Sequence[Spot], square_um: int, cell_um: int) -> Draft:
    """Draw pieces so that reading the drawing puts each of them where it is.

    Parameters
    ----------
    spots
        The pieces; all of them have a part and a height.
    square_um, cell_um
        The square of the grid, and the length of a cell of the drawing.

    Raises
    ------
    ValueError
        If there are more kinds of symbols than characters to choose from.
    """
    desk = _Desk(spots, square_um, cell_um)
    done: list[Level] = []
    drawn: list[Spot] = []
    page: list[list[Spot]] = []
    for _, wave in groupby(sorted(spots, key=_height), key=_height):
        now = list(wave)
        again = page and {s.part for s in now} & {s.part for s in page[0]}
        joined = desk.level([*page, now]) if page and not again else None
        if joined and desk.agrees([*done[:-1], joined], [*drawn, *now]):
            page.append(now)
            done[-1] = joined
        else:
            page = [now]
            done += desk.alone(done, drawn, now)
        drawn += now
    return lettered(cell_um, desk.symbols, done, desk.names(done))


class _Desk:
    """Drawing one build: symbols so far, and where levels begin.

    While it is drawn, symbols are stand-ins; each is one letter of a large alphabet.
    """

    def __init__(self, spots: Sequence[Spot], square_um: int, cell_um: int) -> None:
        self._spots = spots
        self._square_um = square_um
        self._cell_um = cell_um
        self._low = (min(spot.x_um for spot in spots), min(spot.y_um for spot in spots))
        self._symbol_by_key: dict[_Key, str] = {}
        self.symbols: dict[str, Symbol] = {}

    def alone(self, done: list[Level], drawn: list[Spot], wave: list[Spot]) -> list[Level]:
        """Return levels for pieces of one height: one that comes down, or several with heights."""
        level = self.level([wave])
        if level and self.agrees([*done, level], [*drawn, *wave]):
            return [level]
        height = self._said(_height(wave[0]))
        if level and self.agrees([*done, replace(level, height=height)], [*drawn, *wave]):
            return [replace(level, height=height)]
        singles, rest = [], wave
        while rest:
            cells = [self._drawn(spot, self._corner(wave))[0] for spot in rest]
            first = [k for k, cell in enumerate(cells) if cell not in cells[:k]]
            found = self.level([[rest[k] for k in first]])
            singles += [replace(found, height=height)] if found else []
            rest = [spot for k, spot in enumerate(rest) if k not in first]
        return singles

    def level(self, waves: Sequence[Sequence[Spot]]) -> Level | None:
        """Draw pieces of a level, the lowest first; None where that cannot be said."""
        corner = self._corner(waves[0])
        cells: dict[tuple[int, int], Cell] = {}
        ground: set[tuple[int, int]] = set()
        for number, wave in enumerate(waves):
            for spot in wave:
                at, mark = self._drawn(spot, corner)
                cell = cells.get(at)
                if cell is None:
                    if number and at not in ground:
                        return None
                    cell = Cell(reached=min(number, 1))
                if not number:
                    ground.update(self._covered(spot, at))
                cells[at] = replace(cell, marks=(*cell.marks, mark))
        rows = [
            tuple(cells.get((column, row), Cell()) for column in range(_end(cells, row)))
            for row in range(max(row for _, row in cells) + 1)
        ]
        at_words = (self._said(corner[0]), self._said(corner[1]))
        return Level(rows=tuple(rows), at=at_words if any(corner) else None)

    def _covered(self, spot: Spot, at: tuple[int, int]) -> list[tuple[int, int]]:
        across, deep = (cells_across(extent, self._cell_um) for extent in _size(spot))
        return [(at[0] + x, at[1] + y) for x in range(across) for y in range(deep)]

    def _corner(self, wave: Sequence[Spot]) -> tuple[int, int]:
        """Return the corner of the first cell in which pieces are drawn with fewest shifts."""
        cell = self._cell_um
        rests = {(spot.x_um % cell, spot.y_um % cell) for spot in wave[:_TRIED]}
        for spot in wave[:_TRIED]:
            off = [offset(extent, cell * cells_across(extent, cell), 0) for extent in _size(spot)]
            rests.add(((spot.x_um - off[0]) % cell, (spot.y_um - off[1]) % cell))
        best = min(
            [(0, 0), *sorted(rests)],
            key=lambda rest: sum(_oddness(*self._fit(spot, rest)) for spot in wave),
        )
        x, y = (r + (low - r) // cell * cell for low, r in zip(self._low, best, strict=True))
        return (x, y)

    def _fit(self, spot: Spot, corner: tuple[int, int]) -> tuple[Anchor, tuple[int, int]]:
        """Return where in its cell a piece stands, and how far it is off that."""
        cell, size = self._cell_um, _size(spot)
        low = (spot.x_um - corner[0], spot.y_um - corner[1])
        nearest: tuple[Anchor, tuple[int, int]] | None = None
        for anchor in ANCHORS.values():
            off = [
                low[k] - offset(size[k], cell * cells_across(size[k], cell), anchor[k])
                for k in range(2)
            ]
            shift = (
                (off[0] + cell // 2) % cell - cell // 2,
                (off[1] + cell // 2) % cell - cell // 2,
            )
            if shift == NO_SHIFT:
                return anchor, NO_SHIFT
            nearest = nearest or (anchor, shift)
        return nearest or ((0, 0), NO_SHIFT)

    def _drawn(self, spot: Spot, corner: tuple[int, int]) -> tuple[tuple[int, int], Mark]:
        """Return the cell of a piece and what is drawn there."""
        cell, size = self._cell_um, _size(spot)
        anchor, shift = self._fit(spot, corner)
        column, row = (
            (low - start - away - offset(extent, cell * cells_across(extent, cell), side)) // cell
            for low, start, away, extent, side in zip(
                (spot.x_um, spot.y_um), corner, shift, size, anchor, strict=True
            )
        )
        flipped = spot.way_up is WayUp.UPSIDE_DOWN
        way_up = WayUp.UPRIGHT if flipped else spot.way_up
        back = -spot.turn % 360
        part = spot.part
        key = (part.id if part else "", way_up, turned(anchor, back), turned(shift, back))
        if key not in self._symbol_by_key:
            symbol = self._symbol_by_key[key] = chr(_STAND_INS + len(self._symbol_by_key))
            self.symbols[symbol] = Symbol(
                part=part, way_up=way_up, turn=0, anchor=key[2], shift_um=key[3], place=_NOWHERE
            )
        mark = Mark(symbol=self._symbol_by_key[key], turn=spot.turn, flipped=flipped)
        return (column, row), mark

    def agrees(self, levels: Sequence[Level], spots: Sequence[Spot]) -> bool:
        """Whether the drawing puts pieces exactly where they are."""
        return Counter(stand for stand, _ in self._stands(levels)) == Counter(
            _stand(s, _height(s)) for s in spots
        )

    def names(self, levels: Sequence[Level]) -> dict[str, str]:
        """Return the ids of drawn pieces by those of the placed ones."""
        drawn: dict[_Stand, list[str]] = {}
        for stand, name in self._stands(levels):
            drawn.setdefault(stand, []).append(name)
        return {spot.id: drawn[_stand(spot, _height(spot))].pop() for spot in self._spots}

    def _stands(self, levels: Sequence[Level]) -> list[tuple[_Stand, str]]:
        found: list[Problem] = []
        reader = distance(self._square_um)
        spots = spots_of(levels, self.symbols, self._cell_um, reader, Place("", found))
        if found:
            return []
        return [(_stand(spot, z), spot.id) for spot, z in zip(spots, heights(spots), strict=True)]

    def _said(self, um: int) -> str:
        """Return a distance as the line that begins a level says it."""
        squares, rest = divmod(um * _STEPS, self._square_um)
        return f"{squares / _STEPS:g}" if not rest else format_length(um).replace(" ", "")


def _oddness(anchor: Anchor, shift: tuple[int, int]) -> int:
    """Return how unlike the usual a place in a cell is: the middle, or against its edge."""
    return _SHIFTED if shift != NO_SHIFT else max(map(abs, anchor)) ** 2


def _end(cells: Iterable[tuple[int, int]], row: int) -> int:
    """Return how many cells of a row are to be drawn."""
    return max((column + 1 for column, other in cells if other == row), default=1)


def _size(spot: Spot) -> tuple[int, int]:
    if spot.part is None:
        raise ValueError(f"piece {spot.id} has no part that can be drawn")
    return bounds(posed(spot.part, spot.way_up, spot.turn)[0]).size[:2]


def _height(spot: Spot) -> int:
    if spot.z_um is None:
        raise ValueError(f"piece {spot.id} has no height")
    return spot.z_um


def _stand(spot: Spot, z_um: int) -> _Stand:
    part = spot.part.id if spot.part else ""
    return (part, spot.way_up, spot.turn, spot.x_um, spot.y_um, z_um)
