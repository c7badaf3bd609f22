"""Fills that tell things apart in grey print: lightness and hatching, a little hue on top.

Hatching is drawn as lines of its own, cut to the face, because pattern fills swell printed
documents and look different on every screen.
"""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from math import ceil, cos, floor, radians, sin
from pathlib import Path
from typing import NamedTuple

from packdown.report.svg import path, segments

__all__ = ["NUM_TONES", "colour", "hatching", "stylesheet", "swatch", "tones_for"]


class _Tone(NamedTuple):
    """Colour of a face seen from above, and the angles of its hatching; dots or lines."""

    colour: str
    angles: tuple[int, ...] = ()
    dotted: bool = False


_TONES = (
    _Tone("#ffffff"),
    _Tone("#dfe6e4", (45,)),
    _Tone("#cdbb9f"),
    _Tone("#fbf3df", (20,), dotted=True),
    _Tone("#c3ced6", (-45,)),
    _Tone("#f3e9e4", (0,)),
    _Tone("#93a493"),
    _Tone("#f4f1e6", (45, -45)),
)
_SHADES = {"t": 1.0, "f": 0.9, "s": 0.78}
"""How light a face is by the suffix of its class: top, front, side."""
_SPACING = 30
"""Drawing units between two lines of a hatching."""

NUM_TONES = len(_TONES)
_DRAWING = Path(__file__).with_name("templates") / "drawing.css"


def colour(tone: int) -> str:
    """Return the colour of a tone as it is seen from above, such as ``#cdbb9f``."""
    return _TONES[tone].colour


def _shaded(colour: str, shade: float) -> str:
    return "#" + "".join(f"{round(int(colour[i : i + 2], 16) * shade):02x}" for i in (1, 3, 5))


def stylesheet() -> str:
    """Return the classes of drawings: lines, texts, and fills of faces.

    ``q0t`` to ``q7s`` fill the faces of drawings that are written out; ``q0`` to ``q7`` say what
    the symbols within them are filled with.
    """
    written, given = [], []
    for number, tone in enumerate(_TONES):
        shades = {side: _shaded(tone.colour, shade) for side, shade in _SHADES.items()}
        written += [f".q{number}{side}{{fill:{c};stroke:{c}}}" for side, c in shades.items()]
        given.append(f".q{number}{{" + ";".join(f"--{s}:{c}" for s, c in shades.items()) + "}")
    return _DRAWING.read_text(encoding="utf-8") + "".join(written + given)


def hatching(tone: int, outline: Sequence[tuple[int, int]]) -> str:
    """Return the hatching of a face, cut to its convex outline; empty for a plain tone."""
    lines = [line for angle in _TONES[tone].angles for line in _hatched(outline, angle)]
    return path("hd" if _TONES[tone].dotted else "h", segments(lines))


def _hatched(
    outline: Sequence[tuple[int, int]], angle: int
) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    """Cut parallel lines that run through the whole drawing to a convex outline."""
    normal = (sin(radians(angle)), cos(radians(angle)))
    heights = [x * normal[0] + y * normal[1] for x, y in outline]
    edges = list(
        zip(outline, heights, [*outline[1:], outline[0]], [*heights[1:], heights[0]], strict=True)
    )
    for step in range(ceil(min(heights) / _SPACING), floor(max(heights) / _SPACING) + 1):
        level = step * _SPACING
        ends = {
            (round(a[0] + share * (b[0] - a[0])), round(a[1] + share * (b[1] - a[1])))
            for a, low, b, high in edges
            if (low < level) != (high < level)
            for share in ((level - low) / (high - low),)
        }
        if len(ends) == 2:
            one, two = sorted(ends)
            yield one, two


def swatch(tone: int) -> str:
    """Return a small square of a tone, as the inside of a drawing 90 units wide."""
    square = ((0, 0), (90, 0), (90, 90), (0, 90))
    return path(f"q{tone}t", "M0 0h90v90h-90z") + hatching(tone, square)


def tones_for(neighbours: Sequence[AbstractSet[int]]) -> tuple[int, ...]:
    """Choose a tone for each of some things so that neighbours differ wherever possible.

    Parameters
    ----------
    neighbours
        For each thing the indices of those it touches.
    """
    chosen: dict[int, int] = {}
    for index, near in enumerate(neighbours):
        chosen[index] = _free(chosen, near)
    return tuple(chosen[index] for index in range(len(neighbours)))


def _free(chosen: Mapping[int, int], near: AbstractSet[int]) -> int:
    """Return the tone that fewest neighbours, then fewest others, have."""
    tones = list(chosen.values())
    beside = [chosen[other] for other in near if other in chosen]
    return min(range(NUM_TONES), key=lambda tone: (beside.count(tone), tones.count(tone), tone))
