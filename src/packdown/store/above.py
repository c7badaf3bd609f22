"""What lies on what in a container, and what must be lifted out before an item."""

from collections.abc import Sequence
from dataclasses import dataclass

from packdown.geometry import (
    Direction,
    blocks,
    bounds,
    footprint_overlap,
    rests_on,
)
from packdown.model import Placement

__all__ = ["Above", "find_above"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Above:
    """What is over one item, by numbers in loading order, counted from 1.

    Parameters
    ----------
    on_top
        Items that rest on it.
    lift_first
        Items that must be lifted straight up and out before it, in that order.
    """

    on_top: tuple[int, ...]
    lift_first: tuple[int, ...]


def find_above(fill: Sequence[Placement], sheet_um: int) -> tuple[Above, ...]:
    """Find what lies above each item of a fill.

    Parameters
    ----------
    fill
        The items in loading order; each can be lifted out once all later ones are out.
    sheet_um
        Thickness of the sheets between layers.
    """
    boxes = [bounds(placement.cuboids_um) for placement in fill]
    in_way: list[set[int]] = []
    on_top: list[tuple[int, ...]] = []
    for low, placement in enumerate(fill):
        later = [
            high
            for high in range(low + 1, len(fill))
            if boxes[high].z1 > boxes[low].z0 and footprint_overlap(boxes[low], boxes[high])
        ]
        solid = placement.cuboids_um
        in_way.append(
            {high for high in later if blocks(solid, fill[high].cuboids_um, Direction.UP)}
        )
        on_top.append(
            tuple(high + 1 for high in later if rests_on(fill[high].cuboids_um, solid, sheet_um))
        )
    over: list[set[int]] = [set() for _ in fill]
    for low in reversed(range(len(fill))):
        over[low] = in_way[low].union(*(over[high] for high in in_way[low]))
    return tuple(
        Above(on_top=top, lift_first=tuple(high + 1 for high in sorted(all_over, reverse=True)))
        for top, all_over in zip(on_top, over, strict=True)
    )
