"""Pages of a PDF in millimetres from the upper left corner, in black and white."""

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import partial
from typing import Literal, NamedTuple

from fpdf.drawing import PaintedPath
from fpdf.enums import PathPaintRule, StrokeCapStyle, StrokeJoinStyle
from fpdf.fonts import TTFFont
from fpdf.prefs import ViewerPreferences

from packdown.report.printing.fitting import LEADING, MM_BY_POINT, Fitted, Measure, fit
from packdown.report.printing.fonts import FALLBACKS, FAMILY, MISSING, font_files, plain
from packdown.report.printing.pdf import Document

__all__ = ["Box", "Canvas", "Letters", "Point", "canvas"]

NO_DATE = datetime(2000, 1, 1, tzinfo=UTC)
"""Written into every document: with the time of day no two files would be the same."""
BLACK, WHITE = "#000000", "#ffffff"
_BASELINE = 0.95
"""From the top of a line to the foot of its letters, in font sizes."""
_CELL_BASELINE = 0.8
"""The same for a cell of the PDF library that is one font size high."""

Point = tuple[float, float]


class Box(NamedTuple):
    """A rectangle: its left and upper edge, its width and height, in millimetres."""

    x: float
    y: float
    width: float
    height: float

    def below(self, taken: float) -> "Box":
        """Return what is left when something is taken from its top."""
        return self._replace(y=self.y + taken, height=max(0.0, self.height - taken))

    def above(self, taken: float) -> "Box":
        """Return what is left when something is taken from its foot."""
        return self._replace(height=max(0.0, self.height - taken))

    def foot(self, height: float) -> "Box":
        """Return a strip along its foot."""
        return self._replace(y=self.y + self.height - height, height=height)


class Letters(NamedTuple):
    """How a line on a drawing is written.

    Parameters
    ----------
    points
        Size of the font.
    bold, middle
        Whether it is bold, and whether it stands around its point, not to the right of it.
    halo
        Width of a white rim around the letters, in millimetres; half of it lies outside.
    """

    points: float
    bold: bool
    middle: bool
    halo: float


