"""The bundles of arrays that the loops of load spaces work on."""

from typing import Any, NamedTuple

from numba import types

from packdown.packing.kernels.compiled import F1, I1, I2, Ints, Reals

__all__ = ["Boot", "BootType", "Stow", "StowType"]


class Boot(NamedTuple):
    """What stays the same: the columns are those of `loads.layout`.

    Parameters
    ----------
    boxes
        The containers.
    blocked
        Cuboids that are taken away from the inside.
    place
        Size, limits and opening of the load space.
    """

    boxes: Ints
    blocked: Ints
    place: Ints


class Stow(NamedTuple):
    """One construction: what is wished, and what comes of it.

    Parameters
    ----------
    order
        Containers in loading order.
    turns, ends, sides
        For each container its turn, or that either will do, and to which end and to which
        side it is drawn or upwards, or whether it is left behind.
    whims
        Weights of height, of the distance to the end, and of the distance to the left.
    placed
        What is loaded, in loading order.
    below
        1 where the second, loaded, carries the first.
    loads
        Weight that stands on each that is loaded.
    path
        Corners of the way in of one container; the first row of `paths` that is free.
    paths, corners
        All ways in, one after the other, and how many corners each has.
    spots
        Work space: places along one axis that are worth a try.
    carriers
        Work space: what would carry one more.
    """

    order: Ints
    turns: Ints
    ends: Ints
    sides: Ints
    whims: Reals
    placed: Ints
    below: Ints
    loads: Ints
    path: Ints
    paths: Ints
    corners: Ints
    spots: Ints
    carriers: Ints


_bundle: Any = types.NamedTuple
BootType = _bundle((I2, I2, I1), Boot)
StowType = _bundle((I1, I1, I1, I1, F1, I2, I2, I1, I2, I2, I1, I2, I1), Stow)
