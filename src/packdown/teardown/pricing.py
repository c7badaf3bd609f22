"""Sets of units that are worth more than they cost, found by a few minimum cuts.

The best set of a window by size alone is one minimum cut. Where it is too heavy, its weight gets a
price (Lagrange): each such price bounds what any set that is light enough can be worth.

References
----------
Picard, J.-C. (1976), Management Science 22(11), 1268-1272: maximum closures by minimum cuts.
Fisher, M. L. (1981), Management Science 27(1), 1-18: bounds by prices on what is scarce.
"""

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt
from ortools.graph.python import max_flow

from packdown.teardown.frontier import SCALE
from packdown.teardown.graph import bits
from packdown.teardown.hunt import Found
from packdown.teardown.units import Units

__all__ = ["Window"]

#: Most prices tried for the weight of one set.
WEIGHINGS = 12
#: A price of weight above all others.
DEAREST = 2**20

Ints = npt.NDArray[np.int64]


class Window:
    """Units that lie in a common window, joined by efforts.

    Parameters
    ----------
    units, mask
        The build's units, and those in the window.
    payload_g
        Most that a set may weigh.
    key_weight_g
        Weight of one key.
    """

    def __init__(self, units: Units, mask: int, payload_g: int, key_weight_g: int) -> None:
        self.units, self.mask, self.payload_g = units, mask, payload_g
        self.members = list(bits(mask))
        self.node = {unit: n for n, unit in enumerate(self.members)}
        count = len(self.members)
        inner = [pair for pair in units.efforts if pair[0] in self.node and pair[1] in self.node]
        self.ends = np.array([[self.node[a], self.node[b]] for a, b in inner], dtype=np.int64)
        self.ends = self.ends.reshape(-1, 2)
        self.edges = np.array([units.efforts[pair] * SCALE for pair in inner], dtype=np.int64)
        #: Half the weight of the keys between two units, times two.
        self.keys = np.array([units.keys[pair] * key_weight_g for pair in inner], dtype=np.int64)
        self.outside = np.zeros(count, dtype=np.int64)
        for (a, b), effort in units.efforts.items():
            if (a in self.node) != (b in self.node):
                self.outside[self.node[a] if a in self.node else self.node[b]] += effort * SCALE
        self.weights = np.array(
            [2 * (units.weights[u] + key_weight_g * units.own_keys[u]) for u in self.members]
        )
        for column in range(2):
            np.add.at(self.weights, self.ends[:, column], self.keys)
        #: Whether all of the window is too heavy.
        self.weighed = int(self.weights.sum()) > 2 * payload_g
        self._make_flow(count)

    def _make_flow(self, count: int) -> None:
        self.flow = max_flow.SimpleMaxFlow()
        self.source, self.sink = count, count + 1
        a, b = self.ends[:, 0], self.ends[:, 1]
        self.there = self.flow.add_arcs_with_capacity(a, b, self.edges)
        self.back = self.flow.add_arcs_with_capacity(b, a, self.edges)
        index, none = np.arange(count), np.zeros(count, dtype=np.int64)
        self.gain = self.flow.add_arcs_with_capacity(np.full(count, self.source), index, none)
        self.loss = self.flow.add_arcs_with_capacity(index, np.full(count, self.sink), none)

    def best(self, prices: Sequence[int], floor: int, whole: Callable[[int], bool]) -> Found:
        """Return sets that may stay whole, and a bound of all that may be far off.

        Parameters
        ----------
        prices
            What each unit is worth.
        floor
            What a set must be worth more than.
        whole
            Whether a mask of units may stay whole.
        """
        own = np.array([prices[unit] for unit in self.members], dtype=np.int64) - self.outside
        most, sets = self._bounded(own)
        found = Found(max(floor, most), complete=False)
        if most > floor:
            for part in (part for mask in sets for part in self.units.joined(mask)):
                worth, grams = self._measures(own, part)
                if worth > floor and grams <= 2 * self.payload_g and whole(part):
                    found.masks[part] = worth
        return found

    def _bounded(self, own: Ints) -> tuple[int, tuple[int, ...]]:
        """Bound the worth of sets that are light enough, by prices on their weight."""
        most, heavy = self._dearest(own, 0)
        room = 2 * self.payload_g
        high, full = self._measures(own, heavy)
        if full <= room:
            return most, (heavy,)
        light, low, load = 0, 0, 0
        cap = self._dearest_weight()
        for _ in range(WEIGHINGS):
            weight = min(cap, max(0, -(-(high - low) // (full - load))))
            value, mask = self._dearest(own, weight)
            most = min(most, value + weight * room)
            if mask in {light, heavy}:
                break
            worth, grams = self._measures(own, mask)
            if grams <= room:
                light, low, load = mask, worth, grams
            else:
                heavy, high, full = mask, worth, grams
        return most, (light, heavy)

    def _dearest(self, own: Ints, weight: int) -> tuple[int, int]:
        """Return the most that a set is worth where a gram costs twice `weight`, and the set."""
        edges = self.edges - weight * self.keys
        self.flow.set_arcs_capacity(self.there, edges)
        self.flow.set_arcs_capacity(self.back, edges)
        net = own - weight * self.weights
        gain = np.maximum(net, 0)
        self.flow.set_arcs_capacity(self.gain, gain)
        self.flow.set_arcs_capacity(self.loss, gain - net)
        if self.flow.solve(self.source, self.sink) != self.flow.OPTIMAL:
            raise ArithmeticError("the efforts of the joints are too large to add up")
        chosen = self.flow.get_source_side_min_cut()
        mask = sum(1 << self.members[n] for n in chosen if n < len(self.members))
        return int(gain.sum()) - self.flow.optimal_flow(), mask

    def _measures(self, own: Ints, mask: int) -> tuple[int, int]:
        """Return what a set is worth, and twice its weight with the keys in it."""
        held = np.zeros(len(self.members), dtype=bool)
        held[[self.node[unit] for unit in bits(mask)]] = True
        cut = held[self.ends[:, 0]] != held[self.ends[:, 1]]
        worth = own[held].sum() - self.edges[cut].sum()
        return int(worth), int(self.weights[held].sum() - self.keys[cut].sum())

    def _dearest_weight(self) -> int:
        """Return the highest price of weight at which no edge is worth less than nothing."""
        carrying = self.keys > 0
        if not carrying.any():
            return DEAREST
        return int((self.edges[carrying] // self.keys[carrying]).min())
