"""Many containers: box by box with many trial fills, then ruin and recreate."""

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.construct import EMPTY, Rows, construct
from packdown.packing.kinds import Kinds
from packdown.packing.recipes import PLAIN, recipe

__all__ = ["Search", "State"]

THREADS = 2
WORTH_A_THREAD = 60
"""With fewer items than this, threads cost more than they save."""
HARDER, FADING = 1.1, 0.95
"""How the priority of what is hard to place grows, and how it fades, each round."""

Counts = NDArray[np.int64]
"""How many items of each kind."""

Score = tuple[float, int, int, float]


@dataclass(frozen=True, slots=True)
class State:
    """What lies in each container in use, and how many of each kind have no place."""

    rows: dict[int, Rows]
    left: NDArray[np.int64]


class Search:
    """One search for the best packing of one problem.

    Parameters
    ----------
    kinds
        The problem.
    seed
        Decides all that is random.
    stop
        Asked between trials; once true, the best state so far is the answer.
    """

    def __init__(self, kinds: Kinds, seed: int, stop: Callable[[], bool]) -> None:
        self.kinds = kinds
        self.draw = Random(seed)
        self.stop = stop
        self.need = kinds.need
        self.boost = np.ones(len(kinds.items))
        self.scarcity = 2.0 - kinds.fits.mean(axis=0) if len(kinds.fits) else self.boost
        self.fills = 0
        self.may_skip = False
        self.first = 0
        self.trials = max(6, min(32, 1_200 // max(1, int(kinds.counts.sum()))))
        self.inside = [int(np.prod(c.inner_um, dtype=object)) for c in kinds.containers]

    def run(self, effort: int, progress: Callable[[float], None]) -> State:
        """Return the best state; the first complete greedy always finishes.

        Its cost in constructions is the unit of effort.
        """
        with ThreadPoolExecutor(THREADS) as self.threads:
            best = current = self._greedy({}, self.kinds.counts, wander=0.0)
            self.may_skip, self.trials = True, max(2, self.trials // 3)
            self.first = PLAIN
            budget = effort * self.fills
            while self.fills < budget and not self.stop():
                progress(self.fills / budget)
                self._harden(current)
                found = self._recreate(current)
                if self.score(found) <= self.score(current):
                    current = found
                best = min(best, current, key=self.score)
            best = self._downsized(best)
        progress(1.0)
        return best

    def one(self, container: int, effort: int) -> Rows:
        """Return the best fill of one container."""
        best = EMPTY
        with ThreadPoolExecutor(THREADS) as self.threads:
            for _ in range(effort):
                best = max(best, self._fill(container, self.kinds.counts), key=self._value)
                if len(best) == self.kinds.counts.sum():
                    break
        return best

    def score(self, state: State) -> Score:
        """Score a state; less is better, the first number first.

        What has no place, by the volume it needs; containers in use; their litres; and, so that
        the weakest container grows weaker, the sum of their squared fills, negative.
        """
        fills = [self._filled(index, rows) for index, rows in state.rows.items()]
        return (
            float(state.left @ self.need),
            len(fills),
            sum(self.inside[index] for index in state.rows),
            -sum(fill * fill for fill in fills),
        )

    def _filled(self, container: int, rows: Rows) -> float:
        return float(self.need[rows[:, at.ROW_KIND]].sum()) / self.inside[container]

    def _value(self, rows: Rows) -> float:
        own = rows[:, at.ROW_KIND]
        return float((self.need * self.boost)[own].sum())

    def _count(self, rows: Rows) -> Counts:
        return np.bincount(rows[:, at.ROW_KIND], minlength=len(self.need))

    def _fill(self, container: int, left: Counts, rows: Rows = EMPTY) -> Rows:
        """Return the best of many trial fills, the earliest among equals."""
        seeds = [self.draw.getrandbits(64) for _ in range(self.trials)]
        self.fills += len(seeds)
        boost = self.boost * self.scarcity

        def trial(number: int) -> Rows:
            if self.stop() and (number or self.may_skip):
                return rows
            plan = recipe(self.kinds, boost, number + self.first, seeds[number])
            return construct(self.kinds, container, left, plan, rows)

        side_by_side = self.threads.map if left.sum() >= WORTH_A_THREAD else map
        return max(side_by_side(trial, range(len(seeds))), key=self._value)

    def _greedy(self, rows: dict[int, Rows], left: Counts, *, wander: float) -> State:
        """Fill unused containers one by one, the roomiest first, until nothing more fits.

        Before each, the smallest that might take all that is left is tried.
        """
        rows, left = dict(rows), left.copy()
        unused = [index for index in range(len(self.inside)) if index not in rows]
        unused.sort(key=lambda index: self.inside[index] * self.draw.lognormvariate(0, wander))
        while unused and left.any():
            chosen = unused.pop()
            snug = self._snug([*unused, chosen], left)
            if snug is not None:
                chosen, found = snug
            else:
                found = self._fill(chosen, left)
            if len(found):
                rows[chosen] = found
                left = left - self._count(found)
        return State(rows, left)

    def _snug(self, choices: Iterable[int], load: Counts) -> tuple[int, Rows] | None:
        """Return the smallest container that takes a whole load, and its fill.

        Only containers with room for all that the load needs are tried.
        """
        needs, weight = float(load @ self.need), load @ self.kinds.kind_rows[:, at.KIND_WEIGHT]
        for index in sorted(choices, key=lambda index: (self.inside[index], index)):
            if (
                needs <= self.inside[index]
                and weight <= self.kinds.boxes[index, at.BOX_PAYLOAD]
                and self.kinds.fits[index][load > 0].all()
            ):
                rows = self._fill(index, load)
                if len(rows) == load.sum():
                    return index, rows
        return None

    def _recreate(self, state: State) -> State:
        """Empty some containers wholly and others in part, then pack what came out again."""
        order = sorted(state.rows, key=lambda index: self._filled(index, state.rows[index]))
        if self.draw.random() < 0.4:
            self.draw.shuffle(order)
        number = min(len(order), self.draw.choice((1, 2, 2, 3)))
        emptied = set(order[:1] + self.draw.sample(order[1:], number - 1)) if order else set()
        rows = {index: own for index, own in state.rows.items() if index not in emptied}
        for index in self.draw.sample(sorted(rows), min(len(rows), self.draw.choice((0, 1, 2, 3)))):
            rows[index] = self._lifted(rows[index])
        left = self.kinds.counts - sum((self._count(own) for own in rows.values()), 0)
        opened = [index for index in rows if len(rows[index]) < len(state.rows[index])]
        for index in opened:
            added = self._fill(index, left, rows[index])
            left = left - self._count(added[len(rows[index]) :])
            rows[index] = added
        rows = {index: own for index, own in rows.items() if len(own)}
        return self._greedy(rows, left, wander=0.3)

    def _lifted(self, rows: Rows) -> Rows:
        """Take off what was loaded last, and with it the whole of every cluster it is part of.

        What was loaded before it then keeps every rule.
        """
        end = len(rows) - self.draw.randint(0, len(rows) // 2)
        cluster = self.kinds.kind_rows[rows[:, at.ROW_KIND], at.KIND_CLUSTER]
        while True:
            torn = set(cluster[:end].tolist()) & set(cluster[end:].tolist()) - {-1}
            if not torn:
                return rows[:end]
            end = int(np.flatnonzero(np.isin(cluster, list(torn)))[0])

    def _harden(self, state: State) -> None:
        """Give priority to what has no place or lies in the weakest container."""
        self.boost = 1.0 + (self.boost - 1.0) * FADING
        self.boost[state.left > 0] *= HARDER
        if state.rows:
            weak = min(state.rows, key=lambda index: self._filled(index, state.rows[index]))
            self.boost[np.unique(state.rows[weak][:, at.ROW_KIND])] *= HARDER

    def _downsized(self, state: State) -> State:
        """Move what lies in one container to a smaller unused one, where it fits."""
        rows = dict(state.rows)
        for index in sorted(rows, key=lambda index: self._filled(index, rows[index])):
            smaller = [
                other
                for other in range(len(self.inside))
                if other not in rows and self.inside[other] < self.inside[index]
            ]
            snug = self._snug(smaller, self._count(rows[index]))
            if snug is not None:
                del rows[index]
                rows[snug[0]] = snug[1]
        return State(rows, state.left)
