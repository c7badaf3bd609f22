"""Where solids touch, how far one falls, and whether one can move past another."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import NamedTuple

from packdown.geometry.cuboid import Cuboid, bounds
from packdown.geometry.pose import Direction

__all__ = [
    "Rect",
    "blocks",
    "convex_hull",
    "drop_height",
    "face_contact",
    "inside_hull",
    "lowest_faces",
    "meeting_face",
    "rests_on",
]

Point = tuple[int, int]
Place = tuple[float | Fraction, float | Fraction]


class Rect(NamedTuple):
    """A rectangle in plan, in micrometres."""

    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def area(self) -> int:
        """Area in square micrometres."""
        return (self.x1 - self.x0) * (self.y1 - self.y0)

    def meet(self, other: "Rect") -> "Rect | None":
        """Return the shared rectangle, or None where they share no area."""
        x0, y0 = max(self.x0, other.x0), max(self.y0, other.y0)
        x1, y1 = min(self.x1, other.x1), min(self.y1, other.y1)
        return Rect(x0, y0, x1, y1) if x0 < x1 and y0 < y1 else None


def plan_of(cuboid: Cuboid) -> Rect:
    """Return the footprint of a cuboid."""
    return Rect(cuboid.x0, cuboid.y0, cuboid.x1, cuboid.y1)


def lowest_faces(solid: Sequence[Cuboid]) -> tuple[Rect, ...]:
    """Return the undersides at the lowest height of a solid of disjoint cuboids."""
    low = bounds(solid).z0
    return tuple(plan_of(cuboid) for cuboid in solid if cuboid.z0 == low)


def rests_on(upper: Iterable[Cuboid], lower: Sequence[Cuboid], gap: int = 0) -> tuple[Rect, ...]:
    """Return the rectangles in which `upper` lies on top of `lower`.

    Parameters
    ----------
    upper, lower
        Solids of disjoint cuboids.
    gap
        Thickness of the sheet between them, in micrometres.
    """
    return tuple(
        shared
        for over in upper
        for under in lower
        if over.z0 == under.z1 + gap and (shared := plan_of(over).meet(plan_of(under)))
    )


def face_contact(a: Iterable[Cuboid], b: Sequence[Cuboid]) -> dict[Direction, int]:
    """Return the area in which `b` touches `a`, by the side of `a` it touches.

    Areas are in square micrometres; sides that are not touched are left out.
    """
    found: dict[Direction, int] = {}
    sides = (
        (Direction.LEFT, Direction.RIGHT),
        (Direction.FRONT, Direction.BACK),
        (Direction.DOWN, Direction.UP),
    )
    for one in a:
        for two in b:
            for axis, (low, high) in enumerate(sides):
                if one[axis] != two[axis + 3] and one[axis + 3] != two[axis]:
                    continue
                area = 1
                for other in {0, 1, 2} - {axis}:
                    area *= max(
                        0, min(one[other + 3], two[other + 3]) - max(one[other], two[other])
                    )
                if area:
                    side = high if one[axis + 3] == two[axis] else low
                    found[side] = found.get(side, 0) + area
    return found


def meeting_face(a: Sequence[Cuboid], b: Sequence[Cuboid], axis: int) -> Cuboid:
    """Return where two solids touch across an axis: the bounding box of all their contacts.

    Where slanted sides meet inside the steps of their covers, and so nothing touches, it is what
    the bounding boxes of both share, flat in its middle.
    """
    others = [other for other in range(3) if other != axis]
    found = []
    for one in a:
        for two in b:
            low = [max(one[k], two[k]) for k in range(3)]
            high = [min(one[k + 3], two[k + 3]) for k in range(3)]
            if low[axis] == high[axis] and all(low[k] < high[k] for k in others):
                found.append(Cuboid(*low, *high))
    if found:
        return bounds(found)
    one, two = bounds(a), bounds(b)
    ends = [sorted((max(one[k], two[k]), min(one[k + 3], two[k + 3]))) for k in range(3)]
    ends[axis] = [sum(ends[axis]) // 2] * 2
    return Cuboid(*(end[0] for end in ends), *(end[1] for end in ends))


def drop_height(
    solid: Sequence[Cuboid], below: Iterable[Cuboid], *, clearance: int = 0, gap: int = 0
) -> int:
    """Return the height of the frame's floor to which a solid can be lowered from far above.

    Parameters
    ----------
    solid
        The solid at its place in plan, with its lowest face at height 0.
    below
        All that already stands there.
    clearance
        Least distance kept to the sides of what stands there, in micrometres.
    gap
        Thickness of the sheet laid on what stands there, in micrometres.

    Returns
    -------
    int
        Height of the solid's lowest face at rest; 0 is the floor.
    """
    height = 0
    for obstacle in below:
        for cuboid in solid:
            if (
                cuboid.x0 < obstacle.x1 + clearance
                and obstacle.x0 < cuboid.x1 + clearance
                and cuboid.y0 < obstacle.y1 + clearance
                and obstacle.y0 < cuboid.y1 + clearance
            ):
                height = max(height, obstacle.z1 + gap - cuboid.z0)
    return height


def blocks(moving: Iterable[Cuboid], fixed: Sequence[Cuboid], direction: Direction) -> bool:
    """Whether `fixed` is in the way of `moving` on a straight path to infinity."""
    axis = direction.axis
    forward = sum(direction.vector) > 0
    others = [other for other in range(3) if other != axis]
    for one in moving:
        for two in fixed:
            ahead = two[axis + 3] > one[axis] if forward else two[axis] < one[axis + 3]
            if ahead and all(
                one[other] < two[other + 3] and two[other] < one[other + 3] for other in others
            ):
                return True
    return False


def convex_hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """Return the corners of the convex hull, anticlockwise, without points on its edges.

    References
    ----------
    Andrew, A. M. (1979), Information Processing Letters 9(5), 216-219.
    """
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)

    def chain(run: Iterable[Point]) -> list[Point]:
        hull: list[Point] = []
        for point in run:
            while len(hull) >= 2 and _cross(hull[-2], hull[-1], point) <= 0:
                hull.pop()
            hull.append(point)
        return hull[:-1]

    return tuple(chain(ordered) + chain(reversed(ordered)))


def _cross(origin: Point, a: Place, b: Place) -> float | Fraction:
    return (a[0] - origin[0]) * (b[1] - origin[1]) - (a[1] - origin[1]) * (b[0] - origin[0])


def inside_hull(point: Place, rects: Iterable[Rect], margin: int = 0) -> bool:
    """Whether a point lies in the convex hull of rectangles, its edge included.

    Parameters
    ----------
    point
        Place in plan, in micrometres; it need not be whole. Fractions are compared exactly.
    rects
        Rectangles in plan.
    margin
        Least distance from the edge of the hull, in micrometres.
    """
    hull = convex_hull(
        corner
        for rect in rects
        for corner in (
            (rect.x0, rect.y0),
            (rect.x1, rect.y0),
            (rect.x0, rect.y1),
            (rect.x1, rect.y1),
        )
    )
    if len(hull) < 3:
        return False
    for start, end in zip(hull, hull[1:] + hull[:1], strict=True):
        length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
        if _cross(start, end, point) < margin * length:
            return False
    return True
