"""Builds of which every piece is placed: from the list in the file to pieces in their frame."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from math import isfinite

from packdown.files.parts import Parts
from packdown.files.place import Place, show
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
from packdown.geometry import (
    TURNS,
    Cuboid,
    Solid,
    Vector,
    WayUp,
    bounds,
    direction_of,
    drop_height,
    footprint_overlap,
    rests_on,
    rotate_cuboid,
    rotate_vector,
    rotated,
    translate,
    ways_in_frame,
)
from packdown.model import Joint, Part, Piece, Slot
from packdown.units import Rounding, format_length

__all__ = ["Spot", "check_floating", "check_overlaps", "place_pieces", "posed", "read_spots"]

MAX_PIECES = 1_000
_WAYS = {str(way): way for way in WayUp}
_ONCE = (1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where one piece is to stand.

    Parameters
    ----------
    id
        The piece, as the file names it.
    part
        Its part; None where that cannot be used.
    x_um, y_um, z_um
        Lower corner; without a height it is lowered until it rests.
    way_up, turn
        How it stands.
    place
        Where the file says so.
    """

    id: str
    part: Part | None
    x_um: int
    y_um: int
    z_um: int | None
    way_up: WayUp
    turn: int
    place: Place


def read_spots(table: Table, parts: Parts, square_um: int | None) -> tuple[Spot, ...]:
    """Read ``place``: the pieces of a build in the order in which they were listed."""
    before = len(table.place.found)
    spots: list[Spot] = []
    for each in table.tables("place"):
        spots.extend(_repeated(each, parts, _distance(square_um)))
        if len(spots) > MAX_PIECES:
            each.place.report(f"expected at most {MAX_PIECES:,} pieces in a build")
            break
    seen: set[str] = set()
    for spot in spots:
        if spot.id in seen:
            spot.place.at("id").report(f'the piece "{spot.id}" is there twice')
        seen.add(spot.id)
    if not spots and len(table.place.found) == before:
        table.place.at("place").report("expected at least one piece")
    return tuple(spots)


def _repeated(table: Table, parts: Parts, distance: Reader[int]) -> list[Spot]:
    own = table.need("id", name)
    part = table.need("part", text)
    at = table.need("at", list_of(distance, 2, 3))
    first = Spot(
        id=own,
        part=parts.find(part, table.place.at("part")),
        x_um=at[0] if at else 0,
        y_um=at[1] if at else 0,
        z_um=at[2] if len(at) == 3 else None,
        way_up=table.get("way_up", choice(_WAYS), WayUp.UPRIGHT),
        turn=table.get("turn", _turn, 0),
        place=table.place,
    )
    if "repeat" not in table:
        table.done()
        return [first] if own != STAND_IN else []
    repeat = table.table("repeat")
    count = repeat.need("count", list_of(whole(1, MAX_PIECES), 2, 2)) or _ONCE
    step = repeat.need("step", list_of(distance, 2, 2)) or _ONCE
    repeat.done()
    table.done()
    if count[0] * count[1] > MAX_PIECES:
        repeat.place.at("count").report(f"expected at most {MAX_PIECES:,} pieces in a build")
        return [first]
    if own == STAND_IN:
        return []
    columns = [(column, row) for row in range(count[1]) for column in range(count[0])]
    return [
        replace(
            first,
            id=f"{own}-{index}",
            x_um=first.x_um + column * step[0],
            y_um=first.y_um + row * step[1],
        )
        for index, (column, row) in enumerate(columns, start=1)
    ]


def _turn(value: object, place: Place) -> int:
    if isinstance(value, int) and not isinstance(value, bool) and value in TURNS:
        return value
    place.expected(f"one of {', '.join(map(str, TURNS))}", value)
    return 0


def _distance(square_um: int | None) -> Reader[int]:
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


