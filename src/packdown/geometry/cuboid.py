"""Axis-parallel cuboids and their unions, in whole micrometres.

A *solid* is a tuple of cuboids that share no volume. Functions here are pure and exact.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import isqrt
from typing import NamedTuple

__all__ = [
    "Cuboid",
    "Solid",
    "bounds",
    "contains",
    "cover_disc",
    "cover_triangle",
    "difference",
    "disjoint_union",
    "footprint_overlap",
    "overlap",
    "size",
    "translate",
    "volume",
]


class Cuboid(NamedTuple):
    """An axis-parallel box from its lower corner to its upper corner."""

    x0: int
    y0: int
    z0: int
    x1: int
    y1: int
    z1: int

    @property
    def volume(self) -> int:
        """Volume in cubic micrometres."""
        return (self.x1 - self.x0) * (self.y1 - self.y0) * (self.z1 - self.z0)

    @property
    def size(self) -> tuple[int, int, int]:
        """Extent along x, y and z."""
        return (self.x1 - self.x0, self.y1 - self.y0, self.z1 - self.z0)

    def moved(self, dx: int, dy: int, dz: int) -> "Cuboid":
        """Return the cuboid shifted by a vector."""
        x0, y0, z0, x1, y1, z1 = self
        return Cuboid(x0 + dx, y0 + dy, z0 + dz, x1 + dx, y1 + dy, z1 + dz)

    def overlaps(self, other: "Cuboid") -> bool:
        """Whether the two share volume; touching faces do not count."""
        return (
            self.x0 < other.x1
            and other.x0 < self.x1
            and self.y0 < other.y1
            and other.y0 < self.y1
            and self.z0 < other.z1
            and other.z0 < self.z1
        )


Solid = tuple[Cuboid, ...]


def volume(solid: Iterable[Cuboid]) -> int:
    """Volume of a solid in cubic micrometres."""
    return sum(cuboid.volume for cuboid in solid)


def bounds(solid: Iterable[Cuboid]) -> Cuboid:
    """Return the smallest cuboid that contains the solid.

    Raises
    ------
    ValueError
        If the solid is empty.
    """
    x0, y0, z0, x1, y1, z1 = zip(*solid, strict=True)
    return Cuboid(min(x0), min(y0), min(z0), max(x1), max(y1), max(z1))


def size(solid: Iterable[Cuboid]) -> tuple[int, int, int]:
    """Extent of a solid along x, y and z."""
    return bounds(solid).size


def translate(solid: Iterable[Cuboid], dx: int, dy: int, dz: int) -> Solid:
    """Return the solid shifted by a vector."""
    return tuple(cuboid.moved(dx, dy, dz) for cuboid in solid)


def overlap(a: Iterable[Cuboid], b: Sequence[Cuboid]) -> bool:
    """Whether two solids share volume."""
    return any(one.overlaps(two) for one in a for two in b)


def footprint_overlap(a: Cuboid, b: Cuboid) -> int:
    """Area shared by two cuboids as seen from above, in square micrometres."""
    dx = min(a.x1, b.x1) - max(a.x0, b.x0)
    dy = min(a.y1, b.y1) - max(a.y0, b.y0)
    return dx * dy if dx > 0 and dy > 0 else 0


def _subtract(whole: Cuboid, hole: Cuboid) -> list[Cuboid]:
    """Return what is left of `whole` without `hole`, as at most six disjoint cuboids."""
    if not whole.overlaps(hole):
        return [whole]
    low, high = list(whole[:3]), list(whole[3:])
    rest = []
    for axis in (2, 1, 0):
        if low[axis] < hole[axis]:
            end = high.copy()
            end[axis] = hole[axis]
            rest.append(Cuboid(*low, *end))
            low[axis] = hole[axis]
        if hole[axis + 3] < high[axis]:
            start = low.copy()
            start[axis] = hole[axis + 3]
            rest.append(Cuboid(*start, *high))
            high[axis] = hole[axis + 3]
    return rest


def difference(solid: Iterable[Cuboid], holes: Iterable[Cuboid]) -> Solid:
    """Return what is left of a solid of disjoint cuboids without the holes."""
    rest = list(solid)
    for hole in holes:
        rest = [piece for cuboid in rest for piece in _subtract(cuboid, hole)]
    return disjoint_union(rest)


def contains(outer: Iterable[Cuboid], inner: Iterable[Cuboid]) -> bool:
    """Whether every point of `inner` lies in `outer`; `outer` may overlap itself."""
    rest = list(inner)
    for hole in outer:
        rest = [piece for cuboid in rest for piece in _subtract(cuboid, hole)]
    return not rest


def _merge_along(cuboids: list[Cuboid], axis: int) -> list[Cuboid]:
    """Join cuboids that meet face to face along one axis and agree on the other two."""
    others = [a for a in range(3) if a != axis]

    def key(c: Cuboid) -> tuple[int, ...]:
        return (*(c[a] for a in others), *(c[a + 3] for a in others), c[axis])

    merged: list[Cuboid] = []
    for cuboid in sorted(cuboids, key=key):
        last = merged[-1] if merged else None
        if last and key(last)[:4] == key(cuboid)[:4] and last[axis + 3] == cuboid[axis]:
            ends = list(last)
            ends[axis + 3] = cuboid[axis + 3]
            merged[-1] = Cuboid(*ends)
        else:
            merged.append(cuboid)
    return merged


def disjoint_union(cuboids: Iterable[Cuboid]) -> Solid:
    """Return the union as few disjoint cuboids, largest first where that is decided.

    Cuboids may overlap or touch. The result is the same for any order of the input.

    Raises
    ------
    ValueError
        If a cuboid has no volume.
    """
    todo = sorted(set(cuboids), key=lambda c: (-c.volume, c))
    kept: list[Cuboid] = []
    for cuboid in todo:
        if min(cuboid.size) <= 0:
            raise ValueError(f"a cuboid needs a positive size on every axis, not {cuboid.size}")
        rest = [cuboid]
        for other in kept:
            rest = [piece for part in rest for piece in _subtract(part, other)]
        kept.extend(rest)
    before = len(kept) + 1
    while len(kept) < before:
        before = len(kept)
        for axis in range(3):
            kept = _merge_along(kept, axis)
    return tuple(sorted(kept))


def cover_triangle(length: int, width: int, height: int, step: int) -> tuple[Solid, Solid]:
    """Cover a right triangle in plan, the right angle at the origin, by steps.

    Parameters
    ----------
    length, width
        Legs along x and y, in micrometres.
    height
        Height of the prism, in micrometres.
    step
        Widest step along x, in micrometres.

    Returns
    -------
    cover, core
        A solid that contains the prism, and one that lies inside it.
    """
    count = max(1, -(-length // step))
    edges = [length * k // count for k in range(count + 1)]
    cover, core = [], []
    for x0, x1 in pairwise(edges):
        outer = -(-width * (length - x0) // length)
        inner = width * (length - x1) // length
        cover.append(Cuboid(x0, 0, 0, x1, outer, height))
        if inner > 0:
            core.append(Cuboid(x0, 0, 0, x1, inner, height))
    return disjoint_union(cover), disjoint_union(core)


def cover_disc(diameter: int, height: int, step: int) -> tuple[Solid, Solid]:
    """Cover an upright cylinder, which touches x = 0 and y = 0, by steps.

    Parameters
    ----------
    diameter, height
        Size of the cylinder, in micrometres.
    step
        Widest step along x, in micrometres; at most half of the diameter.

    Returns
    -------
    cover, core
        A solid that contains the cylinder, and one that lies inside it.
    """
    count = -(-diameter // step)
    edges = [diameter * k // count for k in range(count + 1)]
    cover, core = [], []
    for x0, x1 in pairwise(edges):
        near = 0 if 2 * x0 <= diameter <= 2 * x1 else min(abs(2 * x - diameter) for x in (x0, x1))
        far = max(abs(2 * x - diameter) for x in (x0, x1))
        widest, narrowest = diameter**2 - near**2, diameter**2 - far**2
        chord = isqrt(widest) + (isqrt(widest) ** 2 < widest)
        low = (diameter - chord) // 2
        cover.append(Cuboid(x0, low, 0, x1, diameter - low, height))
        low = -((isqrt(narrowest) - diameter) // 2)
        if low < diameter - low:
            core.append(Cuboid(x0, low, 0, x1, diameter - low, height))
    return disjoint_union(cover), disjoint_union(core)
