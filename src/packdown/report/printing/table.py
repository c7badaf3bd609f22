"""The table of a packing list: as large as fits, in up to three columns, on one page always."""

from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from packdown.report.printing.canvas import Box, Canvas
from packdown.report.printing.contents import Group, Row
from packdown.report.printing.drawing import draw_frame
from packdown.report.printing.fitting import MM_BY_POINT, Fitted, fit, line_height, sizes
from packdown.report.step_words import runs
from packdown.report.words import counted
from packdown.units import format_weight

__all__ = ["draw_table"]

GUTTER = 5.0
"""Between two columns, in millimetres."""
COUNT, LAYERS, WEIGHT = 2.2, 6.5, 4.0
"""Width of the cells for count, layers and weight, in font sizes."""
INDENT = COUNT + 1.5
"""From the left edge to the name, in font sizes."""


class Style(NamedTuple):
    """How a table is set: columns, font size in points, and lines of detail below a row."""

    columns: int
    points: float
    details: int

    @property
    def line(self) -> float:
        """Height of a row without details, in millimetres."""
        return 1.15 * line_height(self.points)

    @property
    def em(self) -> float:
        """Size of the font, in millimetres."""
        return self.points * MM_BY_POINT

    @property
    def small(self) -> float:
        """Size of the details, in points."""
        return max(5.0, self.points - 1.5)


STYLES = (
    Style(1, 10, 3), Style(1, 9, 2), Style(1, 8, 2), Style(2, 8, 2), Style(2, 7, 1),
    Style(3, 7, 1), Style(3, 6, 0), Style(3, 5, 0),
)  # fmt: skip
"""From the most comfortable to the tightest."""


class Line(NamedTuple):
    """One line of the table: a heading, a row of its group, or a note on what had no room."""

    heading: str = ""
    row: Row | None = None
    note: str = ""


def draw_table(page: Canvas, groups: Sequence[Group], box: Box) -> None:
    """Draw the contents of a container into a box.

    The most comfortable style is taken in which all rows fit. Where none has room, the last line
    says how many kinds and items are not listed.

    Parameters
    ----------
    page
        The page.
    groups
        The contents.
    box
        Where.
    """
    lines = [
        line
        for group in groups
        for line in (
            Line(heading=f"{group.title} ({group.count})"),
            *(Line(row=row) for row in group.rows),
        )
    ]
    for style in STYLES:
        heights = [_height(page, line, style, box) for line in lines]
        places = list(_flow(heights, style, box))
        if len(places) == len(lines):
            break
    else:
        lines = _shortened(lines, len(places))
    for line, place in zip(lines, places, strict=True):
        _draw_line(page, line, style, place)


def _shortened(lines: list[Line], room: int) -> list[Line]:
    """Return as many lines as there is room for, the last one telling what is left out."""
    left = [line.row for line in lines[max(0, room - 1) :] if line.row]
    told = f"and {counted(len(left), 'more kind')}, {counted(sum(r.count for r in left), 'item')}"
    return [*lines[: max(0, room - 1)], Line(note=f"{told}: see the pack book")][:room]


def _column_width(style: Style, box: Box) -> float:
    return (box.width - (style.columns - 1) * GUTTER) / style.columns


def _flow(heights: Sequence[float], style: Style, box: Box) -> Iterator[Box]:
    """Yield a place for each line, column after column, while there is room."""
    width = _column_width(style, box)
    column, top = 0, 0.0
    for height in heights:
        if top + height > box.height + 1e-6:
            column, top = column + 1, 0.0
        if column == style.columns or height > box.height:
            return
        yield Box(box.x + column * (width + GUTTER), box.y + top, width, height)
        top += height


def _height(page: Canvas, line: Line, style: Style, box: Box) -> float:
    if line.row is None:
        return 1.4 * style.line if line.heading else style.line
    detail = _detail(page, line.row, style, _column_width(style, box)).height
    return style.line + detail + (0.3 * style.em if detail else 0)


def _detail(page: Canvas, row: Row, style: Style, width: float) -> Fitted:
    """Fit the pieces within an item below its name."""
    room = (width - INDENT * style.em, style.details * line_height(style.small) + 0.01)
    measure = page.measure(bold=False)
    return fit(page.sayable(row.detail), measure, room, (style.small,), style.details)


def _draw_line(page: Canvas, line: Line, style: Style, box: Box) -> None:
    em = style.em
    right = box.x + box.width - WEIGHT * em
    layers = Box(right - LAYERS * em, box.y, (LAYERS - 0.5) * em, style.line)
    weight = Box(right, box.y, WEIGHT * em, style.line)
    if line.row is not None:
        _draw_row(page, line.row, style, (box, layers, weight))
    elif line.heading:
        _draw_heading(page, line.heading, style, (box, layers, weight))
    else:
        page.put(box, line.note, sizes(style.points, 4), 1, bold=True)


def _draw_row(page: Canvas, row: Row, style: Style, places: tuple[Box, Box, Box]) -> None:
    """Draw a box to tick, count, name, layers and weight, and the details below."""
    box, layers, weight = places
    em = style.em
    tick = 0.85 * em
    draw_frame(page, Box(box.x + 0.2, box.y + 0.2 * em, tick, tick), 0.2)
    points = (style.points, style.points - 0.5, style.points - 1)
    count = Box(box.x + tick, box.y, (COUNT + 0.1) * em, style.line)
    _write(page, count, str(row.count), points, "right")
    name = Box(box.x + INDENT * em, box.y, layers.x - box.x - (INDENT + 0.3) * em, style.line)
    _write(page, name, row.name, points, "left")
    told = runs(row.layers).replace(" to ", "\N{EN DASH}").replace(" and ", ", ")
    _write(page, layers, told, points, "right")
    _write(page, weight, format_weight(row.weight_g), points, "right")
    detail = _detail(page, row, style, box.width)
    page.write(name.below(style.line), detail)


def _draw_heading(page: Canvas, text: str, style: Style, places: tuple[Box, Box, Box]) -> None:
    """Draw a heading over the rows of its group, with a line below it."""
    whole, layers, weight = places
    drop = whole.height - style.line
    points = (style.points, style.points - 1, style.points - 2)
    title = whole.below(drop)._replace(width=layers.x - whole.x)
    page.put(title, text, points, 1, bold=True)
    for place, word in ((layers, "layers"), (weight, "weight")):
        _write(page, place._replace(y=place.y + drop), word, (style.small,), "right")
    foot = whole.y + whole.height - 0.3
    page.line(((whole.x, foot), (whole.x + whole.width, foot)), 0.2)


def _write(
    page: Canvas, box: Box, text: str, points: Sequence[float], align: Literal["left", "right"]
) -> None:
    """Write one line of a cell."""
    told = page.sayable(text)
    fitted = fit(told, page.measure(bold=False), (box.width, box.height), points, 1)
    page.write(box, fitted, align=align)
