# ruff: noqa: ANN401 - PDFium and ZXing come without types
"""Reading printed pages back: drawn and taken apart by PDFium, codes decoded by ZXing.

Neither shares code with what prints the pages.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
import pypdfium2
import zxingcpp
from numpy.typing import NDArray
from pypdfium2 import raw

__all__ = [
    "DPI",
    "MM_BY_INCH",
    "Code",
    "Image",
    "Rect",
    "boxes_of",
    "codes_in",
    "drawn",
    "has_colour",
    "ink_outside",
    "opened",
    "text_of",
]

MM_BY_INCH = 25.4
DPI = 200

Image = NDArray[np.uint8]


class Rect(NamedTuple):
    """A rectangle on a page, in millimetres from its upper left corner."""

    left: float
    top: float
    right: float
    bottom: float

    def within(self, other: "Rect", slack: float = 0.0) -> bool:
        """Whether it lies inside another, or sticks out no further than allowed."""
        return (
            self.left >= other.left - slack
            and self.top >= other.top - slack
            and self.right <= other.right + slack
            and self.bottom <= other.bottom + slack
        )

    def grown(self, by: float) -> "Rect":
        """Return a rectangle that is larger on each side."""
        return Rect(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: "Rect") -> bool:
        """Whether it shares more than an edge with another."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


class Code(NamedTuple):
    """A code that was read: its text, its error level, and the square of its modules."""

    text: str
    level: str
    where: Rect


def opened(data: bytes) -> Any:
    """Open a document."""
    return pypdfium2.PdfDocument(data)


def drawn(page: Any, dpi: int = DPI) -> Image:
    """Draw a page in greys, as rows of pixels."""
    image = page.render(scale=dpi / 72, grayscale=True).to_pil()
    return np.asarray(image, dtype=np.uint8)


def has_colour(page: Any) -> bool:
    """Whether anything on a page is neither black nor white nor grey."""
    pixels = np.asarray(page.render(scale=1).to_pil().convert("RGB"))
    return bool(
        (pixels[:, :, 0] != pixels[:, :, 1]).any() or (pixels[:, :, 1:] != pixels[:, :, :2]).any()
    )


def codes_in(image: Image, dpi: int = DPI) -> list[Code]:
    """Read all QR codes of a drawn page."""
    found = zxingcpp.read_barcodes(np.ascontiguousarray(image))
    return [_code(each, MM_BY_INCH / dpi) for each in found]


def _code(read: Any, mm: float) -> Code:
    spot = read.position
    corners = (spot.top_left, spot.top_right, spot.bottom_right, spot.bottom_left)
    xs, ys = [c.x * mm for c in corners], [c.y * mm for c in corners]
    return Code(read.text, read.ec_level, Rect(min(xs), min(ys), max(xs), max(ys)))


def boxes_of(page: Any, kind: str) -> Iterator[Rect]:
    """Yield the rectangles around all things of a kind, ``path`` or ``text``, on a page."""
    kinds = {"path": raw.FPDF_PAGEOBJ_PATH, "text": raw.FPDF_PAGEOBJ_TEXT}
    height = page.get_height()
    mm = MM_BY_INCH / 72
    for thing in page.get_objects(filter=[kinds[kind]]):
        left, bottom, right, top = thing.get_bounds()
        yield Rect(left * mm, (height - top) * mm, right * mm, (height - bottom) * mm)


def text_of(page: Any) -> str:
    """Return all text of a page."""
    return str(page.get_textpage().get_text_range())


def ink_outside(image: Image, boxes: Sequence[Rect], dpi: int = DPI) -> int:
    """Count the pixels that are not white and lie in no box."""
    dark = image < 250
    for box in boxes:
        left, top, right, bottom = (round(side / MM_BY_INCH * dpi) for side in box)
        dark[max(top, 0) : bottom + 1, max(left, 0) : right + 1] = False
    return int(dark.sum())
