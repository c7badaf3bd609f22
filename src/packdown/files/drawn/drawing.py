"""From the drawing of a build to the spots at which its pieces stand."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

from packdown.errors import nearest
from packdown.files.drawn.cells import cell_name, cells_across, offset, touching_groups, turned
from packdown.files.drawn.notation import Level, Mark, read_drawing
from packdown.files.drawn.symbols import Symbol, read_symbols
from packdown.files.parts import Parts
from packdown.files.place import Place
from packdown.files.placing import MAX_PIECES, distance
from packdown.files.spots import Spot, posed
from packdown.files.table import Table
from packdown.files.values import Reader, name, text
from packdown.geometry import WayUp, bounds
from packdown.model import Part

__all__ = ["read_drawn", "spots_of"]

_NUMBER = re.compile(r"-?\d{1,9}(\.\d{1,9})?")
_FLIPPED = {WayUp.UPRIGHT: WayUp.UPSIDE_DOWN, WayUp.UPSIDE_DOWN: WayUp.UPRIGHT}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Thing:
    """One piece of a level: where it is drawn, how it stands, and the cells that it takes."""

    symbol: str
    part: Part
    way_up: WayUp
    turn: int
    column: int
    row: int
    across: int
    deep: int
    corner_um: tuple[int, int]
    size_um: tuple[int, int]
    place: Place

    def covers(self, column: int, row: int) -> bool:
        """Whether it takes a cell."""
        right, back = self.column + self.across, self.row + self.deep
        return self.column <= column < right and self.row <= row < back


def read_drawn(
    table: Table, shared: Mapping[str, Symbol], parts: Parts, square_um: int | None
) -> tuple[Spot, ...]:
    """Read ``plan`` of a build: its drawing, with ``symbols``, ``names`` and size of a ``cell``.

    Parameters
    ----------
    table
        The build.
    shared
        Symbols of all builds of the file.
    parts, square_um
        What symbols may stand for, and the square of the grid.
    """
    reader = distance(square_um)
    before = len(table.place.found)
    symbols = {**shared, **read_symbols(table.table("symbols"), parts, reader)}
    cell_um = table.get("cell", reader, 0) if "cell" in table else reader(1, table.place)
    place = table.place.at("plan")
    levels = read_drawing(table.need("plan", text), place)
    if len(place.found) == before and cell_um <= 0:
        table.place.at("cell").report("expected a length above 0")
    if not any(cell.marks for level in levels for row in level.rows for cell in row):
        place.report("expected at least one piece")
    if len(place.found) > before:
        return _named((), Table({}, table.table("names").place))
    spots = spots_of(levels, symbols, cell_um, reader, place)
    return _named(spots, table.table("names"))


def _named(spots: tuple[Spot, ...], table: Table) -> tuple[Spot, ...]:
    """Read ``names``: own ids for some of the drawn pieces."""
    drawn = {spot.id for spot in spots}
    own: dict[str, str] = {}
    for key in table:
        wanted = table.need(key, text)
        name(key, table.place.at(key))
        if wanted not in drawn:
            table.place.at(key).report(f'unknown piece "{wanted}"', nearest(wanted, drawn))
        own[wanted] = key
    return tuple(replace(spot, id=own.get(spot.id, spot.id)) for spot in spots)


def spots_of(
    levels: Sequence[Level],
    symbols: Mapping[str, Symbol],
    cell_um: int,
    reader: Reader[int],
    place: Place,
) -> tuple[Spot, ...]:
    """Return where the pieces of a drawing stand, in the order in which they come down.

    What stands lowest in its cell comes down first, on all before it. Where such pieces of a level
    touch side by side they come down as one, so that a floor stays level; all others come down one
    by one.
    """
    spots: list[Spot] = []
    for number, level in enumerate(levels, start=1):
        here = _inside(place, f"level {number}")
        at = [_said(word, reader, here) for word in level.at or ("0", "0")]
        z_um = None if level.height is None else _said(level.height, reader, here)
        layers = _layers(level, symbols, cell_um, here)
        _check_reached(level, layers, here)
        names: Counter[str] = Counter()
        for depth, things in enumerate(layers):
            groups = [[thing] for thing in things]
            if depth == 0 and z_um is None:
                corners = [(*thing.corner_um, *thing.size_um) for thing in things]
                groups = [[things[k] for k in group] for group in touching_groups(corners)]
            for run, group in enumerate(groups):
                as_one = (number, run) if len(group) > 1 else None
                for thing in group:
                    spot = _spot(thing, number, names, at)
                    spots.append(replace(spot, z_um=None if depth else z_um, together=as_one))
        if len(spots) > MAX_PIECES:
            place.report(f"expected at most {MAX_PIECES:,} pieces in a build")
            return ()
    return tuple(spots)


def _layers(
    level: Level, symbols: Mapping[str, Symbol], cell_um: int, place: Place
) -> list[list[_Thing]]:
    """Return the pieces of a level: first the lowest of every cell, then those on them."""
    layers: list[list[_Thing]] = []
    for row, cells in enumerate(level.rows):
        for column, cell in enumerate(cells):
            here = _inside(place, f"cell {cell_name(column, row)}")
            for depth, mark in zip(count(cell.reached), cell.marks, strict=False):
                thing = _thing(mark, symbols, (column, row), cell_um, here)
                if thing:
                    layers.extend([] for _ in range(len(layers), depth + 1))
                    layers[depth].append(thing)
    return layers


def _thing(
    mark: Mark, symbols: Mapping[str, Symbol], cell: tuple[int, int], cell_um: int, place: Place
) -> _Thing | None:
    symbol = symbols.get(mark.symbol)
    if symbol is None:
        place.report(f'unknown symbol "{mark.symbol}"', nearest(mark.symbol, symbols))
    if symbol is None or symbol.part is None:
        return None
    way_up = symbol.way_up
    if mark.flipped:
        if way_up not in _FLIPPED:
            place.report(f'"{mark.symbol}" is {way_up}: only what is upright can be marked with !')
        way_up = _FLIPPED.get(way_up, way_up)
    turn = (symbol.turn + mark.turn) % 360
    size = bounds(posed(symbol.part, way_up, turn)[0]).size[:2]
    cells = (cells_across(size[0], cell_um), cells_across(size[1], cell_um))
    block = (cells[0] * cell_um, cells[1] * cell_um)
    anchor, shift = turned(symbol.anchor, mark.turn), turned(symbol.shift_um, mark.turn)
    return _Thing(
        symbol=mark.symbol,
        part=symbol.part,
        way_up=way_up,
        turn=turn,
        column=cell[0],
        row=cell[1],
        across=cells[0],
        deep=cells[1],
        corner_um=(
            cell[0] * cell_um + offset(size[0], block[0], anchor[0]) + shift[0],
            cell[1] * cell_um + offset(size[1], block[1], anchor[1]) + shift[1],
        ),
        size_um=size,
        place=place,
    )


def _check_reached(level: Level, layers: Sequence[Sequence[_Thing]], place: Place) -> None:
    """Report cells that say that something reaches in where nothing does."""
    for row, cells in enumerate(level.rows):
        for column, cell in enumerate(cells):
            for depth in range(cell.reached):
                things = layers[depth] if depth < len(layers) else ()
                if not any(thing.covers(column, row) for thing in things):
                    here = _inside(place, f"cell {cell_name(column, row)}")
                    here.report(
                        'nothing reaches in here, as ":" says',
                        "a piece is drawn in its cell at the front left, and reaches to the "
                        "right and to the back",
                    )
                    break


def _spot(thing: _Thing, level: int, names: Counter[str], at_um: Sequence[int]) -> Spot:
    own = f"{thing.symbol}-{level}{cell_name(thing.column, thing.row)}"
    names[own] += 1
    return Spot(
        id=own if names[own] == 1 else f"{own}-{names[own]}",
        part=thing.part,
        x_um=at_um[0] + thing.corner_um[0],
        y_um=at_um[1] + thing.corner_um[1],
        z_um=None,
        way_up=thing.way_up,
        turn=thing.turn,
        place=thing.place,
    )


def _said(word: str, reader: Reader[int], place: Place) -> int:
    """Read a distance from the line that begins a level."""
    return reader(float(word) if _NUMBER.fullmatch(word) else word, place)


def _inside(place: Place, what: str) -> Place:
    separator = ", " if "level" in place.entry.rpartition(".")[2] else ": "
    return Place(place.file, place.found, f"{place.entry}{separator}{what}")
