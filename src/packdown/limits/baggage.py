"""Baggage: size and weight of a piece. The carrier's own figures count, not these.

IATA, "Checking in a bag" and its guidance for the cabin. Above 23 kg a piece needs a heavy tag and
leave beforehand, and many take nothing above 32 kg (HSE on air transport, after IATA's Airport
Handling Manual): that is a figure of the trade, no statute.
"""

from collections.abc import Sequence
from enum import StrEnum

__all__ = ["HEAVY_G", "REFUSED_G", "BagMark", "bag_mark", "fits_within", "linear_um"]

HEAVY_G = 23_000
REFUSED_G = 32_000


class BagMark(StrEnum):
    """What the weight of a piece calls for."""

    NONE = "none"
    HEAVY = "heavy tag"
    REFUSED = "refused"


def linear_um(size_um: Sequence[int]) -> int:
    """Return length, width and height together."""
    return sum(size_um)


def fits_within(size_um: Sequence[int], room_um: Sequence[int]) -> bool:
    """Whether a piece fits into a frame, on whichever side it is put."""
    return all(s <= r for s, r in zip(sorted(size_um), sorted(room_um), strict=True))


def bag_mark(weight_g: int) -> BagMark:
    """Say what the weight of a piece calls for where nothing else was agreed."""
    if weight_g > REFUSED_G:
        return BagMark.REFUSED
    return BagMark.HEAVY if weight_g > HEAVY_G else BagMark.NONE
