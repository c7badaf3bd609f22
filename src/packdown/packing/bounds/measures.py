"""How much of a container's room things take, measured in many ways, each of them valid.

A measure weighs boxes so that what lies apart in a container never weighs more than the whole
container. What a thing takes is the least over the ways it may lie. Measures are scaled to cubic
micrometres of the container: its share of the measure, times its volume, rounded down.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import prod

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import Vector
from packdown.packing.bounds.scales import SAME, Scale

__all__ = ["VOLUME", "Boxes", "Floats", "Lie", "Load", "Measure", "Scaled", "Slabs"]

Lie = tuple[Vector, ...]
"""Sizes of the disjoint boxes of a thing that lies in one way."""
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Load:
    """Kinds of thing that may go into a container of one sort.

    Parameters
    ----------
    side
        Extent of the container along x, y and z.
    lies
        For each kind the ways it may lie in it; none if it has no room or none is certain.
    numbers
        How many there are of each kind.
    """

    side: Vector
    lies: tuple[tuple[Lie, ...], ...]
    numbers: tuple[int, ...]

    @property
    def volume_um3(self) -> int:
        """Volume of the container."""
        return prod(self.side)

    def boxes(self) -> "Boxes":
        """Return all boxes of all ways of lying in arrays."""
        kinds = [index for index, ways in enumerate(self.lies) if ways]
        ways = [lie for index in kinds for lie in self.lies[index]]
        sizes = np.array([box for lie in ways for box in lie], dtype=np.int64).reshape(-1, 3)
        return Boxes(
            sizes,
            _starts(len(lie) for lie in ways),
            _starts(len(self.lies[index]) for index in kinds),
            np.array([self.numbers[index] for index in kinds], dtype=np.float64),
        )


def _starts(counts: Iterable[int]) -> NDArray[np.int64]:
    return np.cumsum([0, *counts])[:-1].astype(np.int64)


@dataclass(frozen=True)
class Boxes:
    """Boxes of all ways of lying; the first box of each way, the first way of each kind."""

    sizes: NDArray[np.int64]
    ways: NDArray[np.int64]
    kinds: NDArray[np.int64]
    numbers: Floats

    def total(self, weights: Floats) -> Floats:
        """Return what all things weigh at least, for each row of weights of boxes."""
        each = np.minimum.reduceat(np.add.reduceat(weights, self.ways, axis=1), self.kinds, axis=1)
        return each @ self.numbers

    @cached_property
    def lengths(self) -> tuple[NDArray[np.int64], ...]:
        """Return the different lengths along each axis."""
        return tuple(np.unique(self.sizes[:, axis]) for axis in range(3))


class Measure:
    """A way of weighing boxes by which no container holds more than its own weight."""

    def weight(self, box: Vector, side: Vector) -> int:
        """Return the weight of a box in a container."""
        raise NotImplementedError

    def takes(self, load: Load) -> tuple[int, ...]:
        """Return what each kind takes at least, in cubic micrometres of the container."""
        whole, volume = self.weight(load.side, load.side), load.volume_um3
        known: dict[Vector, int] = {}

        def weigh(box: Vector) -> int:
            if box not in known:
                known[box] = self.weight(box, load.side)
            return known[box]

        return tuple(
            min((sum(weigh(box) for box in lie) for lie in ways), default=0) * volume // whole
            for ways in load.lies
        )


@dataclass(frozen=True, slots=True)
class Scaled(Measure):
    """Volume after a dual feasible function along each of the three axes."""

    scales: tuple[Scale, ...]

    def weight(self, box: Vector, side: Vector) -> int:
        """Return the scaled volume."""
        return prod(
            int(scale(np.array([length]), whole)[0])
            for scale, length, whole in zip(self.scales, box, side, strict=True)
        )


VOLUME = Scaled((SAME, SAME, SAME))


@dataclass(frozen=True, slots=True)
class Slabs(Measure):
    """Volume of what is not too short across an axis; what nothing can pass takes a whole slab.

    The second part of L2: Martello, S., Pisinger, D., Vigo, D. (2000), Operations Research 48(2),
    256-267.

    Parameters
    ----------
    axis
        Along which slabs follow each other.
    least
        Shortest lengths that count across it, at most half of the sides.
    """

    axis: int
    least: tuple[int, int]

    def weight(self, box: Vector, side: Vector) -> int:
        """Return the volume of a box, or of its slab, or 0."""
        across = [other for other in range(3) if other != self.axis]
        sides = list(zip(self.least, (box[a] for a in across), strict=True))
        if all(own > side[a] - least for a, (least, own) in zip(across, sides, strict=True)):
            return box[self.axis] * prod(side[a] for a in across)
        return prod(box) if all(own >= least for least, own in sides) else 0
