"""Lists of placed pieces: where each piece of a build is said to stand."""

from dataclasses import replace
from fractions import Fraction
from math import isfinite

from packdown.files.parts import Parts
from packdown.files.place import Place, show
from packdown.files.spots import Spot
from packdown.files.table import Table
from packdown.files.values import (
    MAX_LENGTH_UM,
    STAND_IN,
    Reader,
    choice,
    length,
    list_of,
    name,
    text,
    whole,
)
from packdown.geometry import TURNS, WayUp
from packdown.units import Rounding, format_length

__all__ = ["MAX_PIECES", "WAYS", "distance", "offsets", "read_spots", "turn"]

MAX_PIECES = 1_000
WAYS = {str(way): way for way in WayUp}
_ONCE = (1, 1)


def read_spots(table: Table, parts: Parts, square_um: int | None) -> tuple[Spot, ...]:
    """Read ``place``: the pieces of a build in the order in which they were listed."""
    spots: list[Spot] = []
    reader = distance(square_um)
    for each in table.tables("place"):
        spots.extend(_repeated(each, parts, reader))
        if len(spots) > MAX_PIECES:
            each.place.report(f"expected at most {MAX_PIECES:,} pieces in a build")
            break
    return tuple(spots)


def _repeated(table: Table, parts: Parts, reader: Reader[int]) -> list[Spot]:
    own = table.need("id", name)
    part = table.need("part", text)
    at = table.need("at", list_of(reader, 2, 3))
    first = Spot(
        id=own,
        part=parts.find(part, table.place.at("part")),
        x_um=at[0] if at else 0,
        y_um=at[1] if at else 0,
        z_um=at[2] if len(at) == 3 else None,
        way_up=table.get("way_up", choice(WAYS), WayUp.UPRIGHT),
        turn=table.get("turn", turn, 0),
        place=table.place,
    )
    steps = offsets(table, reader)
    table.done()
    if own == STAND_IN:
        return []
    if len(steps) == 1 and "repeat" not in table:
        return [first]
    return [
        replace(first, id=f"{own}-{index}", x_um=first.x_um + x, y_um=first.y_um + y)
        for index, (x, y) in enumerate(steps, start=1)
    ]


def offsets(table: Table, reader: Reader[int]) -> list[tuple[int, int]]:
    """Read ``repeat``: how far each copy is from the first, along x and then along y."""
    if "repeat" not in table:
        return [(0, 0)]
    repeat = table.table("repeat")
    count = repeat.need("count", list_of(whole(1, MAX_PIECES), 2, 2)) or _ONCE
    step = repeat.need("step", list_of(reader, 2, 2)) or _ONCE
    repeat.done()
    if count[0] * count[1] > MAX_PIECES:
        repeat.place.at("count").report(f"expected at most {MAX_PIECES:,} pieces in a build")
        return [(0, 0)]
    return [
        (column * step[0], row * step[1]) for row in range(count[1]) for column in range(count[0])
    ]


def turn(value: object, place: Place) -> int:
    """Read a turn about the vertical, in degrees anticlockwise."""
    if isinstance(value, int) and not isinstance(value, bool) and value in TURNS:
        return value
    place.expected(f"one of {', '.join(map(str, TURNS))}", value)
    return 0


def distance(square_um: int | None) -> Reader[int]:
    """Return a reader of distances: numbers are squares of the grid, text has a unit."""
    exact = length(Rounding.NEAREST, low=-MAX_LENGTH_UM)

    def read(value: object, place: Place) -> int:
        if isinstance(value, str):
            return exact(value, place)
        if not isinstance(value, int | float) or isinstance(value, bool):
            place.expected('a number of squares or a length such as "16 mm"', value)
        elif not isfinite(value) or abs(value) > MAX_LENGTH_UM:
            place.report(f"expected a finite number of squares, not {show(value)}")
        elif square_um is None:
            place.report(
                "numbers are squares of the grid", "give square in [grid] of packdown.toml"
            )
        else:
            um = round(Fraction(value) * square_um)
            if abs(um) <= MAX_LENGTH_UM:
                return um
            place.report(f"expected at most 10 m, not {format_length(um)}")
        return 0

    return read
