"""The bundles of arrays that the loops of bins work on."""

from typing import Any, NamedTuple

from numba import types

from packdown.packing.kernels.compiled import F1, I1, I2, Ints, Reals

__all__ = ["Bench", "BenchType", "Bins", "BinsType", "Hold", "HoldType"]


class Bins(NamedTuple):
    """What stays the same: the columns are those of `bins.layout`.

    Parameters
    ----------
    bins
        Inner sizes and payloads.
    boxes
        The boxes, a row each.
    lies
        Sizes of the ways in which boxes may lie, those of one box together.
    volume
        Volume of each box.
    """

    bins: Ints
    boxes: Ints
    lies: Ints
    volume: Reals


class Hold(NamedTuple):
    """Where each box lies.

    Parameters
    ----------
    bin_of
        Its bin, or `POOL`.
    lie_of
        How it lies, or `UNMOVED`.
    corner
        Its lower corner.
    price
        What a unit of its volume costs in the pool: more for what was left there often.
    """

    bin_of: Ints
    lie_of: Ints
    corner: Ints
    price: Reals


class Bench(NamedTuple):
    """Work space of one thread.

    Parameters
    ----------
    order, key
        Boxes that are placed again, in order, and what they are sorted by.
    into, lie, corner
        For each of them the bin, how it lies, and its lower corner.
    chosen, number
        Whether a bin is emptied, and how many boxes each bin has.
    held
        Share of each bin that is filled.
    whims
        Random weights of the axes.
    seed
        State of the random numbers.
    """

    order: Ints
    key: Reals
    into: Ints
    lie: Ints
    corner: Ints
    chosen: Ints
    number: Ints
    held: Reals
    whims: Reals
    seed: Ints


_bundle: Any = types.NamedTuple
BinsType = _bundle((I2, I2, I2, F1), Bins)
HoldType = _bundle((I1, I1, I2, F1), Hold)
BenchType = _bundle((I1, F1, I1, I1, I2, I1, I1, F1, F1, I1), Bench)