class Canvas:
    """The pages of one document.

    Parameters
    ----------
    pdf
        The document with its fonts.
    """

    def __init__(self, pdf: Document) -> None:
        self._pdf = pdf
        self._widths: dict[tuple[str, bool], float] = {}
        fonts = [font for font in pdf.fonts.values() if isinstance(font, TTFFont)]
        self._known = frozenset().union(*(font.cmap for font in fonts))
        self.missing: set[str] = set()
        """Characters asked for that no font has."""

    def new_page(self) -> None:
        """Begin a page."""
        self._pdf.add_page()

    def sayable(self, text: str) -> str:
        """Return a text as it can be printed: one line, with a sign for what no font has."""
        told = plain(text)
        strange = {sign for sign in told if ord(sign) not in self._known}
        self.missing |= strange
        return "".join(MISSING if sign in strange else sign for sign in told)

    def measure(self, *, bold: bool) -> Measure:
        """Return what tells the width of a text, in font sizes."""
        return partial(self._width, bold=bold)

    def _width(self, text: str, *, bold: bool) -> float:
        key = (text, bold)
        if key not in self._widths:
            self._pdf.set_font(FAMILY, "B" if bold else "", 100)
            self._widths[key] = self._pdf.get_string_width(text) / self._pdf.font_size
        return self._widths[key]

    def write(
        self,
        box: Box,
        text: Fitted,
        *,
        bold: bool = False,
        white: bool = False,
        align: Literal["left", "middle", "right"] = "left",
    ) -> None:
        """Write fitted text from the top of a box down.

        Parameters
        ----------
        box
            Where.
        text
            The lines.
        bold, white
            How.
        align
            Where in the box each line is.
        """
        em = text.points * MM_BY_POINT
        shift = {"left": 0.0, "middle": 0.5, "right": 1.0}[align]
        for number, line in enumerate(text.lines):
            slack = box.width - self._width(line, bold=bold) * em
            baseline = box.y + (number * LEADING + _BASELINE) * em
            self._pdf.set_xy(box.x + shift * slack, baseline - _CELL_BASELINE * em)
            with self._pdf.local_context():  # else the font of one line may stay for the next
                self._pdf.set_font(FAMILY, "B" if bold else "", text.points)
                self._pdf.set_text_color(WHITE if white else BLACK)
                self._pdf.cell(h=em, text=line)

    def put(
        self, box: Box, text: str, points: Sequence[float], most: int = 99, *, bold: bool = False
    ) -> Fitted:
        """Fit any text into a box and write it from the top of the box down.

        Parameters
        ----------
        box
            Where.
        text
            The text as it came.
        points
            Font sizes to try, largest first.
        most
            The most lines it may have.
        bold
            How.

        Returns
        -------
        Fitted
            What was written.
        """
        room = (box.width, box.height)
        fitted = fit(self.sayable(text), self.measure(bold=bold), room, points, most)
        self.write(box, fitted, bold=bold)
        return fitted

    def fill(self, rings: Sequence[Sequence[Point]], *, white: bool = False) -> None:
        """Fill polygons as one; where two overlap, the colour stays."""
        path = PaintedPath()
        path.style.paint_rule = PathPaintRule.FILL_NONZERO
        path.style.fill_color = WHITE if white else BLACK
        for first, *others in rings:
            path.move_to(*first)
            for point in others:
                path.line_to(*point)
            path.close()
        self._draw(path)

    def line(self, points: Sequence[Point], width: float, *, white: bool = False) -> None:
        """Draw a line with round ends and corners."""
        path = PaintedPath()
        path.style.paint_rule = PathPaintRule.STROKE
        path.style.stroke_color = WHITE if white else BLACK
        path.style.stroke_width = width
        path.style.stroke_cap_style = StrokeCapStyle.ROUND
        path.style.stroke_join_style = StrokeJoinStyle.ROUND
        path.style.auto_close = False
        path.move_to(*points[0])
        for point in points[1:]:
            path.line_to(*point)
        self._draw(path)

    def link(self, box: Box, page: int) -> None:
        """Lead from a rectangle to a page of the document, counted from 1."""
        self._pdf.link(*box, link=self._pdf.add_link(page=page))

    def bookmark(self, text: str, level: int) -> None:
        """Add the page at hand to the outline that readers show beside the pages."""
        self._pdf.start_section(plain(text), level, strict=False)

    def paint(self, box: Box, scale: float, operators: str) -> None:
        """Draw with operators of the page's language in a frame with y downwards.

        Parameters
        ----------
        box
            Its upper left corner is the frame's origin.
        scale
            Millimetres to one unit of the frame.
        operators
            Paths and how they are painted (ISO 32000-1:2008, 8.5).
        """
        self._pdf.operate(box.x, box.y, scale, operators)

    def letter(self, at: Point, text: str, look: Letters) -> None:
        """Write one line at a point of its baseline."""
        told = self.sayable(text)
        em = look.points * MM_BY_POINT
        x = at[0] - self._width(told, bold=look.bold) * em / 2 * look.middle
        if look.halo:
            rim = {"text_mode": "STROKE", "line_width": look.halo, "draw_color": WHITE}
            with self._pdf.unread(), self._pdf.local_context(**rim):
                self._print((x, at[1]), told, look)
        with self._pdf.local_context(text_mode="FILL"):
            self._print((x, at[1]), told, look)

    def _print(self, at: Point, told: str, look: Letters) -> None:
        """Write a line from its left end."""
        em = look.points * MM_BY_POINT
        self._pdf.set_xy(at[0], at[1] - _CELL_BASELINE * em)
        self._pdf.set_font(FAMILY, "B" if look.bold else "", look.points)
        self._pdf.set_text_color(BLACK)
        self._pdf.cell(h=em, text=told)

    def _draw(self, path: PaintedPath) -> None:
        with self._pdf.drawing_context() as drawing:
            drawing.add_item(path, clone=False)

    def finish(self) -> bytes:
        """Return the document; the same pages give the same bytes."""
        log = logging.getLogger("fontTools.subset")
        before = log.level
        log.setLevel(logging.ERROR)  # it tells of tables that no printer needs
        try:
            return bytes(self._pdf.output())
        finally:
            log.setLevel(before)


@contextmanager
def canvas(paper_mm: tuple[float, float], title: str) -> Iterator[Canvas]:
    """Open a document of one size of paper.

    Parameters
    ----------
    paper_mm
        Width and height.
    title
        What the window of a reader shows.
    """
    pdf = Document(unit="mm", format=paper_mm)
    pdf.set_margin(0)
    pdf.c_margin = 0
    pdf.set_auto_page_break(auto=False)
    pdf.alias_nb_pages("")  # a name may hold what stands for the number of pages
    pdf.set_title(plain(title))
    pdf.set_producer("Packdown")
    pdf.set_creation_date(NO_DATE)
    pdf.viewer_preferences = ViewerPreferences(print_scaling="None")
    with font_files() as files:
        for face, path in files.items():
            pdf.add_font(face.family, face.style, path)
        pdf.set_fallback_fonts(list(FALLBACKS), exact_match=False)
        pdf.set_text_shaping(use_shaping_engine=True)
        try:
            yield Canvas(pdf)
        finally:
            for font in pdf.fonts.values():
                if isinstance(font, TTFFont):
                    font.ttfont.close()
