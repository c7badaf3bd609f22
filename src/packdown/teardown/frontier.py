"""The units of a window in a row, and what those not yet decided can still add to a set.

That depends on the units decided before by two things only: which units of the frontier are in,
those that are joined to one not yet decided, and the weight that is left. Builds are narrow enough
for a table of all such states, filled from the end of the row: dynamic programming.

References
----------
Bodlaender, H. L. (1998), Theoretical Computer Science 209(1-2), 1-45: graphs of bounded width.
Pisinger, D., Toth, P. (1998), Knapsack problems, in Handbook of Combinatorial Optimization 1,
299-428: tables over the weight that is left.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from packdown.teardown.graph import bits
from packdown.teardown.units import Units

__all__ = ["SCALE", "Frontier", "Step"]

#: Prices are counted in this fraction of half a second, so that sums are exact.
SCALE = 1_000
#: Most entries of all tables of a window: weights are counted more coarsely to stay below.
ENTRIES = 6_000_000

Ints = npt.NDArray[np.int64]
Joins = Mapping[int, Mapping[int, tuple[int, int]]]
"""For each unit those it is joined to, with the effort and the grams of keys."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The deciding of one unit, for every state of the frontier before it.

    Parameters
    ----------
    unit
        The unit.
    joined
        What its joints to units that are in are worth: they need not be split from either side.
    weighs_g
        Its weight with the keys in these joints.
    without, with_it
        State of the frontier after it if it is left out, and if it is put in.
    """

    unit: int
    joined: Ints
    weighs_g: Ints
    without: Ints
    with_it: Ints


class Frontier:
    """A window's units in a row.

    Parameters
    ----------
    units, mask
        The build's units, and those in the window.
    payload_g
        Most that a set may weigh.
    key_weight_g
        Weight of one key.

    Attributes
    ----------
    mask
        The units of the window.
    steps
        The deciding of each unit; none if there are too many states for tables.
    frontiers
        Units of the frontier before each step, and after the last one.
    place
        The step of each unit.
    room_g
        Most that a set may weigh; nothing if all of the window is light enough.
    coarse_g
        Grams that the tables count as one.
    """

    def __init__(self, units: Units, mask: int, payload_g: int, key_weight_g: int) -> None:
        self.mask = mask
        self.outer = _outer(units, mask)
        joins = _joins(units, mask, key_weight_g)
        row = _row(joins)
        self.place = {unit: number for number, unit in enumerate(row)}
        members = [
            [unit for unit in row[:k] if any(self.place[other] >= k for other in joins[unit])]
            for k in range(len(row) + 1)
        ]
        self.frontiers = [sum(1 << unit for unit in some) for some in members]
        weights = {unit: units.weights[unit] + key_weight_g * units.own_keys[unit] for unit in row}
        keys = sum(grams for near in joins.values() for _, grams in near.values()) // 2
        if sum(weights.values()) + keys <= payload_g:
            payload_g, weights = 0, dict.fromkeys(weights, 0)
            joins = {a: {b: (effort, 0) for b, (effort, _) in joins[a].items()} for a in joins}
        self.room_g = payload_g
        states = sum(1 << len(some) for some in members)
        self.coarse_g = 1
        while states * (payload_g // self.coarse_g + 1) > ENTRIES and self.coarse_g <= payload_g:
            self.coarse_g += 1
        self.steps = [
            _step(unit, weights[unit], joins[unit], members[k], members[k + 1])
            for k, unit in enumerate(row if states <= ENTRIES else ())
        ]

    def own(self, prices: Sequence[int]) -> list[int]:
        """Return what each unit in the row is worth by itself: its price less all its joints."""
        return [prices[step.unit] - SCALE * self.outer[step.unit] for step in self.steps]

    def tables(self, own: Sequence[int]) -> list[Ints]:
        """Return before each step, and after the last, what the rest can add at most.

        A set is joined, so nothing is added once the frontier holds none of its units.

        Returns
        -------
        list of array
            By state of the frontier and by weight left, counted coarsely.
        """
        levels = self.room_g // self.coarse_g + 1
        after: Ints = np.zeros((1, levels), dtype=np.int64)
        found = [after]
        for step, worth in zip(reversed(self.steps), reversed(own), strict=True):
            before: Ints = after[step.without]
            loads = step.weighs_g // self.coarse_g
            for load in np.unique(loads):
                rows = np.flatnonzero(loads == load)
                if load < levels:
                    more = after[step.with_it[rows], : levels - load]
                    more += (step.joined[rows] + worth)[:, np.newaxis]
                    before[rows, load:] = np.maximum(before[rows, load:], more)
            before[0] = 0
            found.append(before)
            after = before
        return found[::-1]


def _outer(units: Units, mask: int) -> dict[int, int]:
    """Return for each unit of a mask the effort of all its joints, also those to units outside."""
    total = dict.fromkeys(bits(mask), 0)
    for pair, effort in units.efforts.items():
        for unit in pair:
            if unit in total:
                total[unit] += effort
    return total


def _joins(units: Units, mask: int, key_weight_g: int) -> dict[int, dict[int, tuple[int, int]]]:
    joins: dict[int, dict[int, tuple[int, int]]] = {unit: {} for unit in bits(mask)}
    for (a, b), effort in units.efforts.items():
        if a in joins and b in joins:
            joins[a][b] = joins[b][a] = (effort, key_weight_g * units.keys[a, b])
    return joins


def _row(joins: Joins) -> list[int]:
    """Return all units in a row with narrow frontiers: the best of one greedy row from each."""
    best: list[int] = []
    least: int | None = None
    for start in joins:
        row, states = _greedy_row(joins, start, least)
        if row:
            best, least = row, states
    return best


def _greedy_row(joins: Joins, start: int, most: int | None) -> tuple[list[int], int]:
    """Return a row from a unit on and its number of states; no row if these reach `most`."""
    left = {unit: len(near) for unit, near in joins.items()}
    row: list[int] = []
    open_ones: set[int] = set()
    states = 0

    def widens(unit: int) -> tuple[int, int]:
        """Return by how much the frontier grows."""
        closed = sum(near in open_ones and left[near] == 1 for near in joins[unit])
        return (1 if left[unit] else 0) - closed, unit

    todo = dict.fromkeys(joins)
    while todo:
        near = [unit for unit in todo if not open_ones.isdisjoint(joins[unit])]
        unit = min(near, key=widens) if near else (start if start in todo else next(iter(todo)))
        del todo[unit]
        row.append(unit)
        for other in joins[unit]:
            left[other] -= 1
        open_ones = {one for one in (*open_ones, unit) if left[one]}
        states += 1 << len(open_ones)
        if most is not None and states >= most:
            return [], states
    return row, states


def _step(
    unit: int,
    weight_g: int,
    joins: Mapping[int, tuple[int, int]],
    before: Sequence[int],
    after: Sequence[int],
) -> Step:
    states = np.arange(1 << len(before), dtype=np.int64)
    joined, without = np.zeros_like(states), np.zeros_like(states)
    weighs = np.full_like(states, weight_g)
    for number, other in enumerate(before):
        is_in = states >> number & 1
        if other in joins:
            effort, grams = joins[other]
            joined += 2 * SCALE * effort * is_in
            weighs += grams * is_in
        if other in after:
            without |= is_in << after.index(other)
    with_it = without | (1 << after.index(unit) if unit in after else 0)
    return Step(unit=unit, joined=joined, weighs_g=weighs, without=without, with_it=with_it)
