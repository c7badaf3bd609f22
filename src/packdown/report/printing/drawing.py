"""Handling marks, codes and tick boxes on a page."""

from collections.abc import Sequence

import segno

from packdown.report.printing.canvas import Box, Canvas, Point
from packdown.report.printing.fitting import fit, sizes
from packdown.report.printing.marks import Mark
from packdown.report.printing.shapes import GRID, SHAPES, Area, Stroke

__all__ = [
    "CODE_MODULES",
    "GAP",
    "draw_code",
    "draw_frame",
    "draw_mark",
    "draw_marks",
    "marks_height",
    "ring",
]

QUIET = 4
"""Empty modules around a code (ISO/IEC 18004)."""
CODE_MODULES = 21 + 2 * QUIET
"""Modules along a side of a code of version 1 with its quiet zone."""
GAP = 1.0
"""Between two marks, in millimetres."""
CAPTION = 4.4
"""Height of the captions of marks, in millimetres."""
CAPTIONED = 11.0
"""Marks of this side and more have captions."""
_FIGURE = tuple(range(40, 3, -1))
"""Sizes of the figure in a mark, in points."""


def draw_code(canvas: Canvas, corner: Point, module: float, text: str) -> None:
    """Draw a QR code of version 1 and error level Q.

    Parameters
    ----------
    canvas
        The page.
    corner
        Upper left corner of the quiet zone.
    module
        Side of one module in millimetres.
    text
        What it holds: at most 16 digits and capital letters.
    """
    code = segno.make(text, version=1, error="q", boost_error=False, micro=False)
    rings = []
    for row, modules in enumerate(code.matrix):
        top = corner[1] + (row + QUIET) * module
        start = 0
        for column in range(len(modules) + 1):
            if column < len(modules) and modules[column]:
                continue
            if column > start:
                left, right = (corner[0] + (x + QUIET) * module for x in (start, column))
                rings.append(ring(Box(left, top, right - left, module)))
            start = column + 1
    canvas.fill(rings)


def draw_mark(canvas: Canvas, corner: Point, side: float, mark: Mark) -> None:
    """Draw a handling mark into a square."""
    scale = side / GRID

    def at(point: Point) -> Point:
        return corner[0] + point[0] * scale, corner[1] + point[1] * scale

    for shape in SHAPES[mark.kind]:
        if isinstance(shape, Area):
            canvas.fill([[at(point) for point in shape.points]], white=shape.white)
        elif isinstance(shape, Stroke):
            line = [at(point) for point in shape.points]
            canvas.line(line, shape.width * scale, white=shape.white)
        else:
            left, top, width, height = shape.box
            box = Box(*at((left, top)), width * scale, height * scale)
            text = canvas.sayable(mark.figure)
            figure = fit(text, canvas.measure(bold=True), (box.width, box.height), _FIGURE, 1)
            slack = (box.height - figure.height) / 2
            canvas.write(box._replace(y=box.y + slack), figure, bold=True, align="middle")


def draw_marks(canvas: Canvas, corner: Point, side: float, marks: Sequence[Mark]) -> None:
    """Draw marks in a row, with captions below them where they are large enough for it."""
    left, top = corner
    for mark in marks:
        draw_mark(canvas, (left, top), side, mark)
        if side >= CAPTIONED:
            text = canvas.sayable(mark.caption)
            measure = canvas.measure(bold=False)
            fitted = fit(text, measure, (side, CAPTION), sizes(6.5, 4.5), 2)
            canvas.write(Box(left, top + side + 0.3, side, CAPTION), fitted, align="middle")
        left += side + GAP


def marks_height(side: float) -> float:
    """Return the height of a row of marks with its captions."""
    return side + (CAPTION if side >= CAPTIONED else 0.0)


def draw_frame(canvas: Canvas, box: Box, width: float) -> None:
    """Draw the edges of a rectangle with a line of some width."""
    corners = ring(box)
    canvas.line((*corners, corners[0]), width)


def ring(box: Box) -> tuple[Point, ...]:
    """Return the corners of a rectangle."""
    x, y, width, height = box
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
