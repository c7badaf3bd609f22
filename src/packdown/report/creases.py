"""The edges of a solid that show: where its surface bends, not where its cuboids merely meet."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise, product
from typing import NamedTuple

import numpy as np

from packdown.geometry import Cuboid, Direction, Solid, Vector, direction_of

__all__ = ["Crease", "creases", "touched"]


class Crease(NamedTuple):
    """A straight edge from one end to the other, and the two sides of its cuboid it bounds."""

    start: Vector
    end: Vector
    sides: frozenset[Direction]

    @property
    def axis(self) -> int:
        """The axis along which it runs."""
        return next(a for a in range(3) if self.start[a] != self.end[a])


@lru_cache(maxsize=8192)
def creases(solid: Solid) -> tuple[tuple[Crease, ...], ...]:
    """Return the creases of a solid of disjoint cuboids, by cuboid.

    An edge of a cuboid is no crease where the neighbouring cuboids continue one of its two
    faces in the same plane, or where they fill all that is around it.
    """
    return tuple(tuple(_of_cuboid(cuboid, solid)) for cuboid in solid)


def _of_cuboid(cuboid: Cuboid, solid: Solid) -> Iterable[Crease]:
    solid = tuple(other for other in solid if _near(cuboid, other))
    for along, high_a, high_b in product(range(3), (False, True), (False, True)):
        a, b = (axis for axis in range(3) if axis != along)
        at = {a: cuboid[a + 3 * high_a], b: cuboid[b + 3 * high_b]}
        sides = frozenset((_side(a, high=high_a), _side(b, high=high_b)))
        for start, end in _bent(cuboid, solid, along, ((a, high_a), (b, high_b))):
            yield Crease(_point(at, along, start), _point(at, along, end), sides)


def _near(one: Cuboid, other: Cuboid) -> bool:
    """Whether two cuboids touch or share volume."""
    return (
        one.x0 <= other.x1
        and other.x0 <= one.x1
        and one.y0 <= other.y1
        and other.y0 <= one.y1
        and one.z0 <= other.z1
        and other.z0 <= one.z1
    )


def _side(axis: int, *, high: bool) -> Direction:
    vector = [0, 0, 0]
    vector[axis] = 1 if high else -1
    return direction_of((vector[0], vector[1], vector[2]))


def _point(at: dict[int, int], along: int, value: int) -> Vector:
    full = {**at, along: value}
    return (full[0], full[1], full[2])


def _bent(
    cuboid: Cuboid, solid: Solid, along: int, ends: tuple[tuple[int, bool], tuple[int, bool]]
) -> Iterable[tuple[int, int]]:
    """Return the stretches of one edge along which the surface bends."""
    low, high = cuboid[along], cuboid[along + 3]
    quarters = [
        _covered(cuboid, solid, along, ends, beyond)
        for beyond in ((True, False), (False, True), (True, True))
    ]
    stops = {low, high}
    stops.update(s for spans in quarters for span in spans for s in span if low < s < high)
    for start, end in pairwise(sorted(stops)):
        over_a, over_b, across = (
            any(s <= start and end <= e for s, e in spans) for spans in quarters
        )
        flat = (over_a != over_b) and not across
        if not flat and not (over_a and over_b and across):
            yield (start, end)


def _covered(
    cuboid: Cuboid,
    solid: Solid,
    along: int,
    ends: tuple[tuple[int, bool], tuple[int, bool]],
    beyond: tuple[bool, bool],
) -> list[tuple[int, int]]:
    """Return where along an edge one of the quarters of space around it is filled."""
    spans = []
    for other in solid:
        for (axis, high), outside in zip(ends, beyond, strict=True):
            plane = cuboid[axis + 3 * high]
            if high == outside:
                inside = other[axis] <= plane < other[axis + 3]
            else:
                inside = other[axis] < plane <= other[axis + 3]
            if not inside:
                break
        else:
            spans.append((other[along], other[along + 3]))
    return spans


def touched(crease: Crease, others: np.ndarray) -> tuple[list[Crease], list[Crease]]:
    """Cut a crease into the stretches that none of some cuboids touches, and the rest.

    Parameters
    ----------
    crease
        The crease.
    others
        Cuboids, shape (n, 6).
    """
    if not len(others):
        return [crease], []
    along = crease.axis
    low, high = crease.start[along], crease.end[along]
    meets = (others[:, along] < high) & (others[:, along + 3] > low)
    for axis in {0, 1, 2} - {along}:
        meets &= (others[:, axis] <= crease.start[axis]) & (
            others[:, axis + 3] >= crease.start[axis]
        )
    spans = [(int(c[along]), int(c[along + 3])) for c in others[meets]]
    stops = {low, high}.union(s for span in spans for s in span if low < s < high)
    free: list[Crease] = []
    shared: list[Crease] = []
    for start, end in pairwise(sorted(stops)):
        is_shared = any(s <= start and end <= e for s, e in spans)
        (shared if is_shared else free).append(_part(crease, along, start, end))
    return free, shared


def _part(crease: Crease, along: int, start: int, end: int) -> Crease:
    at: dict[int, int] = dict(enumerate(crease.start))
    return Crease(_point(at, along, start), _point(at, along, end), crease.sides)


def as_array(cuboids: Sequence[Cuboid]) -> np.ndarray:
    """Return cuboids as an array of shape (n, 6)."""
    return np.asarray(cuboids, dtype=np.int64).reshape(-1, 6)
