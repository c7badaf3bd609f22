"""One label: name, code, contents, weight, cautions and handling marks in their places.

The code stands in the upper right corner, with the short id and the weight below it. The left
column has the name at its top, then cautions, then contents, and the marks at its foot.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from packdown.model import PackedContainer, short_id
from packdown.report import words
from packdown.report.cautions import cautions, short_cautions
from packdown.report.lookup import Lookup
from packdown.report.printing.canvas import Box, Canvas
from packdown.report.printing.drawing import (
    CODE_MODULES,
    GAP,
    draw_code,
    draw_marks,
    marks_height,
    ring,
)
from packdown.report.printing.fitting import Fitted, fit, line_height, sizes
from packdown.report.printing.marks import Mark, handling_marks
from packdown.units import format_weight

__all__ = ["LEAST_MODULE", "Label", "draw_label", "make_label"]

LEAST_MODULE, USUAL_MODULE, LARGE_MODULE = 0.5, 0.75, 1.0
"""Side of a module of the code in millimetres: at least, usually, and on labels above 100 mm."""
EDGE = 1.0
"""From the code's quiet zone to the edge of the label, in millimetres."""
BAR = 0.4
"""Between a caution and the edges of its black bar, in millimetres."""
OVERHANG = 0.5
"""Between the left column and the quiet zone, in millimetres: some accents lean out of a line."""
KINDS = (12, 9, 7, 5, 4, 3, 2, 1)
"""How many kinds of loose things to name: as many as fit."""
BOUND_TIMES = " x ".replace(" ", "\N{NO-BREAK SPACE}")
"""Keeps a number and what it counts on one line."""
LEAST_MARK = 5.5
"""Marks are no smaller: where not all fit on a label, the last ones are left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What one label says.

    Parameters
    ----------
    name, short_id, weight
        Of the container; the code holds the short id.
    cautions, caution_titles
        In a few words each; in fewer, for small labels.
    contents
        What is in it, the fullest wording first.
    marks
        Handling marks, most important first.
    """

    name: str
    short_id: str
    weight: str
    cautions: tuple[str, ...]
    caution_titles: tuple[str, ...]
    contents: tuple[str, ...]
    marks: tuple[Mark, ...]


def make_label(lookup: Lookup, container: PackedContainer) -> Label:
    """Put together what the label of a packed container says."""
    return Label(
        name=container.name,
        short_id=short_id(container.id),
        weight=format_weight(lookup.gross_g(container)),
        cautions=tuple(each[0].upper() + each[1:] for each in short_cautions(lookup, container)),
        caution_titles=tuple(each.title for each in cautions(lookup, [container])),
        contents=(
            *(words.holdings(lookup, container, kinds) for kinds in KINDS),
            words.gist(lookup, container),
        ),
        marks=handling_marks(lookup, container),
    )


def draw_label(canvas: Canvas, label: Label, box: Box) -> None:
    """Draw a label so that nothing leaves its box.

    Parameters
    ----------
    canvas
        The page.
    label
        What it says.
    box
        The edges of the label, at least 38 x 21 mm.
    """
    pad = 1.2 if box.height < 30 else 2.5
    module = _module(box)
    side = CODE_MODULES * module
    left = box.x + box.width - EDGE - side
    draw_code(canvas, (left, box.y + EDGE), module, label.short_id)
    under = box.y + EDGE + side
    figures = Box(left, under, side, box.y + box.height - pad - under)
    column = Box(box.x + pad, box.y + pad, left - box.x - pad - OVERHANG, box.height - 2 * pad)
    with_weight = _draw_figures(canvas, label, figures)
    rest = _draw_marks(canvas, label.marks, column)
    _draw_words(canvas, label, rest, box.height, "" if with_weight else label.weight)


def _module(box: Box) -> float:
    """Return the side of a module: large codes are read from further away."""
    most = LARGE_MODULE if box.height > 100 else USUAL_MODULE
    room = min(box.height - EDGE - 5, 0.3 * box.width)
    return max(LEAST_MODULE, min(most, room / CODE_MODULES))


