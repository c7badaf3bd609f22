"""Cuts on three units: of the sets that hold two or more of them, at most one is chosen.

References
----------
Jepsen, M. et al. (2008), Operations Research 56(2), 497-511: subset-row inequalities.
"""

from collections import Counter
from collections.abc import Collection, Sequence
from itertools import combinations

import numpy as np

from packdown.teardown.graph import bits

__all__ = ["broken_triples", "meets"]

#: By how much a cut must be broken, and below what a set does not count.
LEAST = 0.02
NOTHING = 1e-4
#: Most cuts in which one unit is added at a time.
EACH = 5


def meets(triple: int, mask: int) -> bool:
    """Whether a set holds two or more of three units."""
    return (triple & mask).bit_count() > 1


def broken_triples(
    count: int, masks: Sequence[int], shares: Sequence[float], known: Collection[int], most: int
) -> list[int]:
    """Return masks of three units of whose sets more than one is taken, the most broken first.

    Parameters
    ----------
    count
        Number of units.
    masks, shares
        Sets, and the share of each that is taken.
    known
        Cuts that are there already.
    most
        Number of cuts wanted.
    """
    taken = [(mask, share) for mask, share in zip(masks, shares, strict=True) if share > NOTHING]
    holds = np.array(
        [[mask >> unit & 1 for unit in range(count)] for mask, _ in taken], dtype=float
    )
    weight = np.array([share for _, share in taken])
    pairs = (holds * weight[:, np.newaxis]).T @ holds
    np.fill_diagonal(pairs, 0)
    near = (pairs > LEAST / 2) & (pairs < 1 - LEAST / 2)
    found = []
    for a, b in combinations(range(count), 2):
        if not near[a, b]:
            continue
        for c in np.flatnonzero(near[a] & near[b]):
            if c > b:
                all_three = float(weight @ (holds[:, a] * holds[:, b] * holds[:, c]))
                total = pairs[a, b] + pairs[a, c] + pairs[b, c] - 2 * all_three
                triple = 1 << a | 1 << b | 1 << int(c)
                if total > 1 + LEAST and triple not in known:
                    found.append((-round(total, 6), triple))
    chosen: list[int] = []
    uses: Counter[int] = Counter()
    for _, triple in sorted(found):
        if len(chosen) < most and all(uses[unit] < EACH for unit in bits(triple)):
            chosen.append(triple)
            uses.update(bits(triple))
    return chosen
