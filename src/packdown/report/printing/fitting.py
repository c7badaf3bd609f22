"""Text that never leaves its box: first smaller, then wrapped, then shortened."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice
from typing import NamedTuple

__all__ = [
    "ELLIPSIS",
    "LEADING",
    "MM_BY_POINT",
    "Fitted",
    "Measure",
    "fit",
    "line_height",
    "sizes",
]

MM_BY_POINT = 25.4 / 72
LEADING = 1.2
"""Distance of two lines of text, in font sizes."""
ELLIPSIS = "…"

Measure = Callable[[str], float]
"""The width of a text in its own font sizes: times the size it is the width on paper."""


class Fitted(NamedTuple):
    """Text as it fits its box.

    Parameters
    ----------
    lines
        From the top; none where the box is too small for any text.
    points
        Size of the font.
    is_whole
        Whether nothing had to be left out.
    """

    lines: tuple[str, ...]
    points: float
    is_whole: bool

    @property
    def height(self) -> float:
        """Height of all lines, in millimetres."""
        return len(self.lines) * line_height(self.points)


def line_height(points: float) -> float:
    """Return the height of one line of a font, in millimetres."""
    return points * LEADING * MM_BY_POINT


def sizes(most: float, least: float) -> Sequence[float]:
    """Return font sizes in steps of half a point, largest first.

    >>> sizes(7, 6)
    (7.0, 6.5, 6.0)
    """
    return tuple(half / 2 for half in range(round(most * 2), round(least * 2) - 1, -1))


def fit(
    text: str, measure: Measure, size: tuple[float, float], points: Sequence[float], most: int = 99
) -> Fitted:
    """Fit a text into a box.

    The largest font is taken in which it fits with whole words. Where it fits in none, words are
    broken in the smallest one, and what is still too much gives way to an ellipsis.

    Parameters
    ----------
    text
        The text; it is wrapped at blanks only.
    measure
        Tells the width of a line.
    size
        Width and height of the box, in millimetres.
    points
        Sizes to try, largest first.
    most
        The most lines it may have.
    """
    for each in points:
        wide, rows = _room(size, each, most)
        lines = tuple(islice(_wrapped(text, measure, wide), rows + 1))
        if len(lines) <= rows and all(measure(line) <= wide for line in lines):
            return Fitted(lines, each, is_whole=True)
    wide, rows = _room(size, points[-1], most)
    lines = tuple(islice(_broken(_wrapped(text, measure, wide), measure, wide), rows + 1))
    if len(lines) <= rows and all(measure(line) <= wide for line in lines):
        return Fitted(lines, points[-1], is_whole=True)
    if not rows or measure(ELLIPSIS) > wide:
        return Fitted((), points[-1], is_whole=False)
    last = _cut(lines[rows - 1], measure, wide)
    return Fitted((*lines[: rows - 1], last), points[-1], is_whole=False)


def _room(size: tuple[float, float], points: float, most: int) -> tuple[float, int]:
    """Return the width of a box in font sizes, and how many lines it has room for."""
    em = points * MM_BY_POINT
    return size[0] / em, max(0, min(most, int(size[1] / (em * LEADING) + 1e-6)))


def _wrapped(text: str, measure: Measure, wide: float) -> Iterator[str]:
    """Yield lines of whole words; a word that is too long has its own line."""
    line = ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if line and measure(longer) > wide:
            yield line
            longer = word
        line = longer
    if line:
        yield line


def _broken(lines: Iterable[str], measure: Measure, wide: float) -> Iterator[str]:
    """Yield lines in pieces that are not too long, or of one character."""
    for line in lines:
        rest = line
        while len(rest) > 1 and measure(rest) > wide:
            keep = max(1, _longest(rest, measure, wide))
            yield rest[:keep]
            rest = rest[keep:].lstrip(" ")
        yield rest


def _cut(line: str, measure: Measure, wide: float) -> str:
    """End a line with an ellipsis."""
    keep = _longest(line, lambda start: measure(start.rstrip(" ") + ELLIPSIS), wide)
    return line[:keep].rstrip(" ") + ELLIPSIS


def _longest(line: str, measure: Measure, wide: float) -> int:
    """Return how many characters from the start are not too wide; widths may dip a little."""
    low, high = 0, len(line)
    while low < high:
        middle = (low + high + 1) // 2
        if measure(line[:middle]) <= wide:
            low = middle
        else:
            high = middle - 1
    return low
