"""Where a number is put so that it lies on what it names and on no other number."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

__all__ = ["Label", "Region", "place_labels"]

CELL = 8
"""Width of a cell of the coarse picture, in drawing units."""
FONTS = (68, 54, 44)
"""Sizes of the digits, in drawing units."""
DIGIT = 0.6
"""Width of a digit in font sizes."""


class Region(NamedTuple):
    """A convex patch of the drawing, what it belongs to, and its face."""

    owner: int
    face: int
    outline: Sequence[tuple[float, float]]


class Label(NamedTuple):
    """The middle of a number, in drawing units, and the index of its font size."""

    x: int
    y: int
    font: int


def place_labels(
    regions: Iterable[Region], size: tuple[int, int], texts: dict[int, str], least_room: int = 0
) -> dict[int, Label]:
    """Place one text on the visible part of each owner.

    The drawing is painted coarsely; the text goes where there is most room around it on one
    face, and makes way for texts placed before it.

    Parameters
    ----------
    regions
        Patches in painting order.
    size
        Width and height of the drawing.
    texts
        Text by owner; other owners get none.
    least_room
        If above 0, owners with no more free space than this get no text, and neither do
        those on which no spot is clear of other texts.

    Returns
    -------
    dict
        Labels by owner; owners that cannot be seen are left out.
    """
    owner, face = _painted(regions, size)
    room = _room(owner, face)
    taken = np.zeros(owner.shape, dtype=bool)
    labels = {}
    widest = {who: int(room[owner == who].max(initial=0)) for who in texts}
    for who in sorted(texts, key=lambda who: (widest[who], who)):
        if widest[who] * CELL > least_room:
            label = _spot(owner == who, room, taken, len(texts[who]), crowd=not least_room)
            labels.update({who: label} if label else {})
    return labels


def _painted(regions: Iterable[Region], size: tuple[int, int]) -> tuple[np.ndarray, np.ndarray]:
    """Return which owner and which face is on top in each cell; -1 is none."""
    owner = np.full((size[1] // CELL + 1, size[0] // CELL + 1), -1, dtype=np.int64)
    face = owner.copy()
    for region in regions:
        top, left, stamp = _stamp(tuple(region.outline))
        up, before = max(-top, 0), max(-left, 0)
        inside = stamp[up : owner.shape[0] - top, before : owner.shape[1] - left]
        window = (
            slice(top + up, top + up + inside.shape[0]),
            slice(left + before, left + before + inside.shape[1]),
        )
        owner[window][inside] = region.owner
        face[window][inside] = region.face
    return owner, face


@lru_cache(maxsize=65_536)
def _stamp(outline: tuple[tuple[float, float], ...]) -> tuple[int, int, np.ndarray]:
    """Return the first row and column of the cells around a convex patch, and which it covers."""
    points = np.asarray(outline) / CELL
    (left, top), (right, bottom) = np.floor(points.min(axis=0)), np.ceil(points.max(axis=0))
    xs = np.arange(left, right + 1)[None, None, :] + 0.5
    ys = np.arange(top, bottom + 1)[None, :, None] + 0.5
    start = points[:, :, None, None]
    way = np.roll(points, -1, axis=0)[:, :, None, None] - start
    turns = way[:, 0] * (ys - start[:, 1]) - way[:, 1] * (xs - start[:, 0])
    inside: np.ndarray = np.all(turns >= 0, axis=0) | np.all(turns <= 0, axis=0)
    return int(top), int(left), inside


def _room(owner: np.ndarray, face: np.ndarray) -> np.ndarray:
    """Return how many cells each cell is away from the edge of its own face."""
    key = owner * 8 + face
    inner = _inward(owner >= 0, key[1:] == key[:-1], key[:, 1:] == key[:, :-1])
    room = (owner >= 0).astype(np.int64)
    while inner.any():
        room += inner
        inner = _inward(inner, inner[1:] & inner[:-1], inner[:, 1:] & inner[:, :-1])
    return room


def _inward(cells: np.ndarray, rows: np.ndarray, columns: np.ndarray) -> np.ndarray:
    """Return the cells that go with the next ones on all four sides, none on the edge.

    Parameters
    ----------
    cells
        Those to choose from, shape (n, m).
    rows, columns
        Whether each two rows, and each two columns, go together: shapes (n - 1, m), (n, m - 1).
    """
    kept = np.zeros_like(cells)
    kept[1:-1, 1:-1] = (
        cells[1:-1, 1:-1]
        & rows[:-1, 1:-1]
        & rows[1:, 1:-1]
        & columns[1:-1, :-1]
        & columns[1:-1, 1:]
    )
    return kept


def _spot(
    mine: np.ndarray, room: np.ndarray, taken: np.ndarray, letters: int, *, crowd: bool
) -> Label | None:
    """Return the best spot for a text, and mark it as taken.

    The largest digits are tried first that lie wholly on their own thing; where none do, the
    smallest may stand out of it, and on another text only where that is allowed.
    """
    window = _around(mine, letters)
    corner = (window[0].start, window[1].start)
    own, near, free = mine[window], room[window], ~taken[window]
    last = len(FONTS) - 1
    for font in range(len(FONTS)):
        spots = own & _clear(~(own & free), font, letters)
        if spots.any():
            return _take(spots, corner, font, near, taken, letters)
    spots = own & _clear(~free, last, letters)
    if not spots.any() and not crowd:
        return None
    return _take(spots if spots.any() else own, corner, last, near, taken, letters)


def _around(mine: np.ndarray, letters: int) -> tuple[slice, slice]:
    """Return the rows and columns in which a text can lie that is on some cells."""
    high, wide = _half(0, letters)
    rows, columns = np.flatnonzero(mine.any(axis=1)), np.flatnonzero(mine.any(axis=0))
    return (
        slice(max(int(rows[0]) - high - 1, 0), int(rows[-1]) + high + 2),
        slice(max(int(columns[0]) - wide - 1, 0), int(columns[-1]) + wide + 2),
    )


def _take(
    spots: np.ndarray,
    corner: tuple[int, int],
    font: int,
    room: np.ndarray,
    taken: np.ndarray,
    letters: int,
) -> Label:
    ys, xs = np.nonzero(spots)
    off_middle = np.abs(xs - xs.mean()) + np.abs(ys - ys.mean())
    best = np.lexsort((off_middle, -room[ys, xs]))[0]
    y, x = int(ys[best]) + corner[0], int(xs[best]) + corner[1]
    high, wide = _half(font, letters)
    taken[max(y - high, 0) : y + high + 1, max(x - wide, 0) : x + wide + 1] = True
    return Label(x * CELL + CELL // 2, y * CELL + CELL // 2, font)


def _half(font: int, letters: int) -> tuple[int, int]:
    """Half the height and width of a text, in cells."""
    return round(FONTS[font] * 0.42 / CELL), round(FONTS[font] * DIGIT * letters * 0.5 / CELL)


def _clear(blocked: np.ndarray, font: int, letters: int) -> np.ndarray:
    """Return the cells around which a text touches nothing that is blocked."""
    high, wide = _half(font, letters)
    sums = np.pad(blocked, ((high + 1, high), (wide + 1, wide)), constant_values=False)
    sums = sums.astype(np.int64).cumsum(axis=0).cumsum(axis=1)
    rows, columns = 2 * high + 1, 2 * wide + 1
    inside = sums[rows:, columns:] - sums[:-rows, columns:] - sums[rows:, :-columns]
    clear: np.ndarray = inside + sums[:-rows, :-columns] == 0
    return clear