@lru_cache(maxsize=4_096)
def posed(
    part: Part, way_up: WayUp, turn: int
) -> tuple[Solid, Solid, tuple[Slot, ...], tuple[WayUp, ...]]:
    """Return cover, core, slots and ways up of a turned part, lower corner at the origin."""
    cover, shift = rotated(part.cover_um, way_up, turn)
    core = translate((rotate_cuboid(cuboid, way_up, turn) for cuboid in part.core_um), *shift)
    slots = tuple(
        Slot(
            at_um=_sum(rotate_vector(slot.at_um, way_up, turn), shift),
            normal=direction_of(rotate_vector(slot.normal.vector, way_up, turn)),
            kind=slot.kind,
        )
        for slot in part.slots
    )
    return cover, core, slots, ways_in_frame(part.ways_up, way_up, turn)


def _sum(a: Vector, b: Vector) -> Vector:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def place_pieces(
    build: str, spots: Sequence[Spot]
) -> tuple[tuple[Piece, ...], tuple[tuple[Slot, ...], ...]]:
    """Put every piece in its place; those without a height come down on those before them.

    Returns
    -------
    pieces
        The pieces in the frame of the build.
    slots
        Their slots in the same frame, parallel to `pieces`.
    """
    pieces: list[Piece] = []
    all_slots = []
    standing: list[tuple[Cuboid, Solid]] = []
    for spot in spots:
        part = spot.part
        if part is None:
            raise ValueError(f"piece {spot.id} has no part that can be placed")
        cover, core, slots, ways = posed(part, spot.way_up, spot.turn)
        lying = translate(core, spot.x_um, spot.y_um, 0)
        z = _rest_height(lying, standing) if spot.z_um is None else spot.z_um
        shift = (spot.x_um, spot.y_um, z)
        own_core = translate(core, *shift)
        standing.append((bounds(own_core), own_core))
        all_slots.append(tuple(replace(slot, at_um=_sum(slot.at_um, shift)) for slot in slots))
        pieces.append(
            Piece(
                id=f"{build}/{spot.id}",
                part=part.id,
                name=part.name,
                build=build,
                weight_g=part.weight_g,
                cuboids_um=translate(cover, *shift),
                core_um=own_core,
                ways_up=ways,
                carry_limit_g=part.carry_limit_g,
                magnets=part.magnets if spot.way_up is WayUp.UPRIGHT else 0,
                alone=part.alone,
            )
        )
    return tuple(pieces), tuple(all_slots)


def _rest_height(lying: Solid, standing: Sequence[tuple[Cuboid, Solid]]) -> int:
    """Return the height to which a core comes down on the cores that already stand."""
    frame = bounds(lying)
    near = (core for other, core in standing if footprint_overlap(frame, other))
    return drop_height(lying, (cuboid for core in near for cuboid in core))


def check_overlaps(pieces: Sequence[Piece], places: Sequence[Place]) -> None:
    """Report every two pieces that cannot both be where they are said to be."""
    frames = [bounds(piece.core_um) for piece in pieces]
    for one, two in combinations(range(len(pieces)), 2):
        if not frames[one].overlaps(frames[two]):
            continue
        depth = max(_depth(a, b) for a in pieces[one].core_um for b in pieces[two].core_um)
        if depth > 0:
            names = [pieces[index].id.partition("/")[2] for index in (one, two)]
            places[two].report(
                f"{names[0]} and {names[1]} overlap by {format_length(depth)}",
                "move one of them by that much",
            )


def _depth(a: Cuboid, b: Cuboid) -> int:
    """How far two cuboids would have to be moved apart; not above 0 if they do not overlap."""
    return min(min(a[axis + 3] - b[axis], b[axis + 3] - a[axis]) for axis in range(3))


def check_floating(
    pieces: Sequence[Piece], joints: Sequence[Joint], places: Sequence[Place]
) -> None:
    """Report pieces with nothing beneath them and no joint that holds them."""
    held = {piece for joint in joints for piece in joint.pieces}
    floor = min(bounds(piece.cuboids_um).z0 for piece in pieces)
    for piece, place in zip(pieces, places, strict=True):
        height = bounds(piece.cuboids_um).z0
        if piece.id in held or height <= max(0, floor):
            continue
        if not any(rests_on(piece.core_um, other.core_um) for other in pieces if other != piece):
            place.report(
                f"{piece.id.partition('/')[2]} floats {format_length(height)} above the table",
                "leave out its height to lower it, or join it to another piece",
            )
