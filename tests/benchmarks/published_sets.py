"""Two published problem sets, made anew from their published rules.

References
----------
Bischoff, E. E., Ratcliff, M. S. W. (1995), Omega 23(4), 377-390, and Davies, A. P., Bischoff, E. E.
(1999), European Journal of Operational Research 114, 509-527: one container, boxes of few to many
types.

Martello, S., Pisinger, D., Vigo, D. (2000), Operations Research 48(2), 256-267: identical bins,
eight classes of items, and the lower bound L2.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

__all__ = [
    "CLASS_TYPES",
    "CONTAINER",
    "BoxType",
    "bin_side",
    "bischoff_ratcliff",
    "martello_pisinger_vigo",
    "volume_bound",
]

Size = tuple[int, int, int]

CONTAINER: Size = (587, 233, 220)
CLASS_TYPES = (1, 3, 5, 8, 10, 12, 15, 20, 30, 40, 50, 60, 70, 80, 90, 100)
"""Box types in an instance of the classes BR0 to BR15."""

MODULUS = 2**31 - 1
SMALLEST, LARGEST = (30, 25, 20), (120, 100, 80)


@dataclass(frozen=True, slots=True)
class BoxType:
    """Boxes alike: sides from long to short, which of them may stand upright, and how many."""

    size: Size
    may_stand: tuple[bool, bool, bool]
    count: int


def bischoff_ratcliff(number: int, instance: int) -> tuple[BoxType, ...]:
    """Return an instance of the class BR`number`, from 0 to 15; instances run from 1 to 100."""
    draws = _lehmer(2_502_505 + 100 * (instance - 1))
    for _ in range(10):
        next(draws)
    types = CLASS_TYPES[number]
    sizes: list[Size] = []
    for _ in range(types):
        a, b, c = sorted(
            (
                low + next(draws) * (high - low + 1) // MODULUS
                for low, high in zip(SMALLEST, LARGEST, strict=True)
            ),
            reverse=True,
        )
        sizes.append((a, b, c))
    volumes = [a * b * c for a, b, c in sizes]
    counts = [1] * types
    left = CONTAINER[0] * CONTAINER[1] * CONTAINER[2] - sum(volumes)
    while volumes[more := next(draws) * types // MODULUS] <= left:
        counts[more] += 1
        left -= volumes[more]
    return tuple(
        BoxType(size, (size[0] // size[2] < 2, size[1] // size[2] < 2, True), count)
        for size, count in zip(sizes, counts, strict=True)
    )


def _lehmer(state: int) -> Iterator[int]:
    """Yield the numbers of the multiplicative generator with factor 16807."""
    while True:
        state = 16_807 * state % MODULUS
        yield state


def bin_side(number: int) -> int:
    """Return the side of the cubic bin of a class from 1 to 8."""
    return {6: 10, 7: 40}.get(number, 100)


def martello_pisinger_vigo(number: int, items: int, instance: int) -> tuple[Size, ...]:
    """Return width, height and depth of the items of an instance from 1 to 10.

    Parameters
    ----------
    number
        Class, from 1 to 8.
    items
        Number of items: 50, 100, 150 or 200 in the published set.
    instance
        From 1 to 10.
    """
    draws = _congruential(instance + items)

    def draw(low: int, high: int) -> int:
        return low + next(draws) % (high - low + 1)

    sizes: list[Size] = []
    for _ in range(items):
        kind = number
        if number <= 5:
            toss = draw(1, 10)
            kind = toss if toss <= 5 else number
        width, height, depth = (draw(*span) for span in _spans(kind, bin_side(number)))
        sizes.append((width, height, depth))
    return tuple(sizes)


def _spans(kind: int, side: int) -> Sequence[tuple[int, int]]:
    small, large = (1, side // 2), (2 * side // 3, side)
    return {
        1: (small, large, large),
        2: (large, small, large),
        3: (large, large, small),
        4: ((side // 2, side),) * 3,
        5: (small,) * 3,
        6: ((1, 10),) * 3,
        7: ((1, 35),) * 3,
        8: ((1, 100),) * 3,
    }[kind]


def _congruential(high: int) -> Iterator[int]:
    """Yield the upper bits of a 48-bit linear congruential generator, kept in two words."""
    low, mask = 0x330E, 2**32 - 1
    while True:
        high = (high * 0xDEECE66D + low * 0x5DEEC) & mask
        low = (low * 0xE66D + 0xB) & mask
        high = (high + (low >> 16)) & mask
        low &= 0xFFFF
        yield high >> 1


def volume_bound(sizes: Sequence[Size], side: int) -> int:
    """Return the lower bound L2 of Martello, Pisinger and Vigo on the number of cubic bins."""
    return max(
        _bound_along(
            [(*(size[other] for other in range(3) if other != axis), size[axis]) for size in sizes],
            side,
        )
        for axis in range(3)
    )


def _bound_along(sizes: Sequence[tuple[int, ...]], side: int) -> int:
    """L2 for one axis, which comes last: items that pass each other across it never do."""
    w, h, d = np.array(sizes, dtype=np.int64).reshape(-1, 3).T
    wide = (2 * w > side) & (2 * h > side)
    base = _bound_in_line(d[wide].tolist(), side)
    bin_volume = side**3
    best = base
    for p, q in product(_cuts(w, side), _cuts(h, side)):
        full = (w > side - p) & (h > side - q)
        counted = ~full & (wide | ((w >= p) & (h >= q)))
        needed = int((w * h * d)[counted].sum()) + int(d[full].sum()) * side * side
        best = max(best, base + -(-(needed - bin_volume * base) // bin_volume))
    return best


def _cuts(values: "np.typing.NDArray[np.int64]", side: int) -> list[int]:
    """Return the thresholds at which the sets of the bound change."""
    return sorted({side // 2, *(int(v) for v in values if 2 * v <= side)})


def _bound_in_line(depths: Sequence[int], side: int) -> int:
    """L1: items that can only lie one behind the other."""
    large = [d for d in depths if 2 * d > side]
    best = 0
    for p in {1, *(d for d in depths if 2 * d <= side)}:
        beside = [d for d in large if d <= side - p]
        small = [d for d in depths if p <= d and 2 * d <= side]
        by_length = -(-(sum(small) - (len(beside) * side - sum(beside))) // side)
        by_number = -(-(len(small) - sum((side - d) // p for d in beside)) // (side // p))
        best = max(best, by_length, by_number)
    return len(large) + best
