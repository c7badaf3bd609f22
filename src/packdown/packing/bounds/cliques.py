"""Things of which a container holds at most one: cliques of conflicts."""

from collections.abc import Sequence
from itertools import product

import numpy as np

from packdown.geometry import Vector
from packdown.packing.bounds.measures import Lie
from packdown.packing.bounds.shapes import Fit, Site, Thing

__all__ = ["Conflicts", "conflicts", "covering", "largest"]

Conflicts = list[int]
"""For each thing the others it has conflicts with, and itself, as bits of a number."""


def conflicts(
    things: Sequence[Thing], fits: Sequence[Fit], site: Site, payload_g: int
) -> Conflicts:
    """Return which things cannot share a container of one sort, two of one kind included.

    Two things conflict if, however they lie, some box of one and some box of the other have no
    room beside each other along any axis; if they are too heavy together; or if they are to be
    kept apart and cannot be in one item; or if one of them has no room at all.
    """
    close = _too_large(things, fits, site)
    found = [0] * len(things)
    for a, b in product(range(len(things)), repeat=2):
        if a > b:
            continue
        if (
            not (fits[a].fits and fits[b].fits)
            or things[a].weight_g + things[b].weight_g > payload_g
            or _kept_apart(things[a], things[b])
            or (close[a, b] and _collide(fits[a].bare, fits[b].bare, _gaps(things, a, b, site)))
        ):
            found[a] |= 1 << b
            found[b] |= 1 << a
    return found


def _kept_apart(one: Thing, two: Thing) -> bool:
    return any(
        group == other and (unit is None or unit != unit2)
        for group, unit in one.apart
        for other, unit2 in two.apart
    )


def _gaps(things: Sequence[Thing], a: int, b: int, site: Site) -> Vector:
    """Return the room that two things must share, less the clearance between them."""
    apart = site.clearance if things[a].shape.own_item or things[b].shape.own_item else 0
    length, width, height = site.room
    return (length - apart, width - apart, height)


def _too_large(
    things: Sequence[Thing], fits: Sequence[Fit], site: Site
) -> "np.typing.NDArray[np.bool_]":
    """Say of which pairs the largest boxes alone would leave a conflict possible."""
    least = np.array(
        [
            [min((max(b[axis] for b in lie) for lie in fit.bare), default=0) for axis in range(3)]
            for fit in fits
        ],
        dtype=np.int64,
    ).reshape(-1, 3)
    own = np.array([thing.shape.own_item for thing in things], dtype=np.bool_)
    apart = np.where(own[:, None] | own[None, :], site.clearance, 0)[:, :, None]
    room = np.array(site.room) - apart * np.array([1, 1, 0])
    some = np.array([bool(fit.bare) for fit in fits], dtype=np.bool_)
    large = (least[:, None, :] + least[None, :, :] > room).all(axis=2)
    close: np.typing.NDArray[np.bool_] = large & some[:, None] & some[None, :]
    return close


def _collide(one: Sequence[Lie], two: Sequence[Lie], room: Vector) -> bool:
    return all(
        any(
            all(a + b > side for a, b, side in zip(box, other, room, strict=True))
            for box in lie
            for other in lie2
        )
        for lie in one
        for lie2 in two
    )


def covering(found: Conflicts, most: int) -> list[list[int]]:
    """Return cliques of conflicts, large ones first, that cover every conflict of two kinds.

    Parameters
    ----------
    found
        Conflicts of each kind.
    most
        How many cliques are wanted at most; the rest can only strengthen a bound.
    """
    cliques: list[list[int]] = []
    open_ = [row & ~(1 << own) for own, row in enumerate(found)]
    order = sorted(range(len(found)), key=lambda one: -found[one].bit_count())
    for first in order:
        while open_[first] and len(cliques) < most:
            other = next(one for one in order if open_[first] >> one & 1)
            clique = _grown([first, other], found, order)
            cliques.append(clique)
            inside = sum(1 << one for one in clique)
            for one in clique:
                open_[one] &= ~inside
        if found[first] >> first & 1 and not any(first in clique for clique in cliques):
            cliques.append([first])
    return sorted(cliques, key=len, reverse=True)


def largest(found: Conflicts, numbers: Sequence[int]) -> int:
    """Return how many things some clique has: no two of them share a container.

    Of a kind that has no conflict with itself one thing counts. The clique grows from every kind
    in turn by what has most conflicts, so it may not be the largest there is.
    """
    order = sorted(range(len(found)), key=lambda one: -found[one].bit_count())
    size = [number if found[k] >> k & 1 else 1 for k, number in enumerate(numbers)]
    return max((sum(size[k] for k in _grown([one], found, order)) for one in order), default=0)


def _grown(clique: list[int], found: Conflicts, order: Sequence[int]) -> list[int]:
    """Add to a clique whatever has conflicts with all of it, in an order."""
    common = -1
    for one in clique:
        common &= found[one] & ~(1 << one)
    while common:
        nxt = next(one for one in order if common >> one & 1)
        clique = [*clique, nxt]
        common &= found[nxt] & ~(1 << nxt)
    return clique
