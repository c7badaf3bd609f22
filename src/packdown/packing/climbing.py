"""Small loads: many recipes for one container, each a small change of the best so far."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from random import Random

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.construct import EMPTY, Room, Rows, setup_of
from packdown.packing.kernels.climb import climb
from packdown.packing.kernels.draw import MODULUS
from packdown.packing.kinds import Kinds
from packdown.packing.recipes import PLAIN, Recipe, recipe

__all__ = ["COST", "Climbs"]

TRIES, CHUNK = 512, 64
"""Constructions of one climb, and how many are made before the clock is looked at."""
COST = 32
"""What a climb counts as in constructions made one by one, which take much longer each."""
FRESH = 1_024
"""Constructions after which a climb that gains nothing begins anew."""


@dataclass(slots=True)
class _Lead:
    """The best recipe for one load and sort of container, its worth, and its fruitless tries."""

    plan: Recipe
    worth: float = -1.0
    idle: int = 0


class Climbs:
    """Climbs for the loads of one problem; each goes on where it ended.

    Parameters
    ----------
    kinds
        The problem.
    stop
        Asked now and then; once true, a climb ends.
    """

    def __init__(self, kinds: Kinds, stop: Callable[[], bool]) -> None:
        self.kinds = kinds
        self.stop = stop
        self._leads: dict[tuple[int, bytes], _Lead] = {}

    def fill(
        self,
        container: int,
        load: NDArray[np.int64],
        prices: NDArray[np.float64],
        seed: int,
        tries: int = TRIES,
    ) -> Rows:
        """Return the best fill of an empty container that some tries come upon.

        Parameters
        ----------
        container
            Row of the container.
        load, prices
            How many items there are of each kind, and what one is worth.
        seed
            Decides all that is random.
        tries
            How many constructions are made at most.
        """
        usable = np.where(self.kinds.fits[container], load, 0)
        draw, best = Random(seed), EMPTY
        if not usable.any():
            return best
        for _ in range(0, tries, CHUNK):
            key = (container, usable.tobytes())
            lead = self._leads.get(key)
            if lead is None or lead.idle >= FRESH:
                plan = recipe(self.kinds, np.ones(len(load)), PLAIN, draw.getrandbits(64))
                own = plan.order[usable[plan.order] > 0]
                lead = self._leads[key] = _Lead(replace(plan, order=own))
            rows = self._climbed(container, usable, prices, lead, draw.randrange(1, MODULUS))
            if prices[rows[:, at.ROW_KIND]].sum() >= prices[best[:, at.ROW_KIND]].sum():
                best = rows
            if len(best) == usable.sum() or self.stop():
                break
        return best

    def _climbed(
        self,
        container: int,
        load: NDArray[np.int64],
        prices: NDArray[np.float64],
        lead: _Lead,
        seed: int,
    ) -> Rows:
        """Make some tries; the lead becomes the best of them, unless it was better."""
        room = Room.for_(self.kinds, load, EMPTY)
        while True:
            plan, new = lead.plan.copy(), lead.plan.copy()
            rows = np.zeros((room.items, at.ROW_COLUMNS), np.int64)
            worth = np.array([lead.worth])
            count = climb(
                setup_of(self.kinds, container), room.state(), self.kinds.ways, load, prices,
                np.array([seed]), plan.order, plan.weights, plan.bias,
                new.order, new.weights, new.bias, rows.copy(), rows,
                load.copy(), np.zeros(4, np.int64), np.zeros(len(load), np.int64), worth, CHUNK,
            )  # fmt: skip
            if count != at.NO_ROOM:
                break
            room = room.enlarged()
        if count < 0:
            raise AssertionError("an empty container breaks a rule")
        lead.idle = 0 if worth[0] > lead.worth else lead.idle + CHUNK
        lead.plan, lead.worth = plan, float(worth[0])
        return rows[:count]
