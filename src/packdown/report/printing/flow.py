"""Rows that fill page after page; all is painted at the end, when every page has its number."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from packdown.report.printing.canvas import Box, Canvas
from packdown.report.printing.cells import Cell, Words
from packdown.report.printing.drawing import draw_frame

__all__ = ["Flow", "Title"]

GAP = 1.2
"""Between two rows, in millimetres."""
GUTTER = 3.0
"""Between two cells of a row."""
RULE = 0.15
SIZES = (18.0, 12.0, 10.0)
"""Sizes of titles by their level."""

Mark = Callable[[Canvas], None]


class Title(NamedTuple):
    """A heading: its level from 0, its page counted from 0, and how far down it is there."""

    text: str
    level: int
    page: int
    top: float


class Flow:
    """Pages of one width that fill from the top down.

    Parameters
    ----------
    canvas
        Tells how wide text is.
    inner
        The part of each page that is filled.
    """

    def __init__(self, canvas: Canvas, inner: Box) -> None:
        self._canvas, self.inner = canvas, inner
        self._rest = inner.below(inner.height)
        self._pages: list[list[Mark]] = []
        self.titles: list[Title] = []

    @property
    def pages(self) -> int:
        """Number of pages so far."""
        return len(self._pages)

    def new_page(self) -> None:
        """Go on at the top of a page."""
        self._pages.append([])
        self._rest = self.inner

    def title(self, text: str, level: int = 0, with_: float = 0.0) -> None:
        """Write a title.

        Parameters
        ----------
        text
            The title.
        level
            0 begins a page, 1 and 2 stand within one.
        with_
            What must have room below it on the same page, in millimetres.
        """
        cell = Words(text, SIZES[level], bold=True)
        height = cell.height(self._canvas, self.inner.width)
        if level == 0:
            self.new_page()
        else:
            self.keep(height + with_ + (3 - level) * GAP)
            self.skip((4 - level) * GAP)
        self.titles.append(Title(text, level, self.pages - 1, self._rest.y))
        self._place([cell], [self.inner.width], height)

    def keep(self, height: float) -> None:
        """Begin a page unless there is as much room on this one."""
        if not self._pages or height > self._rest.height:
            self.new_page()

    def skip(self, height: float) -> None:
        """Leave room, but none at the top of a page."""
        if self._rest.y > self.inner.y:
            self._rest = self._rest.below(height)

    def say(self, text: str, points: float = 9.0, *, bold: bool = False) -> None:
        """Write a paragraph."""
        self.row([Words(text, points, bold)], [1.0])

    def row(self, cells: Sequence[Cell], shares: Sequence[float], *, ruled: bool = False) -> None:
        """Put cells beside each other on one page.

        Parameters
        ----------
        cells
            From left to right.
        shares
            Width of each: in millimetres above 1, else a share of what those leave.
        ruled
            Whether a line is drawn below.
        """
        widths = _widths(shares, self.inner.width)
        height = self.height(cells, shares)
        self.keep(height + GAP)
        self._place(cells, widths, height)
        if ruled:
            y = self._rest.y - GAP / 2
            ends = ((self.inner.x, y), (self.inner.x + self.inner.width, y))
            self._pages[-1].append(lambda canvas: canvas.line(ends, RULE))

    def height(self, cells: Sequence[Cell], shares: Sequence[float]) -> float:
        """Return how high a row of cells is."""
        widths = _widths(shares, self.inner.width)
        return max(c.height(self._canvas, w) for c, w in zip(cells, widths, strict=True))

    def framed(self, cell: Cell) -> None:
        """Put a cell into a frame."""
        inset = 2 * GAP
        height = cell.height(self._canvas, self.inner.width - 2 * inset) + 2 * GAP
        self.keep(height + GAP)
        frame = self._rest._replace(height=height)
        place = Box(frame.x + inset, frame.y + GAP, frame.width - 2 * inset, height)
        self._pages[-1] += [
            lambda canvas: cell.draw(canvas, place),
            lambda canvas: draw_frame(canvas, frame, 3 * RULE),
        ]
        self._rest = self._rest.below(height + 2 * GAP)

    def _place(self, cells: Sequence[Cell], widths: Sequence[float], height: float) -> None:
        left = self._rest.x
        for cell, width in zip(cells, widths, strict=True):
            self._pages[-1].append(_mark(cell, Box(left, self._rest.y, width, height)))
            left += width + GUTTER
        self._rest = self._rest.below(height + GAP)

    def paint(self, canvas: Canvas, page: int) -> None:
        """Draw all that is on a page, counted from 0."""
        for mark in self._pages[page]:
            mark(canvas)


def _mark(cell: Cell, box: Box) -> Mark:
    return lambda canvas: cell.draw(canvas, box)


def _widths(shares: Sequence[float], whole: float) -> list[float]:
    """Return the widths of cells, in millimetres."""
    fixed = sum(share for share in shares if share > 1) + GUTTER * (len(shares) - 1)
    return [share if share > 1 else share * (whole - fixed) for share in shares]
