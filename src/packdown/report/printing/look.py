"""How things look on a printed drawing: the classes of drawings, read from their stylesheet."""

import re
from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from packdown.report.tones import stylesheet

__all__ = ["Colour", "Pen", "pen_for"]

Colour = tuple[float, float, float]
"""Red, green and blue, from 0 to 1."""
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_VARIABLE = re.compile(r"var\(--\w+,?([^)]*)\)")
"""What symbols are filled with is for them alone; drawings that are written out use the rest."""
_PLAIN = {"path": {"fill": "#000000", "stroke-width": "1"}, "text": {"fill": "#000000"}}
"""What a browser takes where nothing is said."""


class Pen(NamedTuple):
    """How a path or a text is drawn.

    Parameters
    ----------
    fill, stroke
        Colours, or None where it has none.
    width
        Of its line, in drawing units.
    dash
        Lengths of dashes and gaps; empty for a whole line.
    has_round_ends
        Whether lines and dashes end in half circles.
    is_under
        Whether the line lies below the fill, as a halo.
    size
        Of the letters, in drawing units; 0 for paths.
    is_bold
        Whether letters are bold.
    is_middle
        Whether a text stands around its place, not to the right of it.
    """

    fill: Colour | None
    stroke: Colour | None
    width: float
    dash: tuple[float, ...]
    has_round_ends: bool
    is_under: bool
    size: float
    is_bold: bool
    is_middle: bool


@cache
def pen_for(element: str, classes: str) -> Pen:
    """Return how an element of some classes is drawn: ``path`` or ``text``."""
    told = dict(_PLAIN[element])
    for name, own in _rules().items():
        if name in {"svg", element} or name.removeprefix(".") in classes.split():
            told.update(own)
    fade = float(told.get("stroke-opacity", "1"))
    return Pen(
        fill=_colour(told.get("fill", "none")),
        stroke=_colour(told.get("stroke", "none"), fade),
        width=float(told.get("stroke-width") or 1),
        dash=tuple(float(length) for length in told.get("stroke-dasharray", "").split()),
        has_round_ends=told.get("stroke-linecap") == "round",
        is_under=told.get("paint-order") == "stroke",
        size=float(told.get("font-size", "0").removesuffix("px")),
        is_bold=told.get("font-weight", "400") == "700",
        is_middle=told.get("text-anchor") == "middle",
    )


@cache
def _rules() -> Mapping[str, Mapping[str, str]]:
    """Return what the stylesheet says of each element and of each class, in its order."""
    rules: dict[str, dict[str, str]] = {}
    for selectors, body in _RULE.findall(_VARIABLE.sub(r"\1", stylesheet())):
        entries = (entry.partition(":") for entry in body.split(";") if entry)
        said = {name.strip(): value.strip() for name, _, value in entries}
        for selector in selectors.split(","):
            rules.setdefault(selector.strip(), {}).update(said)
    return rules


def _colour(text: str, opacity: float = 1.0) -> Colour | None:
    """Return a colour, paler on white where it is translucent."""
    if text in {"none", ""}:
        return None
    digits = text.removeprefix("#")
    pairs = [digits[i : i + 2] for i in (0, 2, 4)] if len(digits) == 6 else [d * 2 for d in digits]
    red, green, blue = (1 - opacity * (1 - int(pair, 16) / 255) for pair in pairs)
    return red, green, blue
