"""Small pieces of SVG: whole drawing units, shared classes, relative paths."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

import numpy as np

from packdown.geometry import Cuboid
from packdown.report.labels import FONTS, Label
from packdown.report.projection import Camera

__all__ = [
    "WIDE",
    "Line",
    "Sheet",
    "Spot",
    "figure",
    "front",
    "outline",
    "path",
    "rectangle",
    "segments",
    "text",
]

WIDE = 1600
"""Width of every drawing in its own units; digits and lines have the same size on all."""
MARGIN = 24

Spot = tuple[int, int]
"""A point of a drawing, in its units."""
Line = tuple[Spot, Spot]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """How a stretch of a plane is laid onto a drawing.

    Parameters
    ----------
    left, top
        Corner of the plane that falls on the drawing's margin.
    scale
        Drawing units for one unit of the plane.
    height
        Height of the drawing in its own units.
    """

    left: float
    top: float
    scale: float
    height: int

    @classmethod
    def around(cls, points: Iterable[Sequence[float]], foot: int = 60) -> "Sheet":
        """Fit points into a drawing, as wide as it is and no higher than it is wide."""
        xs, ys = zip(*points, strict=True)
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        scale = min((WIDE - 2 * MARGIN) / wide, (WIDE - 2 * MARGIN - foot) / high)
        slack = ((WIDE - 2 * MARGIN) / scale - wide) / 2
        return cls(
            left=min(xs) - slack,
            top=min(ys),
            scale=scale,
            height=round(high * scale) + 2 * MARGIN + foot,
        )

    def at(self, point: Sequence[float]) -> tuple[int, int]:
        """Return where a point of the plane falls."""
        return (
            round((point[0] - self.left) * self.scale) + MARGIN,
            round((point[1] - self.top) * self.scale) + MARGIN,
        )

    def spots(self, points: np.ndarray) -> list[Spot]:
        """Return where many points of the plane fall; shape (n, 2)."""
        laid = (points - (self.left, self.top)) * self.scale
        return [(x, y) for x, y in (np.rint(laid).astype(np.int64) + MARGIN).tolist()]


def _relative(points: Sequence[tuple[int, int]]) -> str:
    steps = (f"{b[0] - a[0]} {b[1] - a[1]}" for a, b in pairwise(points) if a != b)
    return " ".join(steps).replace(" -", "-")


def outline(points: Sequence[tuple[int, int]]) -> str:
    """Return the path data of a closed line."""
    return f"M{points[0][0]} {points[0][1]}l{_relative(points)}z"


def rectangle(a: tuple[int, int], b: tuple[int, int]) -> str:
    """Return the path data of a rectangle between two corners."""
    return f"M{a[0]} {a[1]}H{b[0]}V{b[1]}H{a[0]}z"


def segments(lines: Iterable[tuple[tuple[int, int], tuple[int, int]]]) -> str:
    """Return the path data of separate straight lines; those without length are left out."""
    return "".join(
        f"M{a[0]} {a[1]}l{b[0] - a[0]} {b[1] - a[1]}".replace(" -", "-") for a, b in lines if a != b
    )


def path(look: str, data: str) -> str:
    """Return a path of a shared class, or nothing where there is no data."""
    return f'<path class="{look}" d="{data}"/>' if data else ""


def text(label: Label, words: str, look: str = "") -> str:
    """Return a text around the middle of a label."""
    size = f"n{label.font}" + (f" {look}" if look else "")
    y = label.y + round(FONTS[label.font] * 0.36)
    return f'<text class="{size}" x="{label.x}" y="{y}">{escape(words)}</text>'


def figure(title: str, height: int, body: str) -> str:
    """Return a whole drawing that says to screen readers what it shows."""
    return (
        f'<svg role="img" viewBox="0 0 {WIDE} {height}"><title>{escape(title)}</title>{body}</svg>'
    )


def front(box: Cuboid, camera: Camera, sheet: Sheet) -> str:
    """Write where the front of a box is, below the middle of its lower edge, if that is seen.

    Where nothing stands near that edge it may fall outside the drawing; the word stays inside.
    """
    if camera.eye[1] > box.y0:
        return ""
    middle = ((box.x0 + box.x1) // 2, box.y0, box.z0)
    ((x, y),) = sheet.spots(camera.project([middle]))
    inside = min(max(x, 3 * MARGIN), WIDE - 3 * MARGIN), min(y + 44, sheet.height - MARGIN)
    return text(Label(*inside, 2), "front", "cap")
