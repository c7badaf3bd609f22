"""Lengths, weights and times: read once at the rim, whole micrometres and grams inside.

One inch is 25.4 mm and one pound 453.59237 g by definition (international yard and pound
agreement, 1959), so every figure below is exact.
"""

import re
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor

__all__ = [
    "Rounding",
    "format_length",
    "format_litres",
    "format_minutes",
    "format_size",
    "format_weight",
    "parse_length",
    "parse_time",
    "parse_weight",
]

UM_BY_UNIT = {
    "um": Fraction(1),
    "mm": Fraction(1_000),
    "cm": Fraction(10_000),
    "m": Fraction(1_000_000),
    "in": Fraction(25_400),
    "ft": Fraction(304_800),
}
G_BY_UNIT = {
    "mg": Fraction(1, 1_000),
    "g": Fraction(1),
    "kg": Fraction(1_000),
    "oz": Fraction("28.349523125"),
    "lb": Fraction("453.59237"),
}
S_BY_UNIT = {"s": Fraction(1), "min": Fraction(60), "h": Fraction(3_600)}
ALIASES = {'"': "in", "inch": "in", "inches": "in", "'": "ft", "lbs": "lb", "µm": "um", "μm": "um"}

_QUANTITY = re.compile(
    r"""\s*(?P<sign>-?)
    (?: (?P<whole>\d+)\s+(?P<num>\d+)/(?P<den>\d+)   # 1 1/2
      | (?P<top>\d+)/(?P<bottom>\d+)                 # 3/4
      | (?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+)         # 12, 12.5 or 12,5
    )\s*(?P<unit>[a-zA-Zµμ"']*)\s*""",
    re.VERBOSE,
)


class Rounding(StrEnum):
    """Which way a length or weight goes when it is not a whole micrometre or gram."""

    UP = "up"
    DOWN = "down"
    NEAREST = "nearest"


def _round(value: Fraction, rounding: Rounding) -> int:
    if rounding is Rounding.UP:
        return ceil(value)
    if rounding is Rounding.DOWN:
        return floor(value)
    return floor(value + Fraction(1, 2))


def _number(match: re.Match[str]) -> Fraction:
    if match["whole"] is not None:
        value = int(match["whole"]) + Fraction(int(match["num"]), int(match["den"]))
    elif match["top"] is not None:
        value = Fraction(int(match["top"]), int(match["bottom"]))
    else:
        value = Fraction(match["decimal"].replace(",", "."))
    return -value if match["sign"] else value


def _parse(text: str, units: dict[str, Fraction], what: str, example: str) -> Fraction:
    expected = f'expected {what} with its unit, such as "{example}"'
    match = _QUANTITY.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is not {what}; {expected}")
    unit = ALIASES.get(match["unit"], match["unit"])
    if not unit:
        raise ValueError(f"{text!r} has no unit; {expected}")
    if unit not in units:
        raise ValueError(f"{text!r}: unknown unit {unit!r}; use one of {', '.join(units)}")
    try:
        return _number(match) * units[unit]
    except ZeroDivisionError:
        raise ValueError(f"{text!r} divides by zero; {expected}") from None


def parse_length(text: str, rounding: Rounding = Rounding.NEAREST) -> int:
    """Read a length such as ``"50.8 mm"`` or ``"1 1/2 in"`` as whole micrometres.

    >>> parse_length("1 1/2 in")
    38100

    Raises
    ------
    ValueError
        If the text is no number with a unit of length.
    """
    return _round(_parse(text, UM_BY_UNIT, "a length", "50.8 mm"), rounding)


def parse_weight(text: str, rounding: Rounding = Rounding.UP) -> int:
    """Read a weight such as ``"120 g"`` as whole grams, rounded up unless told otherwise.

    >>> parse_weight("1 lb")
    454

    Raises
    ------
    ValueError
        If the text is no number with a unit of weight.
    """
    return _round(_parse(text, G_BY_UNIT, "a weight", "120 g"), rounding)


def parse_time(text: str) -> int:
    """Read a time such as ``"2 min"`` as whole seconds, rounded up.

    Raises
    ------
    ValueError
        If the text is no number with a unit of time.
    """
    return _round(_parse(text, S_BY_UNIT, "a time", "2 min"), Rounding.UP)


def format_length(um: int) -> str:
    """Show micrometres as millimetres with no more decimals than needed.

    >>> format_length(50_800)
    '50.8 mm'
    """
    return f"{um / 1_000:.3f}".rstrip("0").rstrip(".") + " mm"


def format_size(um: tuple[int, int, int]) -> str:
    """Show a size as length x width x height in whole or half millimetres.

    >>> format_size((50_800, 50_800, 8_000))
    '50.8 x 50.8 x 8 mm'
    """
    return " x ".join(format_length(side).removesuffix(" mm") for side in um) + " mm"


def format_weight(g: int) -> str:
    """Show grams as grams below one kilogram and as kilograms above.

    >>> format_weight(850), format_weight(12_340)
    ('850 g', '12.3 kg')
    """
    return f"{g} g" if abs(g) < 1_000 else f"{g / 1_000:.1f} kg"


def format_litres(um3: int) -> str:
    """Show cubic micrometres as litres (one litre is 1e15 cubic micrometres)."""
    return f"{um3 / 10**15:.1f} l"


def format_minutes(seconds: float) -> str:
    """Show seconds as minutes, or as seconds below one and a half minutes.

    >>> format_minutes(45), format_minutes(600)
    ('45 s', '10 min')
    """
    return f"{seconds:.0f} s" if seconds < 90 else f"{seconds / 60:.0f} min"
