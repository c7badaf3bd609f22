"""Mirror images of pieces: the same part turned, or the part that is its mirror image."""

from dataclasses import replace
from typing import NamedTuple

from packdown.files.parts import Parts
from packdown.files.spots import Spot, posed
from packdown.geometry import TURNS, Direction, Solid, WayUp, bounds, contains
from packdown.model import Part, Slot

__all__ = ["mirrored"]

_SIDE_BY_SIDE = {Direction.LEFT: Direction.RIGHT, Direction.RIGHT: Direction.LEFT}
_FLAT = (WayUp.UPRIGHT, WayUp.UPSIDE_DOWN)
_SWAP = {WayUp.ON_LEFT: WayUp.ON_RIGHT, WayUp.ON_RIGHT: WayUp.ON_LEFT}


class _Look(NamedTuple):
    """A posed part, its lower corner at the origin."""

    cover: Solid
    core: Solid
    slots: frozenset[Slot]
    ways: frozenset[WayUp]


def mirrored(spot: Spot, parts: Parts) -> Spot | None:
    """Return a piece that looks as another does in a mirror on its right.

    Cover, core, slots and allowed ways up must be the same; what stood upright stays upright. The
    part itself is tried in all turns, then the part that is named as its ``mirror``.

    Returns
    -------
    Spot or None
        None if neither is a mirror image.
    """
    if spot.part is None:
        return None
    wanted = _in_mirror(_look(spot.part, spot.way_up, spot.turn))
    other = parts.mirrors.get(spot.part.id)
    for part in (spot.part, parts.by_id.get(other) if other else None):
        if part is None:
            continue
        for way_up in (spot.way_up, *(way for way in WayUp if _alike(way, spot.way_up))):
            for turn in TURNS:
                if _equal(_look(part, way_up, turn), wanted):
                    return replace(spot, part=part, way_up=way_up, turn=turn)
    return None


def _alike(one: WayUp, other: WayUp) -> bool:
    """Whether both lie on one of their sides."""
    return one not in _FLAT and other not in _FLAT


def _look(part: Part, way_up: WayUp, turn: int) -> _Look:
    """Return all that a mirror can show of a posed part."""
    cover, core, slots, ways = posed(part, way_up, turn)
    return _Look(cover, core, frozenset(slots), frozenset(ways))


def _in_mirror(look: _Look) -> _Look:
    right = bounds(look.cover).x1
    return _Look(
        cover=_swapped(look.cover, right),
        core=_swapped(look.core, right),
        slots=frozenset(_swapped_slot(slot, right) for slot in look.slots),
        ways=frozenset(_SWAP.get(way, way) for way in look.ways),
    )


def _swapped(solid: Solid, right: int) -> Solid:
    return tuple(c._replace(x0=right - c.x1, x1=right - c.x0) for c in solid)


def _swapped_slot(slot: Slot, right: int) -> Slot:
    x, y, z = slot.at_um
    normal = _SIDE_BY_SIDE.get(slot.normal, slot.normal)
    return Slot(at_um=(right - x, y, z), normal=normal, kind=slot.kind)


def _equal(a: _Look, b: _Look) -> bool:
    """Whether two looks are the same, however their solids are cut into cuboids."""
    if a.slots != b.slots or a.ways != b.ways:
        return False
    return all(
        bounds(one) == bounds(two) and contains(one, two) and contains(two, one)
        for one, two in ((a.cover, b.cover), (a.core, b.core))
    )
