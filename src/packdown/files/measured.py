"""Strength of a connection: stated, or worked out from what a kitchen scale read."""

from packdown.files.place import Place
from packdown.files.table import Table
from packdown.files.values import length, list_of, number, weight, whole
from packdown.units import Rounding

__all__ = ["bend", "hold"]

#: Part of a reading that counts: joints wear, and scales are read by hand.
COUNTED = 0.5
#: Millinewton-metres of one gram at one micrometre.
GRAVITY = 9.80665e-6
#: So that 0.05 N m, which no binary fraction equals, is not rounded down to 49 mN m.
ROUNDING = 1e-6
_GRAMS = weight(Rounding.DOWN)
_MOMENT = number(0, 1_000)


def hold(value: object, place: Place) -> int:
    """Read what one connection holds at rest, in grams: a weight, or a table of readings.

    Of the readings the least counts, shared by the connections that were pulled, and half of it.
    """
    if not isinstance(value, dict):
        return weight(Rounding.DOWN, low=0)(value, place)
    table = Table(value, place)
    grams = _least(table)
    table.done()
    return int(grams * COUNTED)


def bend(value: object, place: Place) -> int:
    """Read the moment one connection bears at rest, in millinewton-metres.

    Either newton-metres, or a table of readings and the lever at which they were read. Of the
    readings the least counts, shared by the connections that were bent, and half of it.

    Examples
    --------
    150 g at 64 mm opened two keys: 0.150 x 9.80665 x 0.064 / 2 / 2 = 0.0235 N m for one.

    >>> readings = {"read": ["150 g", "160 g"], "lever": "64 mm", "connections": 2}
    >>> bend(readings, Place("packdown.toml", []))
    23
    """
    if not isinstance(value, dict):
        return int(_MOMENT(value, place) * 1_000 + ROUNDING)
    table = Table(value, place)
    moment = _least(table) * table.need("lever", length(Rounding.DOWN)) * GRAVITY
    table.done()
    return int(moment * COUNTED + ROUNDING)


def _least(table: Table) -> float:
    """Read the grams of one connection: the least reading, over the connections at work."""
    read = table.need("read", _readings)
    return min(read) / table.get("connections", whole(1), 1)


def _readings(value: object, place: Place) -> tuple[int, ...]:
    """Read one weight, or several in a list."""
    if isinstance(value, list):
        return list_of(_GRAMS, least=1)(value, place) or (1,)
    return (_GRAMS(value, place),)
