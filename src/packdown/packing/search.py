"""Many containers: box by box with many trial fills, then ruin and recreate."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.bins.use import TRIALS
from packdown.packing.climbing import COST as CLIMB_COST
from packdown.packing.climbing import Climbs
from packdown.packing.construct import Rows
from packdown.packing.kinds import Kinds
from packdown.packing.recipes import PLAIN
from packdown.packing.trials import Counts, Trials, Worths

__all__ = ["Search", "State"]

HARDER, FADING = 1.1, 0.95
"""How the priority of what is hard to place grows, and how it fades, each round."""
JOINS = 0.6
"""Share of rounds that try to join the contents of containers, if there are few items."""
CHOICES = 3
"""Sorts of container that are tried side by side, the most promising ones."""

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
        self.need, self.volume = kinds.need, kinds.volume
        self.weights = kinds.kind_rows[:, at.KIND_WEIGHT]
        self.trials = Trials(kinds, self.draw, stop)
        self.few, self.climbs = kinds.few, Climbs(kinds, stop)
        self.inside = self.trials.inside
        self.sort = [
            (kinds.boxes[index].tobytes(), kinds.fits[index].tobytes())
            for index in range(len(self.inside))
        ]

    def run(self, effort: int, progress: Callable[[float], None]) -> State:
        """Return the best state; the first complete greedy always finishes.

        Twice its cost in constructions is the unit of effort.
        """
        with self.trials as trials:
            best = current = self._refined({}, self.kinds.counts, wander=0.0)
            trials.may_skip, trials.number = True, 2
            trials.first_recipe = PLAIN
            budget = 2 * effort * trials.made
            while trials.made < budget and not self.stop() and not self._least(best):
                progress(trials.made / budget)
                fewer = self._fewer(best)
                if fewer is not None:
                    best = current = fewer
                    continue
                self._harden(current)
                if self.few and self.draw.random() < JOINS:
                    found = self._joined(current)
                else:
                    found = self._recreate(current)
                if self.score(found) <= self.score(current):
                    current = found
                best = min(best, current, key=self.score)
            best = self._downsized(best)
        progress(1.0)
        return best

    def _fewer(self, state: State) -> State | None:
        """Return a state with a container fewer, or with a place for everything, if one is found.

        None as well where that is not due, or the round ended without it.
        """
        rounds = self.trials.eliminations
        if not rounds.due(self.trials.made) or len(state.rows) < 2:
            return None
        weakest = None if state.left.any() else self._weakest(state)
        self.trials.made += TRIALS
        rows = rounds.round(state.rows, weakest, state.left)
        if rows is None:
            return None
        filled = {index: own for index, own in rows.items() if len(own)}
        return State(filled, np.zeros_like(state.left))

    def one(self, container: int, effort: int) -> Rows:
        """Return the best fill of one container."""
        everything = self.kinds.counts
        with self.trials as trials:
            trials.may_skip = True
            best = trials.best([container], everything, trials.share)
            for _ in range(effort - 1):
                if len(best.rows) == everything.sum():
                    break
                if self.few:
                    rows = self._climbed(container, everything)
                    if len(rows) == everything.sum():
                        return rows
                found = trials.best([container], everything, trials.share)
                best = max(best, found, key=lambda filled: filled.worth)
        return best.rows

    def score(self, state: State) -> Score:
        """Score a state; less is better, the first number first.

        What has no place, by the volume it needs; containers in use; their litres; and, so that
        the weakest container grows weaker, the sum of their squared fills, negative.
        """
        fills = [self._fullness(index, rows) for index, rows in state.rows.items()]
        return (
            float(state.left @ self.need),
            len(fills),
            sum(self.inside[index] for index in state.rows),
            -sum(fill * fill for fill in fills),
        )

    def _fullness(self, container: int, rows: Rows) -> float:
        """Return the share of its room or its payload that is used, whichever is more."""
        own = rows[:, at.ROW_KIND]
        payload = max(1, int(self.kinds.boxes[container, at.BOX_PAYLOAD]))
        return max(
            float(self.need[own].sum()) / self.inside[container],
            float(self.weights[own].sum()) / payload,
        )

    def _least(self, state: State) -> bool:
        """Whether everything has a place, in containers that no others could be less than.

        That is certain where volume alone needs as many of the largest, and none is smaller.
        """
        if state.left.any():
            return False
        largest = sorted(self.inside, reverse=True)[: len(state.rows) - 1]
        litres = sum(self.inside[index] for index in state.rows)
        alike = litres == len(state.rows) * min(self.inside)
        return alike and sum(largest) < self.volume

    def _weakest(self, state: State) -> int:
        """Return the container with the least in it."""
        return min(state.rows, key=lambda index: self._fullness(index, state.rows[index]))

    def _count(self, rows: Rows) -> Counts:
        return np.bincount(rows[:, at.ROW_KIND], minlength=len(self.need))

    def _sorts(self, containers: Iterable[int]) -> list[int]:
        """Return one container of each sort, the first."""
        firsts = {self.sort[index]: index for index in sorted(containers, reverse=True)}
        return list(firsts.values())

    def _greedy(self, rows: dict[int, Rows], left: Counts, *, wander: float) -> State:
        """Fill unused containers one by one, the most promising first, until nothing more fits.

        Before each, the smallest that might take all that is left is tried.
        """
        rows, left = dict(rows), left.copy()
        unused = {index for index in range(len(self.inside)) if index not in rows}
        while unused and left.any():
            snug = self._snug(unused, left)
            if snug is not None:
                rows[snug[0]] = snug[1]
                left = left - left
                break
            prices = self.trials.prices(sorted(unused))
            choices = self._promising(unused, left, prices, wander)
            found = self.trials.best(choices, left, prices)
            if len(found.rows):
                rows[found.container] = found.rows
                left = left - self._count(found.rows)
                unused.remove(found.container)
            else:
                poor = {self.sort[index] for index in choices}
                unused = {index for index in unused if self.sort[index] not in poor}
        return State(rows, left)

    def _refined(self, rows: dict[int, Rows], left: Counts, *, wander: float) -> State:
        """Pack what is awkward first, then all else into its hollows and around it."""
        awkward = np.where(self.kinds.awkward, left, 0)
        state = self._greedy(rows, awkward, wander=wander)
        rows, left = state.rows, left - awkward + state.left
        order = sorted(rows, key=lambda index: -self._fullness(index, rows[index]))
        return self._greedy(*self._topped_up(rows, left, order), wander=wander)

    def _topped_up(
        self, rows: dict[int, Rows], left: Counts, order: Iterable[int]
    ) -> tuple[dict[int, Rows], Counts]:
        """Add to what lies in some containers; return all rows, and what is still left."""
        rows = dict(rows)
        for index in order:
            prices = self.trials.prices([index, *self._unused(rows)])
            added = self.trials.best([index], left, prices, rows[index]).rows
            left = left - self._count(added[len(rows[index]) :])
            rows[index] = added
        return rows, left

    def _promising(
        self, unused: set[int], left: Counts, prices: Worths, wander: float
    ) -> list[int]:
        """Return the containers, one of a sort, that might take most of what is left."""
        promise = {
            index: self.trials.promise(index, left, prices) * self.draw.lognormvariate(0, wander)
            for index in self._sorts(unused)
        }
        order = sorted(promise, key=lambda index: (-promise[index], self.inside[index], index))
        return order[:CHOICES]

    def _snug(self, choices: Iterable[int], load: Counts) -> tuple[int, Rows] | None:
        """Return the smallest container that takes a whole load, and its fill.

        Only containers with room for all that the load needs are tried.
        """
        needs, weight = float(load @ self.need), load @ self.weights
        for index in sorted(self._sorts(choices), key=lambda index: (self.inside[index], index)):
            if (
                needs <= self.inside[index]
                and weight <= self.kinds.boxes[index, at.BOX_PAYLOAD]
                and self.kinds.fits[index][load > 0].all()
            ):
                found = self.trials.best([index], load, self.trials.share, whole=True)
                if len(found.rows) == load.sum():
                    return index, found.rows
        return None

    def _recreate(self, state: State) -> State:
        """Empty some containers wholly and others in part, then pack what came out again."""
        order = sorted(state.rows, key=lambda index: self._fullness(index, state.rows[index]))
        if self.draw.random() < 0.4:
            self.draw.shuffle(order)
        number = min(len(order), self.draw.choice((1, 2, 2, 3)))
        emptied = set(order[:1] + self.draw.sample(order[1:], number - 1)) if order else set()
        rows = {index: own for index, own in state.rows.items() if index not in emptied}
        for index in self.draw.sample(sorted(rows), min(len(rows), self.draw.choice((0, 1, 2, 3)))):
            rows[index] = self._lifted(rows[index])
        left = self.kinds.counts - sum((self._count(own) for own in rows.values()), 0)
        opened = [index for index in rows if len(rows[index]) < len(state.rows[index])]
        rows, left = self._topped_up(rows, left, opened)
        rows = {index: own for index, own in rows.items() if len(own)}
        fill = self._refined if self.draw.random() < 0.5 else self._greedy
        return fill(rows, left, wander=0.3)

    def _joined(self, state: State) -> State:
        """Try to put what lies in some containers, or has no place, into one container fewer."""
        order = self.draw.sample(sorted(state.rows), len(state.rows))
        emptied = order[: self.draw.choice((1, 2)) + (not state.left.any())]
        rows = {index: own for index, own in state.rows.items() if index not in emptied}
        left: Counts = self.kinds.counts - sum((self._count(own) for own in rows.values()), 0)
        for _ in range(max(1, len(emptied) - 1)):
            choices = [
                index
                for index in self._sorts(self._unused(rows))
                if self.kinds.fits[index, left > 0].any()
            ]
            if choices:
                index = self.draw.choice(choices)
                rows[index] = self._climbed(index, left)
                left = left - self._count(rows[index])
        return state if left.any() else State(rows, left)

    def _climbed(self, container: int, load: Counts) -> Rows:
        """Return the best of very many fills of an empty container."""
        self.trials.made += CLIMB_COST
        return self.climbs.fill(container, load, self.trials.share, self.draw.getrandbits(31))

    def _unused(self, rows: dict[int, Rows]) -> list[int]:
        return [index for index in range(len(self.inside)) if index not in rows]

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
        boost = 1.0 + (self.trials.boost - 1.0) * FADING
        boost[state.left > 0] *= HARDER
        if state.rows:
            weak = self._weakest(state)
            boost[np.unique(state.rows[weak][:, at.ROW_KIND])] *= HARDER
        self.trials.boost = boost

    def _downsized(self, state: State) -> State:
        """Move what lies in one container to a smaller unused one, where it fits."""
        rows = dict(state.rows)
        for index in sorted(rows, key=lambda index: self._fullness(index, rows[index])):
            smaller = [
                other for other in self._unused(rows) if self.inside[other] < self.inside[index]
            ]
            snug = self._snug(smaller, self._count(rows[index]))
            if snug is not None:
                del rows[index]
                rows[snug[0]] = snug[1]
        return State(rows, state.left)
