"""The windows of a build: what may share a sub-assembly, by size alone."""

from collections.abc import Sequence
from functools import cache, partial
from itertools import product

from packdown.geometry import WayUp
from packdown.teardown.graph import bits
from packdown.teardown.room import Room
from packdown.teardown.units import Units

__all__ = ["window_masks"]


def window_masks(units: Units, rooms: Sequence[Room]) -> dict[int, int]:
    """Return the largest connected sets of units that lie in one window, however it is turned.

    Returns
    -------
    dict
        For each set the payload of the room that takes it; of equal sets the largest.
    """
    found: dict[int, int] = {}
    slabs = cache(partial(_slabs, units))
    for room, way in product(rooms, WayUp):
        allowed = sum(1 << unit for unit, ways in enumerate(units.ways) if way in ways)
        for extent in _extents(room, way):
            along = (slabs(axis, length, allowed) for axis, length in enumerate(extent))
            for x, y, z in product(*along):
                for mask in units.connected(x & y & z, way):
                    found[mask] = max(found.get(mask, 0), room.payload_g)
    largest: dict[int, int] = {}
    for mask in sorted(found, key=lambda mask: (-mask.bit_count(), mask)):
        if not any(mask & o == mask and found[mask] <= load for o, load in largest.items()):
            largest[mask] = found[mask]
    return largest


def _extents(room: Room, way: WayUp) -> tuple[tuple[int, int, int], ...]:
    """Return the extents of a room in the frame of a build that lies in a way up."""
    a, b, c = room.size_um
    if way in {WayUp.UPRIGHT, WayUp.UPSIDE_DOWN}:
        return (a, b, c), (b, a, c)
    if way in {WayUp.ON_LEFT, WayUp.ON_RIGHT}:
        return (c, a, b), (c, b, a)
    return (a, c, b), (b, c, a)


def _slabs(units: Units, axis: int, length: int, allowed: int) -> set[int]:
    """Return what may share a sub-assembly of some length with units that begin it."""
    starts: dict[int, list[int]] = {}
    for unit in bits(allowed):
        starts.setdefault(units.boxes[unit][axis], []).append(unit)
    return {
        sum(
            1 << unit
            for unit in bits(allowed)
            if low <= units.boxes[unit][axis]
            and min(units.grown_end(first, unit, axis) for first in firsts) <= low + length
        )
        for low, firsts in starts.items()
    }
