"""The different ways an item may lie, as flat arrays for the compiled loops."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import (
    TURNS,
    Cuboid,
    Rect,
    Solid,
    Vector,
    WayUp,
    bounds,
    inside_hull,
    lowest_faces,
    plan_of,
    rotate_vector,
    rotated,
)
from packdown.model import Container, Item, Lining, Rules

__all__ = ["Pose", "fits_alone", "lies_in", "poses_of"]

MOST_ANCHORS = 4
"""Rectangles of a pose that are laid against the corners of spaces, the whole included."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """One way an item may lie, its lower corner at the origin.

    Parameters
    ----------
    way_up, turn
        How it lies.
    size
        Extent along x, y and z.
    centre
        Centre of gravity in plan.
    cuboids
        One row for each cuboid: its corners, whether it is tender, and whether no higher cuboid
        covers it wholly.
    anchors
        Rectangles in plan to be laid against the corners of free spaces, the whole first.
    lowest_area
        Area of its lowest faces in square micrometres.
    underside
        Height of its highest underside.
    """

    way_up: WayUp
    turn: int
    size: Vector
    centre: tuple[int, int]
    cuboids: NDArray[np.int64]
    anchors: NDArray[np.int64]
    lowest_area: int
    underside: int


def poses_of(item: Item) -> tuple[Pose, ...]:
    """Return the poses in which an item stands by itself and that differ but in their names."""
    told_apart = frozenset({WayUp.UPRIGHT} if item.magnets else ())
    return _poses(item.cuboids_um, item.tender, item.centre_um, item.allowed_ways_up, told_apart)


def lies_in(pose: Pose, item: Item, container: Container) -> bool:
    """Whether an item has room in an empty container in a pose, weights aside."""
    length, width, height = container.inner_um
    apart = 2 * container.clearance_um
    if item.magnets and container.lining is Lining.STEEL and pose.way_up is not WayUp.UPRIGHT:
        return False
    x, y, z = pose.size
    return x + apart <= length and y + apart <= width and z <= height


def fits_alone(item: Item, container: Container, rules: Rules) -> bool:
    """Whether an item, alone in a container, keeps all rules.

    Exact: it has room in an allowed pose with the clearance, stands without tipping, magnets
    down on steel, and is within the payload and the weight limit.
    """
    payload = min(container.payload_g, rules.weight_limit_g - container.tare_g)
    return item.weight_g <= payload and any(
        lies_in(pose, item, container) for pose in poses_of(item)
    )


@lru_cache(maxsize=4096)
def _poses(
    solid: Solid,
    tender: tuple[int, ...],
    centre: Vector,
    ways: tuple[WayUp, ...],
    told_apart: frozenset[WayUp],
) -> tuple[Pose, ...]:
    found: dict[object, Pose] = {}
    for way_up in ways:
        for turn in TURNS:
            placed, shift = rotated(solid, way_up, turn)
            x, y, _ = rotate_vector(centre, way_up, turn)
            middle = (x + shift[0], y + shift[1])
            frail = frozenset(placed[index] for index in tender)
            key = (frozenset(placed), frail, middle, way_up in told_apart)
            if key not in found and inside_hull(middle, lowest_faces(placed), margin=1):
                found[key] = _pose(placed, frail, middle, way_up, turn)
    return tuple(found.values())


def _pose(
    solid: Solid, tender: frozenset[Cuboid], centre: tuple[int, int], way_up: WayUp, turn: int
) -> Pose:
    feet = lowest_faces(solid)
    return Pose(
        way_up=way_up,
        turn=turn,
        size=bounds(solid)[3:],
        centre=centre,
        cuboids=np.array(
            [(*cuboid, cuboid in tender, not _is_roofed(cuboid, solid)) for cuboid in solid],
            dtype=np.int64,
        ),
        anchors=np.array(_anchors(solid, feet), dtype=np.int64),
        lowest_area=sum(foot.area for foot in feet),
        underside=max(cuboid.z0 for cuboid in solid),
    )


def _is_roofed(cuboid: Cuboid, solid: Solid) -> bool:
    """Whether a single higher cuboid covers the whole footprint."""
    plan = plan_of(cuboid)
    return any(over.z1 > cuboid.z1 and plan_of(over).meet(plan) == plan for over in solid)


def _anchors(solid: Solid, feet: Sequence[Rect]) -> list[Rect]:
    x0, y0, _, x1, y1, _ = bounds(solid)
    whole = Rect(x0, y0, x1, y1)
    left, front, right, back = zip(*feet, strict=True)
    footing = Rect(min(left), min(front), max(right), max(back))
    singles = sorted({plan_of(cuboid) for cuboid in solid}, key=lambda rect: (-rect.area, rect))
    return list(dict.fromkeys([whole, footing, *singles]))[:MOST_ANCHORS]