def _draw_figures(canvas: Canvas, label: Label, box: Box) -> bool:
    """Write the short id below the code, and the weight if there is room; say whether it is."""
    has_room = box.height >= line_height(7) + line_height(8)
    ids = sizes(12 if has_room else 9, 5)
    bold = canvas.measure(bold=True)
    told = fit(label.short_id, bold, (box.width, box.height * (0.4 if has_room else 1)), ids, 1)
    canvas.write(box, told, bold=True, align="middle")
    if has_room:
        room = box.height - told.height
        weight = fit(label.weight, bold, (box.width, room), sizes(26, 6), 1)
        low = box._replace(y=box.y + box.height - weight.height)
        canvas.write(low, weight, bold=True, align="middle")
    return has_room


def _draw_marks(canvas: Canvas, marks: Sequence[Mark], column: Box) -> Box:
    """Draw a row of marks at the foot of a column; return what is left above it."""
    marks = marks[: int((column.width + GAP) / (LEAST_MARK + GAP))]
    most = (column.width + GAP) / len(marks) - GAP
    side = min(max(LEAST_MARK, 0.24 * column.height), 22.0, most)
    height = marks_height(side)
    draw_marks(canvas, (column.x, column.y + column.height - height), side, marks)
    return column.above(height + GAP)


def _draw_words(canvas: Canvas, label: Label, box: Box, height: float, weight: str) -> None:
    """Write name, weight, cautions and contents from the top of a box down."""
    bars = _fit_cautions(canvas, label, box, min(11.0, max(6.0, 0.16 * height)))
    below = sum(bar.height + 2 * BAR for bar in bars) + (line_height(7) + BAR if weight else 0)
    largest = min(34.0, max(8.0, 0.4 * height))
    room = box._replace(height=min(0.45 * box.height, box.height - below - BAR))
    points = sizes(largest, max(6.0, 0.45 * largest))
    name = canvas.put(room, label.name, points, 3 if height > 50 else 2, bold=True)
    box = box.below(name.height + BAR)
    if weight:
        told = canvas.put(box, weight, sizes(7, 6), 1, bold=True)
        box = box.below(told.height + BAR)
    for bar in bars:
        whole = box._replace(height=bar.height + 2 * BAR - 0.3)
        canvas.fill([ring(whole)])
        inner = Box(box.x + 2 * BAR, box.y + BAR - 0.15, box.width - 4 * BAR, bar.height)
        canvas.write(inner, bar, bold=True, white=True)
        box = box.below(bar.height + 2 * BAR)
    _draw_contents(canvas, label, box.below(0.3), height)


def _fit_cautions(canvas: Canvas, label: Label, box: Box, most: float) -> Sequence[Fitted]:
    """Fit the cautions, each into a bar of its own, or their titles into one on small labels."""
    measure = canvas.measure(bold=True)
    size = (box.width - 4 * BAR, 0.35 * box.height)
    bars = [fit(canvas.sayable(told), measure, size, sizes(most, 5), 2) for told in label.cautions]
    if all(bar.is_whole for bar in bars) and sum(bar.height for bar in bars) <= size[1]:
        return bars
    titles = canvas.sayable(" · ".join(label.caution_titles))
    return [fit(titles, measure, (size[0], box.height), sizes(min(most, 5.5), 5), 2)]


def _draw_contents(canvas: Canvas, label: Label, box: Box, height: float) -> None:
    """Write the fullest account of the contents that fits."""
    largest = min(14.0, max(6.0, 0.18 * height))
    points = sizes(largest, max(5.0, 0.6 * largest))
    measure = canvas.measure(bold=False)
    for text in label.contents:
        told = canvas.sayable(text).replace(" x ", BOUND_TIMES)
        fitted = fit(told, measure, (box.width, box.height), points)
        if fitted.is_whole:
            break
    canvas.write(box, fitted)
