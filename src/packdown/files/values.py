"""Readers of single values.

A reader takes a value and its place. What it cannot use it reports there, and returns a harmless
stand-in, so that reading goes on and finds every problem; the entry is dropped in the end.
"""

import re
from collections.abc import Callable, Mapping
from functools import partial
from math import isfinite
from typing import TypeVar

from packdown.errors import nearest
from packdown.files.place import Place
from packdown.geometry import ON_SIDE, WayUp
from packdown.units import Rounding, parse_length, parse_weight

__all__ = [
    "MAX_COUNT",
    "MAX_LENGTH_UM",
    "STAND_IN",
    "Reader",
    "carry",
    "choice",
    "flag",
    "length",
    "list_of",
    "name",
    "number",
    "size",
    "text",
    "ways_up",
    "weight",
    "whole",
]

T = TypeVar("T")
Reader = Callable[[object, Place], T]

MAX_LENGTH_UM = 10_000_000
MAX_WEIGHT_G = 1_000_000
MAX_COUNT = 10_000
STAND_IN = ""  # no file can say this: text and names are never empty
_NAME = re.compile(r"\w[\w-]*")


def text(value: object, place: Place) -> str:
    """Read text that says something."""
    if isinstance(value, str) and value.strip():
        return value
    place.expected("text in quotation marks", value)
    return STAND_IN


def name(value: object, place: Place) -> str:
    """Read a short name: letters, digits, ``-`` and ``_``."""
    if not isinstance(value, str) or not _NAME.fullmatch(value):
        place.expected("a short name of letters, digits, - and _", value)
    return value if isinstance(value, str) else STAND_IN


def flag(value: object, place: Place) -> bool:
    """Read true or false."""
    if isinstance(value, bool):
        return value
    place.expected("true or false", value)
    return False


def whole(low: int, high: int = MAX_COUNT) -> Reader[int]:
    """Return a reader of whole numbers within bounds."""

    def read(value: object, place: Place) -> int:
        if isinstance(value, int) and not isinstance(value, bool) and low <= value <= high:
            return value
        place.expected(f"a whole number from {low} to {high:,}", value)
        return low

    return read


def number(low: float, high: float) -> Reader[float]:
    """Return a reader of finite numbers within bounds."""

    def read(value: object, place: Place) -> float:
        right = isinstance(value, int | float) and not isinstance(value, bool)
        if right and isfinite(value) and low <= value <= high:  # type: ignore[arg-type, operator]
            return float(value)  # type: ignore[arg-type]
        place.expected(f"a number from {low:g} to {high:g}", value)
        return low

    return read


def _quantity(
    value: object,
    place: Place,
    *,
    parse: Callable[[str], int],
    what: str,
    low: int,
    high: int,
    limit: str,
) -> int:
    if not isinstance(value, str):
        place.expected(f"{what} with its unit", value)
        return max(low, 1)
    try:
        found = parse(value)
    except ValueError as error:
        place.report(str(error))
        return max(low, 1)
    if low <= found <= high:
        return found
    least = "above 0" if low == 1 else "of 0 or more" if low == 0 else f"from -{limit}"
    place.expected(f"{what} {least} and up to {limit}", value)
    return max(low, 1)


def length(rounding: Rounding, low: int = 1) -> Reader[int]:
    """Return a reader of lengths in micrometres, from `low` to 10 m."""
    return partial(
        _quantity,
        parse=partial(parse_length, rounding=rounding),
        what='a length such as "50.8 mm"',
        low=low,
        high=MAX_LENGTH_UM,
        limit="10 m",
    )


def weight(rounding: Rounding = Rounding.UP, low: int = 1) -> Reader[int]:
    """Return a reader of weights in grams, from `low` to 1,000 kg."""
    return partial(
        _quantity,
        parse=partial(parse_weight, rounding=rounding),
        what='a weight such as "120 g"',
        low=low,
        high=MAX_WEIGHT_G,
        limit="1,000 kg",
    )


def list_of(reader: Reader[T], least: int = 0, most: int = MAX_COUNT) -> Reader[tuple[T, ...]]:
    """Return a reader of lists of `least` to `most` values; a wrong length reads as empty."""

    def read(value: object, place: Place) -> tuple[T, ...]:
        if isinstance(value, list) and least <= len(value) <= most:
            return tuple(reader(each, place.at(index)) for index, each in enumerate(value))
        many = (
            f"{least}"
            if least == most
            else f"{least} or {most}"
            if most < 4
            else f"at least {least}"
        )
        place.expected(f"a list of {many} values" if least else "a list in [ ]", value)
        return ()

    return read


def size(rounding: Rounding) -> Reader[tuple[int, int, int]]:
    """Return a reader of length, width and height in micrometres."""
    sides = list_of(length(rounding), 3, 3)

    def read(value: object, place: Place) -> tuple[int, int, int]:
        found = sides(value, place)
        return (found[0], found[1], found[2]) if found else (1, 1, 1)

    return read


def choice(options: Mapping[str, T]) -> Reader[T]:
    """Return a reader of one of several words."""

    def read(value: object, place: Place) -> T:
        if isinstance(value, str):
            if value in options:
                return options[value]
            place.expected("one of the known words", value, nearest(value, options))
        else:
            place.expected(f"one of {', '.join(options)}", value)
        return next(iter(options.values()))

    return read


_WAYS: dict[str, tuple[WayUp, ...]] = {
    **{str(way): (way,) for way in WayUp},
    "on-side": ON_SIDE,
}


def ways_up(value: object, place: Place) -> tuple[WayUp, ...]:
    """Read the list of ways up in which something may lie."""
    lists = list_of(choice(_WAYS), least=1)(value, place)
    allowed = {way for group in lists for way in group}
    return tuple(way for way in WayUp if way in allowed)


def carry(value: object, place: Place) -> int | None:
    """Read what may rest on something: grams, ``none`` (0) or ``any`` (None)."""
    words = {"none": 0, "any": None}
    if isinstance(value, str) and value in words:
        return words[value]
    before = len(place.found)
    found = weight(Rounding.DOWN, low=0)(value, place)
    if len(place.found) > before:
        place.found.pop()
        place.expected('a weight such as "2 kg", "none" or "any"', value)
    return found
