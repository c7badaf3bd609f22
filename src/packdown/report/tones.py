"""Fills that tell things apart in grey print: lightness and hatching, a little hue on top."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet

__all__ = ["NUM_TONES", "patterns", "stylesheet", "tones_for"]

_TOP = (
    ("#ffffff", ""),
    ("#dfe6e4", "M0 24L24 0M-6 6L6-6M18 30L30 18"),
    ("#c9b79c", ""),
    ("#fbf3df", "M4 4h5v5h-5zM16 16h5v5h-5z"),
    ("#b9c6d0", "M0 0L24 24M18-6L30 6M-6 18L6 30"),
    ("#efe3dd", "M0 6H24M0 18H24"),
    ("#9fb0a0", ""),
    ("#f4f1e6", "M0 0L24 24M0 24L24 0"),
)
"""Colour of a face seen from above, and the hatching in a square of 24 drawing units."""
_SHADES = {"t": 1.0, "f": 0.9, "s": 0.78}
"""How light a face is by the suffix of its class: top, front, side."""

NUM_TONES = len(_TOP)


def _shaded(colour: str, shade: float) -> str:
    return "#" + "".join(f"{round(int(colour[i : i + 2], 16) * shade):02x}" for i in (1, 3, 5))


def patterns() -> str:
    """Return the hatchings as SVG pattern elements, to be defined once on a page."""
    return "".join(
        f'<pattern id="q{n}{side}" width="24" height="24" patternUnits="userSpaceOnUse">'
        f'<path fill="{_shaded(colour, shade)}" d="M0 0h24v24h-24z"/>'
        f'<path class="hatch" d="{hatch}"/></pattern>'
        for n, (colour, hatch) in enumerate(_TOP)
        if hatch
        for side, shade in _SHADES.items()
    )


def stylesheet() -> str:
    """Return the classes ``q0t`` to ``q7s`` that fill faces."""
    rules = []
    for n, (colour, hatch) in enumerate(_TOP):
        for side, shade in _SHADES.items():
            flat = _shaded(colour, shade)
            fill = f"url(#q{n}{side})" if hatch else flat
            rules.append(f".q{n}{side}{{fill:{fill};stroke:{flat}}}")
    return "".join(rules)


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
