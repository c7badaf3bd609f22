"""Trial fills of containers, several side by side, and which of them is best."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from random import Random
from typing import Self

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.bins.use import Eliminations
from packdown.packing.blocks.use import BlockTrials
from packdown.packing.construct import EMPTY, Rows, construct
from packdown.packing.kinds import Kinds
from packdown.packing.recipes import recipe

__all__ = ["Counts", "Filled", "Trials", "Worths"]

THREADS = 2
WORTH_A_THREAD = 60
"""With fewer items than this, threads cost more than they save."""
LAST_CHANCE = 8.0
"""How much more a place is worth to what has room in one container alone."""
HOPELESS = 0.75
"""A load of which the first trials take less than this share is not tried further."""

Counts = NDArray[np.int64]
"""How many items of each kind."""
Worths = NDArray[np.float64]
"""What an item of each kind is worth."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A container, what lies in it, and what that is worth."""

    container: int
    rows: Rows
    worth: float


class Trials:
    """Makes trial fills and counts them; a context, as its threads end with it.

    The same trials are made with one thread or more: they go in batches of equal size.

    Parameters
    ----------
    kinds
        The problem.
    draw
        Draws the seeds of the trials.
    stop
        Asked before each trial.
    """

    def __init__(self, kinds: Kinds, draw: Random, stop: Callable[[], bool]) -> None:
        self.kinds = kinds
        self.draw = draw
        self.stop = stop
        self.made = 0
        self.number = max(4, min(32, 1_200 // max(1, int(kinds.counts.sum()))))
        self.first_recipe = 0
        self.may_skip = False
        self.boost = np.ones(len(kinds.items))
        self.inside = [int(np.prod(c.inner_um, dtype=object)) for c in kinds.containers]
        self.share = _shares(kinds, self.inside)
        self._threads = ThreadPoolExecutor(THREADS)
        self._blocks = BlockTrials(kinds, self.inside, self._threads, stop)
        self.eliminations = Eliminations(kinds, self._threads, stop, draw)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._threads.shutdown()

    def prices(self, choices: Sequence[int]) -> Worths:
        """Return what it is worth to place an item of each kind while some containers are unused.

        Its share of all room and payload; more if it was hard to place, or has few homes left.
        """
        homes = self.kinds.fits[choices].sum(axis=0)
        prices: Worths = self.share * self.boost * (1 + LAST_CHANCE / np.maximum(1, homes))
        return prices

    def best(
        self,
        choices: Sequence[int],
        load: Counts,
        prices: Worths,
        rows: Rows = EMPTY,
        *,
        whole: bool = False,
    ) -> Filled:
        """Return the best of many trial fills, the earliest among equals.

        Parameters
        ----------
        choices
            Containers, one of which is filled.
        load
            How many items of each kind there are.
        prices
            What each item is worth.
        rows
            What lies in the container already.
        whole
            Whether only a fill that takes the whole load is of use.
        """
        jobs = [
            (container, number, self.draw.getrandbits(64))
            for number in range(max(2, -(-self.number // len(choices))))
            for container in choices
        ]
        boost = prices / self.share

        def trial(job: tuple[int, int, int]) -> Filled:
            container, number, seed = job
            if self.stop() and (number or self.may_skip):
                return Filled(container, rows, 0.0)
            plan = recipe(self.kinds, boost, number + self.first_recipe, seed)
            found = construct(self.kinds, container, load, plan, rows)
            return Filled(container, found, float(prices[found[len(rows) :, at.ROW_KIND]].sum()))

        side_by_side = self._threads.map if load.sum() >= WORTH_A_THREAD else map
        best, everything = Filled(choices[0], rows, 0.0), float(prices @ load)
        for start in range(0, len(jobs), THREADS):
            batch = jobs[start : start + THREADS]
            self.made += len(batch)
            best = max(best, *side_by_side(trial, batch), key=lambda filled: filled.worth)
            if len(best.rows) == len(rows) + load.sum():
                break
            if whole and best.worth < HOPELESS * everything:
                break
        if self.may_skip and not whole and not len(rows) and len(best.rows) < load.sum():
            with_blocks = self._with_blocks(best.container, load, prices)
            best = max(best, with_blocks, key=lambda filled: filled.worth)
        return best

    def _with_blocks(self, container: int, load: Counts, prices: Worths) -> Filled:
        """Return a fill with blocks of boxes and whatever has a place beside them."""
        rows, made = self._blocks.fill(container, load)
        if not len(rows):
            return Filled(container, rows, 0.0)
        self.made += made + 1
        left = load - np.bincount(rows[:, at.ROW_KIND], minlength=len(load))
        plan = recipe(self.kinds, prices / self.share, 0, 0)
        found = construct(self.kinds, container, left, plan, rows)
        return Filled(container, found, float(prices[found[:, at.ROW_KIND]].sum()))

    def promise(self, container: int, load: Counts, prices: Worths) -> float:
        """Return what a container might take at most, by volume and by weight alone."""
        usable = np.where(self.kinds.fits[container], load, 0)
        weights = self.kinds.kind_rows[:, at.KIND_WEIGHT]
        return min(
            _knapsack(prices, self.kinds.need, usable, self.inside[container]),
            _knapsack(prices, weights, usable, self.kinds.boxes[container, at.BOX_PAYLOAD]),
        )


def _shares(kinds: Kinds, inside: Sequence[int]) -> Worths:
    """Return the share of all room, and of all payload, that an item of each kind takes."""
    room, payload = float(sum(inside)), float(kinds.boxes[:, at.BOX_PAYLOAD].sum())
    weights = kinds.kind_rows[:, at.KIND_WEIGHT]
    return kinds.need / max(1.0, room) + weights / max(1.0, payload)


def _knapsack(
    prices: Worths,
    takes: Worths | NDArray[np.int64],
    load: Counts,
    limit: float,
) -> float:
    """Return the worth of the best load when items may be cut (Dantzig, G. B. (1957))."""
    order = np.argsort(-prices / np.maximum(takes, 1), kind="stable")
    taken = np.cumsum((load * takes)[order])
    before = taken - (load * takes)[order]
    part = np.clip((limit - before) / np.maximum(taken - before, 1e-9), 0.0, 1.0)
    return float((part * (load * prices)[order]).sum())
