"""Drawings of the handling marks: our own plain shapes, after ISO 780.

Each is drawn on a square of 100 units, y downwards, in black on white.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin

from packdown.report.printing.canvas import Point
from packdown.report.printing.marks import MarkKind

__all__ = ["GRID", "SHAPES", "Area", "Shape", "Stroke", "Words"]

GRID = 100


@dataclass(frozen=True, slots=True)
class Area:
    """A filled polygon."""

    points: tuple[Point, ...]
    white: bool = False


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line with round ends."""

    points: tuple[Point, ...]
    width: float
    white: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """Where the figure of a mark stands: left, top, width and height."""

    box: tuple[float, float, float, float]


Shape = Area | Stroke | Words


def _arc(
    centre: Point, radius: float, start: float, end: float, steps: int = 24
) -> tuple[Point, ...]:
    """Return points on an arc, from one angle to another in degrees, 0 to the right, 90 down."""
    angles = (start + (end - start) * step / steps for step in range(steps + 1))
    return tuple(
        (centre[0] + radius * cos(angle * pi / 180), centre[1] + radius * sin(angle * pi / 180))
        for angle in angles
    )


def _bar(left: float, top: float, right: float, bottom: float) -> Area:
    return Area(((left, top), (right, top), (right, bottom), (left, bottom)))


def _frame(left: float, top: float, right: float, bottom: float) -> Stroke:
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return Stroke(corners, 5)


def _arrow_up(x: float) -> Area:
    return Area(
        (
            (x, 4), (x + 18, 38), (x + 7, 38), (x + 7, 82), (x - 7, 82), (x - 7, 38), (x - 18, 38),
        )
    )  # fmt: skip


def _glass() -> Sequence[Shape]:
    """Return a stemmed glass with a crack in its bowl."""
    right = _arc((50, 28), 26, 0, 78, 12)
    left = tuple((100 - x, y) for x, y in reversed(right))
    bowl = ((24, 4), (76, 4), *right, (55, 84), (74, 96), (26, 96), (45, 84), *left)
    crack = ((56, 3), (47, 17), (57, 26), (46, 44))
    return (Area(bowl), Stroke(crack, 4.5, white=True))


def _umbrella() -> Sequence[Shape]:
    """Return an open umbrella, and rain beside it."""
    dome = _arc((50, 56), 44, 180, 360)
    hems = (
        point for middle in (79.3, 50.0, 20.7) for point in _arc((middle, 56), 14.7, 0, -180, 12)
    )
    drops = tuple(Stroke(((x, y), (x - 4, y + 9)), 4.5) for x, y in ((14, 7), (32, 3), (86, 7)))
    handle = ((50, 46), (50, 86), *_arc((41, 86), 9, 0, 180, 12))
    return (Area((*dome, *hems)), Stroke(((50, 5), (50, 14)), 5), Stroke(handle, 5), *drops)


def _quarters() -> Sequence[Shape]:
    """Return a circle with two black quarters on a cross."""
    centre = (50.0, 50.0)
    return (
        Area((centre, *_arc(centre, 30, 180, 270))),
        Area((centre, *_arc(centre, 30, 0, 90))),
        Stroke(_arc(centre, 30, 0, 360, 48), 5),
        Stroke(((50, 4), (50, 96)), 5),
        Stroke(((4, 50), (96, 50)), 5),
    )


def _pressed() -> Sequence[Shape]:
    """Return an arrow that presses a bar down; the figure stands below."""
    arrow = Area(((50, 50), (24, 25), (40, 25), (40, 3), (60, 3), (60, 25), (76, 25)))
    return (arrow, _bar(6, 54, 94, 63), Words((0, 65, 100, 35)))


def _piled() -> Sequence[Shape]:
    """Return a pile of boxes on a black one; the figure stands in the pile."""
    return (
        Stroke(((30, 22), (30, 5), (70, 5), (70, 22)), 5), _frame(18, 22, 82, 62),
        _bar(10, 66, 90, 97), Words((22, 25, 56, 34)),
    )  # fmt: skip


def _alone() -> Sequence[Shape]:
    """Return a box on a box, crossed out."""
    return (
        _frame(27, 8, 73, 46), _frame(27, 54, 73, 92),
        Stroke(((8, 8), (92, 92)), 9), Stroke(((92, 8), (8, 92)), 9),
    )  # fmt: skip


SHAPES: dict[MarkKind, tuple[Shape, ...]] = {
    MarkKind.THIS_WAY_UP: (_arrow_up(28), _arrow_up(72), _bar(6, 88, 94, 97)),
    MarkKind.FRAGILE: tuple(_glass()),
    MarkKind.KEEP_DRY: tuple(_umbrella()),
    MarkKind.CENTRE: tuple(_quarters()),
    MarkKind.STACK_MASS: tuple(_pressed()),
    MarkKind.STACK_NUMBER: tuple(_piled()),
    MarkKind.DO_NOT_STACK: tuple(_alone()),
}
"""What to draw for each mark."""
