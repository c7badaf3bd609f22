"""How long one unit of a mesh file is: what the file says, what the user says, or a guess."""

from packdown.units import UM_BY_UNIT

__all__ = ["UNITS", "guess_unit", "um_by_unit"]

UNITS = ("mm", "cm", "m", "in")
_SMALLEST_MM = 5.0
_SMALLEST_IN = 0.4


def um_by_unit(unit: str) -> float:
    """Return how many micrometres a unit is."""
    return float(UM_BY_UNIT[unit])


def guess_unit(longest: float) -> str:
    """Guess the unit from the longest side, in units of the file.

    Pieces of scenery are longer than 5 mm and most are shorter than 1 m. Most files are in
    millimetres; a side of 2 is rather 2 inches, and one of 0.05 rather 0.05 metres.
    """
    if longest >= _SMALLEST_MM:
        return "mm"
    return "in" if longest >= _SMALLEST_IN else "m"
