"""From where pieces are said to stand to pieces in the frame of their build."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby

from packdown.files.place import Place
from packdown.geometry import (
    Cuboid,
    Solid,
    Vector,
    WayUp,
    bounds,
    direction_of,
    drop_height,
    footprint_overlap,
    rotate_cuboid,
    rotate_vector,
    rotated,
    translate,
    ways_in_frame,
)
from packdown.model import Part, Piece, Slot

__all__ = ["Spot", "heights", "place_pieces", "posed"]


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
    together
        What comes down as one: spots that follow each other and share this; None for one alone.
    lift_um
        How far its lower corner is above the lowest of what comes down as one.
    """

    id: str
    part: Part | None
    x_um: int
    y_um: int
    z_um: int | None
    way_up: WayUp
    turn: int
    place: Place
    together: Hashable = None
    lift_um: int = 0


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
    for spot, z in zip(spots, heights(spots), strict=True):
        part = _part(spot)
        cover, core, slots, ways = posed(part, spot.way_up, spot.turn)
        shift = (spot.x_um, spot.y_um, z)
        all_slots.append(tuple(replace(slot, at_um=_sum(slot.at_um, shift)) for slot in slots))
        pieces.append(
            Piece(
                id=f"{build}/{spot.id}",
                part=part.id,
                name=part.name,
                build=build,
                weight_g=part.weight_g,
                cuboids_um=translate(cover, *shift),
                core_um=translate(core, *shift),
                ways_up=ways,
                carry_limit_g=part.carry_limit_g,
                magnets=part.magnets if spot.way_up is WayUp.UPRIGHT else 0,
                alone=part.alone,
            )
        )
    return tuple(pieces), tuple(all_slots)


def heights(spots: Sequence[Spot]) -> tuple[int, ...]:
    """Return the height of the lower corner of every piece, in micrometres."""
    found: list[int] = []
    standing: list[tuple[Cuboid, Solid]] = []
    for _, run in groupby(enumerate(spots), key=_comes_down_with):
        group = [spot for _, spot in run]
        cores = [posed(_part(spot), spot.way_up, spot.turn)[1] for spot in group]
        moves = [(spot.x_um, spot.y_um, spot.lift_um) for spot in group]
        solids = [translate(core, *move) for core, move in zip(cores, moves, strict=True)]
        base = group[0].z_um
        if base is None:
            base = max(_rest_height(solid, standing) for solid in solids)
        for spot, solid in zip(group, solids, strict=True):
            found.append(base + spot.lift_um)
            own = translate(solid, 0, 0, base)
            standing.append((bounds(own), own))
    return tuple(found)


def _comes_down_with(entry: tuple[int, Spot]) -> Hashable:
    """Return a key that spots share which come down as one."""
    index, spot = entry
    return ("alone", index) if spot.together is None else ("together", spot.together)


def _part(spot: Spot) -> Part:
    if spot.part is None:
        raise ValueError(f"piece {spot.id} has no part that can be placed")
    return spot.part


def _rest_height(lying: Solid, standing: Sequence[tuple[Cuboid, Solid]]) -> int:
    """Return how far a core is to be lifted so that it comes down on the cores that stand."""
    frame = bounds(lying)
    near = (core for other, core in standing if footprint_overlap(frame, other))
    return drop_height(lying, (cuboid for core in near for cuboid in core))
