"""Builds sketched in characters: from above, once for each height at which pieces begin."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from string import ascii_uppercase, digits

from packdown.geometry import Cuboid, bounds
from packdown.model import Piece
from packdown.units import format_length

__all__ = ["Storey", "sketch", "sketch_lines"]

CELLS_ACROSS, CELLS_DEEP = 4, 2
"""Characters for a square of the grid; a character is about twice as high as it is wide."""
MOST_ACROSS = 96
_USUAL_SQUARE_UM = 32_000
_DRAWN = re.compile(r"(?P<symbol>[^\W_])-\d+[a-z]+\d+(-\d+)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Storey:
    """Pieces that begin at one height.

    Parameters
    ----------
    height_um
        Height of their lower corners.
    pieces
        The pieces.
    rows
        How they look from above, the back row first; pieces of one part that touch differ in case.
    """

    height_um: int
    pieces: tuple[Piece, ...]
    rows: tuple[str, ...]


def sketch(pieces: Sequence[Piece], square_um: int | None) -> tuple[dict[str, str], list[Storey]]:
    """Sketch pieces from above, at one scale.

    Parameters
    ----------
    pieces
        Pieces in the frame of their build; at least one.
    square_um
        The square of the grid; without one 32 mm are taken.

    Returns
    -------
    letters, storeys
        The letter of each part, and what begins at each height, from the table up.
    """
    frame = bounds(cuboid for piece in pieces for cuboid in piece.cuboids_um)
    letters = _letters(pieces)
    step = max((square_um or _USUAL_SQUARE_UM) // CELLS_ACROSS, -(-frame.size[0] // MOST_ACROSS), 1)
    storeys = []
    for height, group in groupby(sorted(pieces, key=_height), key=_height):
        own = tuple(group)
        rows = _rows(own, letters, frame, step)
        storeys.append(Storey(height_um=height, pieces=own, rows=tuple(rows)))
    return letters, storeys


def sketch_lines(letters: dict[str, str], storeys: Sequence[Storey]) -> Iterator[str]:
    """Yield a sketch line by line, each storey under its height and what begins there."""
    for storey in storeys:
        counts = Counter(piece.part for piece in storey.pieces)
        names = {piece.part: piece.name for piece in storey.pieces}
        words = ", ".join(f"{letters[part]} {counts[part]} x {names[part]}" for part in counts)
        yield f"{format_length(storey.height_um)}: {words}"
        yield from (f"  {row}".rstrip() for row in storey.rows)
    yield "Each map shows what begins at that height; its last line is the front."


def _height(piece: Piece) -> int:
    return bounds(piece.cuboids_um).z0


def _letters(pieces: Sequence[Piece]) -> dict[str, str]:
    """Return a letter for each part: that of the drawing where there is one, else an initial."""
    letters: dict[str, str] = {}
    for piece in sorted(pieces, key=lambda piece: not _symbol(piece)):
        if piece.part in letters:
            continue
        own = [char for char in piece.part.upper() if char in ascii_uppercase]
        wanted = [_symbol(piece).upper(), *own, *ascii_uppercase, *digits]
        taken = set(letters.values())
        letters[piece.part] = next((c for c in wanted if c and c not in taken), "#")
    return letters


def _symbol(piece: Piece) -> str:
    found = _DRAWN.fullmatch(piece.id.partition("/")[2])
    return found["symbol"] if found else ""


def _rows(
    pieces: Sequence[Piece], letters: dict[str, str], frame: Cuboid, step: int
) -> Iterator[str]:
    """Yield the map of pieces, the back row first: in each field what covers most of it."""
    deep = step * CELLS_ACROSS // CELLS_DEEP
    lowered = _lowered(pieces)
    rows = -(-frame.size[1] // deep)
    across = -(-frame.size[0] // step)
    for row in reversed(range(rows)):
        best: dict[int, tuple[int, str]] = {}
        y0, y1 = frame.y0 + row * deep, frame.y0 + (row + 1) * deep
        for index, piece in enumerate(pieces):
            letter = letters[piece.part]
            char = letter.lower() if index in lowered else letter
            for field, area in _fields(piece.cuboids_um, frame.x0, step, (y0, y1)).items():
                best[field] = max(best.get(field, (0, "")), (area, char))
        yield "".join(best[field][1] if field in best else "." for field in range(across))


def _fields(cuboids: Sequence[Cuboid], x0: int, step: int, band: tuple[int, int]) -> dict[int, int]:
    """Return how much of each field of a row a piece covers, in square micrometres."""
    found: dict[int, int] = {}
    for cuboid in cuboids:
        depth = min(cuboid.y1, band[1]) - max(cuboid.y0, band[0])
        if depth <= 0:
            continue
        for field in range((cuboid.x0 - x0) // step, -(-(cuboid.x1 - x0) // step)):
            left = x0 + field * step
            width = min(cuboid.x1, left + step) - max(cuboid.x0, left)
            found[field] = found.get(field, 0) + width * depth
    return found


def _lowered(pieces: Sequence[Piece]) -> set[int]:
    """Choose pieces to be shown in small letters, so that neighbours of one part differ."""
    boxes = [bounds(piece.cuboids_um) for piece in pieces]
    small: set[int] = set()
    for index, box in enumerate(boxes):
        near = [k for k in range(index) if _near(box, boxes[k], pieces[index], pieces[k])]
        if near and not any(k in small for k in near):
            small.add(index)
    return small


def _near(a: Cuboid, b: Cuboid, one: Piece, two: Piece) -> bool:
    """Whether two pieces of one part touch side by side."""
    if one.part != two.part:
        return False
    gaps = [max(a[k] - b[k + 3], b[k] - a[k + 3]) for k in range(2)]
    return max(gaps) <= 0 and min(gaps) < 0
