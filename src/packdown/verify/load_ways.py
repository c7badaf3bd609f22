"""How containers get into a load space, in which order, and what holds them there."""

from collections.abc import Iterator
from itertools import pairwise

from packdown.geometry import Cuboid, Vector, bounds
from packdown.model import OpeningSide
from packdown.units import format_length
from packdown.verify.load_lookup import LoadLookup, Stowed
from packdown.verify.report import Broken

__all__ = ["first_needed_is_loaded_last", "ways_in_are_free", "weights_have_a_centre"]


def first_needed_is_loaded_last(lookup: LoadLookup) -> Broken:
    """Yield containers that are loaded before others that are needed later."""
    for before, after in pairwise(lookup.stowed):
        if _rank(before) < _rank(after):
            yield (
                f"{before.name}, {after.name}",
                f"{before.name} is needed first and yet loaded first",
            )


def _rank(one: Stowed) -> float:
    return float("inf") if one.cargo.needed is None else one.cargo.needed


def weights_have_a_centre(lookup: LoadLookup) -> Broken:
    """Yield centres of gravity outside of their container."""
    for one in lookup.loading.cargo:
        if any(not 0 <= c <= s for c, s in zip(one.centre_um, one.size_um, strict=True)):
            yield one.id, "its centre of gravity is not inside it"


def ways_in_are_free(lookup: LoadLookup) -> Broken:
    """Yield containers that cannot get to their place past what was loaded before."""
    for number, one in enumerate(lookup.stowed):
        for problem in _way(lookup, one, lookup.stowed[:number]):
            yield one.name, problem


def _way(lookup: LoadLookup, one: Stowed, before: tuple[Stowed, ...]) -> Iterator[str]:
    path, size = one.place.path_um, one.box.size
    if len(path) < 2 or path[-1] != one.place.at_um:
        yield "its way in does not lead to its place"
        return
    for a, b in pairwise(path):
        if sum(p != q for p, q in zip(a, b, strict=True)) != 1:
            yield "its way in has a step that is not along one axis"
            return
    yield from _door(lookup, path, size)
    for a, b in pairwise(path):
        swept = bounds((_at(a, size), _at(b, size)))
        for cut in lookup.loading.space.blocked_um:
            if swept.overlaps(cut):
                yield "meets what is taken away from the inside on its way"
                return
        for other in before:
            if swept.overlaps(other.box) and not (lookup.sinks(one, other) and b == path[-1]):
                yield f"meets {other.name} on its way"
                return


def _at(corner: Vector, size: Vector) -> Cuboid:
    x, y, z = corner
    return Cuboid(x, y, z, x + size[0], y + size[1], z + size[2])


def _door(lookup: LoadLookup, path: tuple[Vector, ...], size: Vector) -> Iterator[str]:
    """Yield what is wrong with the step through the opening, and with those inside."""
    space = lookup.loading.space
    side = space.opening.side
    first = _at(path[0], size)
    outside = {
        OpeningSide.BACK: first.y1 <= 0,
        OpeningSide.LEFT: first.x1 <= 0,
        OpeningSide.RIGHT: first.x0 >= space.size_um[0],
        OpeningSide.TOP: first.z0 >= space.size_um[2],
    }
    if not outside[side]:
        yield "its way in does not begin outside of the opening"
    across = [axis for axis in range(3) if axis != side.axis]
    for axis, low, extent in zip(across, space.opening.low_um, space.opening.size_um, strict=True):
        over = max(low - first[axis], first[axis + 3] - low - extent)
        if over > 0:
            yield f"is {format_length(over)} too large for the opening, or beside it"
    if path[0][side.axis] == path[1][side.axis]:
        yield "its first step does not lead through the opening"
    for corner in path[1:]:
        box = _at(corner, size)
        if min(box[:3]) < 0 or any(h > s for h, s in zip(box[3:], space.size_um, strict=True)):
            yield "its way in leads through a wall"
            return
