"""Lengths, weights and numbers as people type them into tables."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from packdown.units import G_BY_UNIT, UM_BY_UNIT, Rounding, parse_length, parse_weight

__all__ = ["Decimal", "Spelling", "evident_decimal", "unit_in"]


class Decimal(StrEnum):
    """What stands before the decimals."""

    POINT = "point"
    COMMA = "comma"


_NAMES = {
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "inch": "in", "inches": "in",
    "in.": "in", "″": "in", "”": "in", "“": "in", "''": "in", '"': "in", "zoll": "in",
    "foot": "ft", "feet": "ft", "′": "ft", "’": "ft", "'": "ft", "ft.": "ft",
    "gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "gr": "g", "gms": "g",
    "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "kgs": "kg",
    "ounce": "oz", "ounces": "oz", "oz.": "oz", "pound": "lb", "pounds": "lb", "lbs": "lb",
    "lb.": "lb", "lbs.": "lb",
}  # fmt: skip
_NUMBER = re.compile(r"[0-9][0-9.,]*|[.,][0-9]+")
_QUANTITY = re.compile(
    r"(?P<whole>[0-9]+)?[\s-]*(?P<fraction>[0-9]+\s*/\s*[0-9]+)\s*(?P<unit>\D*)"
    r"|(?P<number>[0-9][0-9.,]*|[.,][0-9]+)\s*(?P<unit2>[^0-9.,]*\.?)"
)
_COUNT = re.compile(r"(?:x|×)?\s*([0-9]+)\s*(?:x|×|pcs?\.?|pieces?|off|st\.?|stk\.?|stück)?")
_SURE_COMMA = re.compile(r"(?:[0-9]{1,3}(?:\.[0-9]{3})+|[0-9]*),(?:[0-9]{1,2}|[0-9]{4,})|0,[0-9]+")
_SURE_POINT = re.compile(
    r"(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]*)\.(?:[0-9]{1,2}|[0-9]{4,})|0\.[0-9]+"
    r"|[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+"
)
_BOTH_COMMA = re.compile(r"[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+")
_GROUPED = re.compile(r"[0-9]{1,3}(?:[.,][0-9]{3})+")
MAX_CHARACTERS = 60
_LONGEST_HEADING = 200


def _plain(text: str) -> str:
    """Return text with plain blanks and fractions: ``1½`` becomes ``1 1/2``."""
    shown = []
    for character in text:
        if unicodedata.category(character) == "No" and "⁄" in unicodedata.normalize(
            "NFKC", character
        ):
            shown.append(" " + unicodedata.normalize("NFKC", character).replace("⁄", "/"))
        else:
            shown.append(" " if character.isspace() else character)
    return " ".join("".join(shown).split())


def unit_in(heading: str) -> str | None:
    """Return the unit that a heading names, such as ``Length (mm)`` or ``Height in inches``."""
    heading = heading[:_LONGEST_HEADING].casefold()
    words = re.findall(r"[^\s()\[\]/,:]+", heading)
    bracketed = re.findall(r"[(\[]\s*([^)\]]+?)\s*[)\]]", heading)
    for word in [*bracketed, *reversed(words[1:])]:
        unit = _unit(word)
        if unit and (unit != "in" or word != "in" or word in bracketed or word == words[-1]):
            return unit
    return None


def _unit(word: str) -> str | None:
    name = word.strip().casefold()
    name = _NAMES.get(name, name)
    return name if name in UM_BY_UNIT or name in G_BY_UNIT else None


def evident_decimal(texts: Iterable[str]) -> Decimal | None:
    """Return which mark stands before decimals if numbers say so, all in the same way."""
    found = set()
    for text in texts:
        for number in _NUMBER.findall(text[:MAX_CHARACTERS]):
            if _SURE_COMMA.fullmatch(number) or _BOTH_COMMA.fullmatch(number):
                found.add(Decimal.COMMA)
            elif _SURE_POINT.fullmatch(number):
                found.add(Decimal.POINT)
    return found.pop() if len(found) == 1 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spelling:
    """How numbers are written where they do not say it themselves.

    Parameters
    ----------
    decimal
        What stands before decimals; None if that is not known.
    """

    decimal: Decimal | None

    def length(self, text: str, unit: str | None) -> int:
        """Read a length as whole micrometres, rounded up.

        Raises
        ------
        ValueError
            If it is none, has no unit, or can be read in two ways.
        """
        return parse_length(self._exact(text, unit, tuple(UM_BY_UNIT), "mm"), Rounding.UP)

    def weight(self, text: str, unit: str | None) -> int:
        """Read a weight as whole grams, rounded up; raises `ValueError` as `length` does."""
        return parse_weight(self._exact(text, unit, tuple(G_BY_UNIT), "g"), Rounding.UP)

    def lengths(self, text: str, unit: str | None) -> tuple[int, int, int]:
        """Read three lengths such as ``50 x 50 x 8 mm``; the last unit counts for all."""
        parts = re.split(r"\s*[x×*]\s*", _plain(text).casefold())
        if len(parts) != 3:
            raise ValueError(f"{text!r} is no size such as 50 x 50 x 8 mm")
        last = _QUANTITY.fullmatch(parts[2])
        said = _unit((last["unit"] or last["unit2"] or "") if last else "")
        one, two, three = (self.length(part, said or unit) for part in parts)
        return one, two, three

    def count(self, text: str) -> int:
        """Read how many there are: ``3``, ``x3``, ``3 pcs``."""
        plain = _plain(text).casefold()
        match = _COUNT.fullmatch(re.sub(r"^([0-9]+)[.,]0+$", r"\1", plain))
        if not match:
            raise ValueError(f"{text!r} is no whole number of pieces")
        digits = match[1].lstrip("0") or "0"
        if len(digits) > 5 or int(digits) > 10_000:
            raise ValueError(f"{_short(text)} is more than 10,000 pieces")
        return int(digits)

    def _exact(self, text: str, unit: str | None, units: tuple[str, ...], example: str) -> str:
        """Return a quantity in the form that the rest of the program reads."""
        plain = _plain(text)
        if len(plain) > MAX_CHARACTERS:
            raise ValueError(f"{_short(text)} is too long for a number")
        plain = re.sub(r"(?<=[0-9]) (?=[0-9]{3}(?![0-9/]))(?![0-9]+\s*/)", "", plain)
        match = _QUANTITY.fullmatch(plain)
        if not match:
            raise ValueError(f"{text!r} is no number with a unit, such as 12.5 {example}")
        said = (match["unit"] or match["unit2"] or "").strip()
        named = _unit(said) if said else unit
        if said and named not in units:
            raise ValueError(f"{text!r}: unknown unit {said!r}; use one of {', '.join(units)}")
        if named is None:
            raise ValueError(f"{text!r} has no unit, and its column names none")
        if match["fraction"]:
            whole = f"{match['whole']} " if match["whole"] else ""
            return f"{whole}{match['fraction'].replace(' ', '')} {named}"
        return f"{self._number(match['number'])} {named}"

    def _number(self, text: str) -> str:
        """Return a number with a point before its decimals."""
        if "," in text and "." in text:
            mark = max(",.", key=text.rindex)
            other = "." if mark == "," else ","
            head, _, tail = text.rpartition(mark)
            if mark in head or not (_GROUPED.fullmatch(head) or other not in head):
                raise ValueError(f"{text!r} is no number")
            return f"{head.replace(other, '')}.{tail}"
        if "," not in text and "." not in text:
            return text
        mark = "," if "," in text else "."
        decimal = mark == ("," if self.decimal is Decimal.COMMA else ".")
        if not _GROUPED.fullmatch(text) or text.startswith("0"):
            if text.count(mark) > 1:
                raise ValueError(f"{text!r} is no number")
            return text.replace(mark, ".")
        if text.count(mark) > 1:
            return text.replace(mark, "")
        if self.decimal is None and mark == ",":
            whole, _, rest = text.partition(mark)
            raise ValueError(
                f"{text!r} is either {whole}.{rest} or {whole}{rest}; say --decimal comma or point"
            )
        return text.replace(mark, ".") if decimal else text.replace(mark, "")


def _short(text: str) -> str:
    return repr(text if len(text) <= 20 else f"{text[:17]}...")
