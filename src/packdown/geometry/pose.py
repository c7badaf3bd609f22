"""The 24 turns that keep axes parallel: which side is down, then a turn about the vertical."""

from collections.abc import Iterable
from enum import StrEnum
from functools import cache

from packdown.geometry.cuboid import Cuboid, Solid, bounds, translate

__all__ = [
    "ON_SIDE",
    "TURNS",
    "Direction",
    "Vector",
    "WayUp",
    "direction_of",
    "rotate_cuboid",
    "rotate_vector",
    "rotated",
    "ways_in_frame",
]

Vector = tuple[int, int, int]
TURNS = (0, 90, 180, 270)


class WayUp(StrEnum):
    """Which side of a thing is down: its base, its top, or one of its four sides."""

    UPRIGHT = "upright"
    UPSIDE_DOWN = "upside-down"
    ON_LEFT = "on-left"
    ON_RIGHT = "on-right"
    ON_FRONT = "on-front"
    ON_BACK = "on-back"


ON_SIDE = (WayUp.ON_LEFT, WayUp.ON_RIGHT, WayUp.ON_FRONT, WayUp.ON_BACK)


class Direction(StrEnum):
    """A direction on the table: x runs left to right, y front to back, z upwards."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"
    DOWN = "down"
    UP = "up"

    @property
    def vector(self) -> Vector:
        """Unit vector of the direction."""
        return _VECTORS[self]

    @property
    def axis(self) -> int:
        """0 for x, 1 for y, 2 for z."""
        return next(axis for axis, part in enumerate(self.vector) if part)

    @property
    def opposite(self) -> "Direction":
        """The direction that points the other way."""
        x, y, z = self.vector
        return direction_of((-x, -y, -z))


_VECTORS = {
    Direction.LEFT: (-1, 0, 0),
    Direction.RIGHT: (1, 0, 0),
    Direction.FRONT: (0, -1, 0),
    Direction.BACK: (0, 1, 0),
    Direction.DOWN: (0, 0, -1),
    Direction.UP: (0, 0, 1),
}


def direction_of(vector: Vector) -> Direction:
    """Return the direction of a unit vector."""
    return next(direction for direction, unit in _VECTORS.items() if unit == vector)


# Each row gives, for x, y and z after tipping, the source axis and its sign.
_TIPS: dict[WayUp, tuple[tuple[int, int], ...]] = {
    WayUp.UPRIGHT: ((0, 1), (1, 1), (2, 1)),
    WayUp.UPSIDE_DOWN: ((0, 1), (1, -1), (2, -1)),
    WayUp.ON_LEFT: ((2, -1), (1, 1), (0, 1)),
    WayUp.ON_RIGHT: ((2, 1), (1, 1), (0, -1)),
    WayUp.ON_FRONT: ((0, 1), (2, -1), (1, 1)),
    WayUp.ON_BACK: ((0, 1), (2, 1), (1, -1)),
}


@cache
def _rows(way_up: WayUp, turn: int) -> tuple[tuple[int, int], ...]:
    if turn not in TURNS:
        raise ValueError(f"turn must be one of {TURNS}, not {turn}")
    x, y, z = _TIPS[way_up]
    for _ in range(turn // 90):
        x, y = (y[0], -y[1]), x
    return (x, y, z)


def rotate_vector(vector: Vector, way_up: WayUp, turn: int) -> Vector:
    """Turn a vector or a point about the origin.

    Parameters
    ----------
    vector
        Point or direction, in any unit.
    way_up
        The side that ends up below.
    turn
        Degrees anticlockwise as seen from above, after tipping: 0, 90, 180 or 270.
    """
    (a, sa), (b, sb), (c, sc) = _rows(way_up, turn)
    return (sa * vector[a], sb * vector[b], sc * vector[c])


def rotate_cuboid(cuboid: Cuboid, way_up: WayUp, turn: int) -> Cuboid:
    """Turn a cuboid about the origin."""
    x0, y0, z0 = rotate_vector(cuboid[:3], way_up, turn)
    x1, y1, z1 = rotate_vector(cuboid[3:], way_up, turn)
    return Cuboid(min(x0, x1), min(y0, y1), min(z0, z1), max(x0, x1), max(y0, y1), max(z0, z1))


def rotated(
    solid: Iterable[Cuboid], way_up: WayUp, turn: int, at: Vector = (0, 0, 0)
) -> tuple[Solid, Vector]:
    """Turn a solid, then put the lower corner of its bounding box at a place.

    Returns
    -------
    solid
        The cuboids in the order they were given.
    shift
        What to add to a turned point of the old frame to get it in the new one.
    """
    turned = [rotate_cuboid(cuboid, way_up, turn) for cuboid in solid]
    low = bounds(turned)
    shift = (at[0] - low.x0, at[1] - low.y0, at[2] - low.z0)
    return translate(turned, *shift), shift


def ways_in_frame(ways: Iterable[WayUp], way_up: WayUp, turn: int) -> tuple[WayUp, ...]:
    """Say how a thing may lie in the frame into which it was turned.

    Parameters
    ----------
    ways
        How it may lie, said in its own frame.
    way_up, turn
        How it was turned into the new frame.

    Returns
    -------
    tuple of WayUp
        The ways up of the new frame that put one of the allowed sides down.
    """
    allowed = {rotate_vector(_DOWN_SIDES[way], way_up, turn) for way in ways}
    return tuple(way for way in WayUp if _DOWN_SIDES[way] in allowed)


_DOWN_SIDES: dict[WayUp, Vector] = {
    WayUp.UPRIGHT: (0, 0, -1),
    WayUp.UPSIDE_DOWN: (0, 0, 1),
    WayUp.ON_LEFT: (-1, 0, 0),
    WayUp.ON_RIGHT: (1, 0, 0),
    WayUp.ON_FRONT: (0, -1, 0),
    WayUp.ON_BACK: (0, 1, 0),
}
