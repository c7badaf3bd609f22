"""What stands in the cells of a row: words, boxes to tick, bars, swatches, pictures, stacks."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from packdown.report.printing.canvas import Box, Canvas
from packdown.report.printing.drawing import draw_frame, ring
from packdown.report.printing.fitting import MM_BY_POINT, Fitted, fit, line_height
from packdown.report.printing.picture import Picture, draw_picture, read_picture
from packdown.report.tones import swatch

__all__ = [
    "SMALL",
    "Bar",
    "Cell",
    "Find",
    "PageNumber",
    "Shown",
    "Stack",
    "Swatch",
    "Tick",
    "Words",
]

Find = Callable[[str], int | None]
"""Tells on which page a container (by its id) or a build begins, once that is known."""
SMALL = 7.5
"""Size of notes and captions, in points."""

ENDLESS = 100_000.0
"""Height of a box that has room for all lines, in millimetres."""
HAIRLINE = 0.2
CAPTION_GAP = 1.0
"""Between a picture and its caption."""


class Cell(Protocol):
    """Something with a height that follows from its width."""

    def height(self, canvas: Canvas, width: float) -> float:
        """Return how much room it takes, in millimetres."""

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw it from the top of a box."""


@dataclass(frozen=True, slots=True)
class Words:
    """Text, as many lines as it needs.

    Parameters
    ----------
    text
        The text.
    points
        Size of the font.
    bold, align
        How, and where in the cell each line is.
    """

    text: str
    points: float = 9.0
    bold: bool = False
    align: Literal["left", "middle", "right"] = "left"

    def _fitted(self, canvas: Canvas, width: float) -> Fitted:
        measure = canvas.measure(bold=self.bold)
        return fit(canvas.sayable(self.text), measure, (width, ENDLESS), (self.points,), 9_999)

    def height(self, canvas: Canvas, width: float) -> float:
        """Return the height of all lines."""
        return self._fitted(canvas, width).height

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Write the lines."""
        canvas.write(box, self._fitted(canvas, box.width), bold=self.bold, align=self.align)


class _OneLine:
    """A cell that is as high as one line of text."""

    __slots__ = ()
    points: float

    def height(self, canvas: Canvas, width: float) -> float:
        """Return the height of one line."""
        del canvas, width
        return line_height(self.points)


@dataclass(frozen=True, slots=True)
class PageNumber(_OneLine):
    """The number of the page where something begins, as a link; it is known at the end."""

    find: Callable[[], int | None]
    points: float = 9.0

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Write the number, and lead there from all over the cell."""
        page = self.find()
        if page is not None:
            Words(str(page), self.points, align="right").draw(canvas, box)
            canvas.link(box._replace(height=line_height(self.points)), page)


@dataclass(frozen=True, slots=True)
class Tick(_OneLine):
    """A box to tick, as high as a line of text."""

    points: float = 9.0

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw the frame."""
        side = 0.85 * self.points * MM_BY_POINT
        draw_frame(canvas, Box(box.x + 0.2, box.y + 0.2 * side, side, side), HAIRLINE)


@dataclass(frozen=True, slots=True)
class Bar(_OneLine):
    """How full something is, from 0 to 1."""

    share: float
    points: float = 9.0

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw a frame, filled as far as the share goes."""
        high = 0.7 * self.points * MM_BY_POINT
        frame = Box(box.x, box.y + 0.3 * high, box.width, high)
        filled = frame._replace(width=frame.width * min(1.0, self.share))
        canvas.fill([ring(filled)])
        draw_frame(canvas, frame, HAIRLINE)


@dataclass(frozen=True, slots=True)
class Swatch(_OneLine):
    """A square with the hatching that something has on drawings."""

    tone: int
    points: float = 9.0

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw the square in a frame."""
        side = 0.95 * self.points * MM_BY_POINT
        place = Box(box.x, box.y + 0.1 * side, side, side)
        draw_picture(canvas, place, _swatch(self.tone))
        draw_frame(canvas, place, HAIRLINE)


def _swatch(tone: int) -> Picture:
    return read_picture(f'<svg viewBox="0 0 90 90">{swatch(tone)}</svg>')


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture with a caption below it.

    Parameters
    ----------
    picture
        The picture.
    caption
        Words below it; may be empty.
    most
        The most it may be high, without its caption; it is then less wide than its cell.
    """

    picture: Picture
    caption: str = ""
    most: float = 120.0

    def _width(self, width: float) -> float:
        return min(width, self.most * self.picture.width / self.picture.height)

    def _caption(self) -> Words:
        return Words(self.caption, SMALL, align="middle")

    def height(self, canvas: Canvas, width: float) -> float:
        """Return the height of picture and caption."""
        drawn = self._width(width) * self.picture.height / self.picture.width
        return drawn + (CAPTION_GAP + self._caption().height(canvas, width) if self.caption else 0)

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw the picture in the middle of the width at the foot, the caption below it."""
        box = box.foot(self.height(canvas, box.width))
        width = self._width(box.width)
        drawn = width * self.picture.height / self.picture.width
        place = Box(box.x + (box.width - width) / 2, box.y, width, drawn)
        draw_picture(canvas, place, self.picture)
        if self.caption:
            self._caption().draw(canvas, box.below(drawn + CAPTION_GAP))


@dataclass(frozen=True, slots=True)
class Stack:
    """Cells one below the other."""

    cells: Sequence[Cell]

    def height(self, canvas: Canvas, width: float) -> float:
        """Return the height of all of them."""
        return sum(cell.height(canvas, width) for cell in self.cells)

    def draw(self, canvas: Canvas, box: Box) -> None:
        """Draw each below the one before."""
        for cell in self.cells:
            cell.draw(canvas, box)
            box = box.below(cell.height(canvas, box.width))
