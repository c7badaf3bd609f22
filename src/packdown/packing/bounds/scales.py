"""Dual feasible functions: lengths scaled so that what fits side by side still does.

If lengths that together are no longer than a side are scaled, they are together no longer than
the scaled side. Boxes that lie apart in a container therefore have, scaled along each axis, no
more volume than the scaled container. All values are whole numbers, so nothing is rounded.

References
----------
Fekete, S. P., Schepers, J. (2004), Mathematical Methods of Operations Research 60(2), 311-329:
`jumps`, `cut`, and volumes scaled along each axis. Carlier, J., Clautiaux, F., Moukrim, A. (2007),
Computers & Operations Research 34(8), 2223-2250: `steps`. Burdett, C. A., Johnson, E. L. (1977),
Annals of Discrete Mathematics 1, 117-143: `rises`. Martello, S., Toth, P. (1990), Discrete Applied
Mathematics 28(1), 59-70: the bounds in which `cut`, `large` and `counted` are implicit.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["FAMILIES", "LARGE", "SAME", "Family", "Lengths", "Scale", "counted", "cut"]

Lengths = NDArray[np.int64]
"""Lengths of at least 1, none longer than the side."""
Rule = Callable[[Lengths, int, Lengths], Lengths]
"""A function of lengths, the side, and a parameter; the arrays are broadcast."""

MOST = 64
"""Parameters of one family that are tried on one axis. Fewer can only weaken a bound."""


def same(lengths: Lengths, side: int, parameter: Lengths) -> Lengths:
    """Leave lengths as they are."""
    del side
    return lengths + 0 * parameter


def large(lengths: Lengths, side: int, parameter: Lengths) -> Lengths:
    """Count what is longer than half of the side."""
    return np.where(2 * lengths > side, 1, 0) + 0 * parameter


def cut(lengths: Lengths, side: int, least: Lengths) -> Lengths:
    """Drop what is shorter than a length, at most half of the side; round up what leaves less."""
    return np.where(lengths > side - least, side, np.where(lengths < least, 0, lengths))


def counted(lengths: Lengths, side: int, least: Lengths) -> Lengths:
    """Count what is at least a length, of which the side holds so many."""
    small = np.where(lengths < least, 0, 1)
    return np.where(2 * lengths > side, side // least - (side - lengths) // least, small)


def steps(lengths: Lengths, side: int, step: Lengths) -> Lengths:
    """Count whole steps: below half of the side those in it, above those it leaves."""
    whole = side // step
    low, high = 2 * (lengths // step), 2 * (whole - (side - lengths) // step)
    return np.where(2 * lengths < side, low, np.where(2 * lengths > side, high, whole))


def rises(lengths: Lengths, side: int, step: Lengths) -> Lengths:
    """Count whole steps, and of a step begun what is more than the side leaves over."""
    over = side % step
    begun = lengths % step - over
    return (step - over) * (lengths // step) + np.where(begun > 0, begun, 0)


def jumps(lengths: Lengths, side: int, parts: Lengths) -> Lengths:
    """Round down to multiples of the side over some parts, but leave what just fills parts + 1."""
    exact = lengths * (parts + 1) % side == 0
    return np.where(exact, lengths * parts, lengths * (parts + 1) // side * side)


@dataclass(frozen=True, slots=True)
class Scale:
    """One dual feasible function: a rule with its parameter."""

    rule: Rule
    parameter: int

    def __call__(self, lengths: Lengths, side: int) -> Lengths:
        """Return scaled lengths."""
        return self.rule(lengths, side, np.array(self.parameter))

    def of(self, side: int) -> int:
        """Return the scaled side."""
        return int(self(np.array([side]), side)[0])


SAME, LARGE = Scale(same, 0), Scale(large, 0)


@dataclass(frozen=True, slots=True)
class Family:
    """A rule, and the parameters worth trying for some lengths and a side."""

    rule: Rule
    choose: Callable[[Lengths, int], Lengths]

    def parameters(self, lengths: Lengths, side: int) -> Lengths:
        """Return parameters in order; of too many, some that are spread evenly."""
        found = np.unique(self.choose(lengths, side))
        if len(found) > MOST:
            found = found[np.linspace(0, len(found) - 1, MOST).astype(np.int64)]
        return found

    def table(self, lengths: Lengths, side: int) -> tuple[list[Scale], NDArray[np.float64]]:
        """Return scales, and a row of shares of the scaled side for each of them."""
        parameters = self.parameters(lengths, side)
        column = parameters[:, None]
        values = self.rule(lengths[None, :], side, column)
        whole = self.rule(np.array([[side]]), side, column)
        return [Scale(self.rule, int(one)) for one in parameters], values / whole


def _none(lengths: Lengths, side: int) -> Lengths:
    del lengths, side
    return np.zeros(1, np.int64)


def _short(lengths: Lengths, side: int) -> Lengths:
    return lengths[2 * lengths <= side]


def _strides(lengths: Lengths, side: int) -> Lengths:
    """Return steps that divide lengths, or the side, into few parts."""
    sizes = np.concatenate(
        [
            *(lengths // parts for parts in (1, 2, 3)),
            (side - lengths) + 1,
            side // np.arange(2, 8) + 1,
            side // np.arange(2, 8),
        ]
    )
    return sizes[(sizes > 0) & (2 * sizes <= side)]


def _few(lengths: Lengths, side: int) -> Lengths:
    del lengths, side
    return np.arange(1, 10)


FAMILIES = (
    Family(same, _none),
    Family(large, _none),
    Family(cut, _short),
    Family(steps, _strides),
    Family(rises, _strides),
    Family(jumps, _few),
)
"""All families that a search for bounds draws on."""
