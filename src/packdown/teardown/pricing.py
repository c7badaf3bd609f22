"""Find the sets of units that are worth more than they cost, window by window.

The best set of a window by size alone is one minimum cut. Where it is too heavy, its weight gets a
price (Lagrange): each such price bounds what any set that is light enough can be worth. Where the
best set still cannot stay whole, units are put in or left out one by one, best bound first.

References
----------
Picard, J.-C. (1976), Management Science 22(11), 1268-1272: maximum closures by minimum cuts.
Fisher, M. L. (1981), Management Science 27(1), 1-18: bounds by prices on what is scarce.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush

import numpy as np
import numpy.typing as npt
from ortools.graph.python import max_flow

from packdown.teardown.graph import bits
from packdown.teardown.units import Units

__all__ = ["SCALE", "Found", "Window"]

#: Prices are counted in this fraction of a second, so that cuts are exact.
SCALE = 1_000
#: Most prices tried for the weight of one set, and most sets tried where one cannot stay whole.
WEIGHINGS = 12
NODES = 200

Whole = Callable[[int], bool]
Ints = npt.NDArray[np.int64]


@dataclass(slots=True)
class Found:
    """What was found in a window.

    Parameters
    ----------
    most
        No set of the window that may stay whole is worth more.
    masks
        Sets that may stay whole, with what each is worth.
    """

    most: int
    masks: dict[int, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Bound:
    """What the sets with some units in and some out can be worth, and the sets that say so."""

    most: int
    light: int
    heavy: int


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
        self.weights = np.array([2 * units.weights[unit] for unit in self.members])
        for column in range(2):
            np.add.at(self.weights, self.ends[:, column], self.keys)
        self._make_flow(count)
        #: How many sets were tried one by one.
        self.looked = 0

    def _make_flow(self, count: int) -> None:
        self.flow = max_flow.SimpleMaxFlow()
        self.source, self.sink = count, count + 1
        a, b = self.ends[:, 0], self.ends[:, 1]
        self.there = self.flow.add_arcs_with_capacity(a, b, self.edges)
        self.back = self.flow.add_arcs_with_capacity(b, a, self.edges)
        index, none = np.arange(count), np.zeros(count, dtype=np.int64)
        self.gain = self.flow.add_arcs_with_capacity(np.full(count, self.source), index, none)
        self.loss = self.flow.add_arcs_with_capacity(index, np.full(count, self.sink), none)
        #: More than all that units and edges can be worth.
        self.endless = 2**40

    def _dearest(self, own: Ints, weight: int, inside: int, outside: int) -> tuple[int, int]:
        """Return the most that a set is worth where a gram costs twice `weight`, and the set."""
        edges = self.edges - weight * self.keys
        self.flow.set_arcs_capacity(self.there, edges)
        self.flow.set_arcs_capacity(self.back, edges)
        net = own - self.outside - weight * self.weights
        for unit in bits(inside):
            net[self.node[unit]] += self.endless
        for unit in bits(outside):
            net[self.node[unit]] -= self.endless
        gain = np.maximum(net, 0)
        self.flow.set_arcs_capacity(self.gain, gain)
        self.flow.set_arcs_capacity(self.loss, gain - net)
        if self.flow.solve(self.source, self.sink) != self.flow.OPTIMAL:
            raise ArithmeticError("the efforts of the joints are too large to add up")
        value = int(gain.sum()) - self.flow.optimal_flow() - inside.bit_count() * self.endless
        chosen = self.flow.get_source_side_min_cut()
        return value, sum(1 << self.members[n] for n in chosen if n < len(self.members))

    def _measures(self, own: Ints, mask: int) -> tuple[int, int]:
        """Return what a set is worth, and twice its weight with the keys in it."""
        held = np.zeros(len(self.members), dtype=bool)
        held[[self.node[unit] for unit in bits(mask)]] = True
        cut = held[self.ends[:, 0]] != held[self.ends[:, 1]]
        worth = (own - self.outside)[held].sum() - self.edges[cut].sum()
        return int(worth), int(self.weights[held].sum() - self.keys[cut].sum())

    def _own(self, prices: Sequence[int]) -> Ints:
        return np.array([prices[unit] for unit in self.members], dtype=np.int64)

    def _bounded(self, own: Ints, inside: int, outside: int) -> _Bound:
        """Bound the worth of sets that are light enough, by prices on their weight."""
        most, heavy = self._dearest(own, 0, inside, outside)
        room = 2 * self.payload_g
        high, full = self._measures(own, heavy)
        if full <= room:
            return _Bound(most, heavy, heavy)
        light, cap = inside, self._dearest_weight()
        low, load = self._measures(own, light)
        if load > room:
            return _Bound(-self.endless, 0, heavy)
        for _ in range(WEIGHINGS):
            weight = min(cap, max(0, -(-(high - low) // (full - load))))
            value, mask = self._dearest(own, weight, inside, outside)
            most = min(most, value + weight * room)
            if mask in {light, heavy}:
                break
            worth, grams = self._measures(own, mask)
            if grams <= room:
                light, low, load = mask, worth, grams
            else:
                heavy, high, full = mask, worth, grams
        return _Bound(most, light, heavy)

    def _dearest_weight(self) -> int:
        """Return the highest price of weight at which no edge is worth less than nothing."""
        carrying = self.keys > 0
        if not carrying.any():
            return self.endless >> 20
        return int((self.edges[carrying] // self.keys[carrying]).min())

    def quick(self, prices: Sequence[int], place: int, whole: Whole) -> Found:
        """Return the sets that a few cuts find, and a bound that may be far off.

        Parameters
        ----------
        prices
            What each unit is worth.
        place
            What a set must be worth.
        whole
            Whether a mask of pieces may stay whole.
        """
        own = self._own(prices)
        bound = self._bounded(own, 0, 0)
        found = Found(bound.most)
        if bound.most > place:
            self._note(own, bound, place, whole, found)
        return found

    def _note(self, own: Ints, bound: _Bound, place: int, whole: Whole, found: Found) -> None:
        """Keep the parts of a bound's sets that are worth their place and may stay whole."""
        for mask in (bound.light, bound.heavy):
            for part in self.units.joined(mask):
                if part not in found.masks:
                    worth, _ = self._measures(own, part)
                    if worth > place and (part.bit_count() == 1 or whole(self.units.pieces(part))):
                        found.masks[part] = worth

    def thorough(self, prices: Sequence[int], place: int, whole: Whole) -> Found:
        """Return the best sets, and a bound that is near them if few sets cannot stay whole.

        See `quick`.
        """
        own = self._own(prices)
        found = Found(place)
        queue: list[tuple[int, int, int, int, _Bound]] = []

        def look(inside: int, outside: int) -> None:
            outside |= self._cut_off(inside, outside)
            if inside & outside:
                return
            bound = self._bounded(own, inside, outside)
            if bound.most > place:
                self._note(own, bound, place, whole, found)
                heappush(queue, (-bound.most, len(queue), inside, outside, bound))

        look(0, 0)
        for _ in range(NODES):
            self.looked += 1
            best = max(found.masks.values(), default=place)
            if not queue or -queue[0][0] <= best:
                break
            _, _, inside, outside, bound = heappop(queue)
            unit = self._branch(bound, inside, outside)
            if unit:
                look(inside | unit, outside)
                look(inside, outside | unit)
        best = max(found.masks.values(), default=place)
        found.most = max(best, -queue[0][0] if queue else place)
        return found

    def _cut_off(self, inside: int, outside: int) -> int:
        """Return the units that nothing joins to those inside any more."""
        if not inside:
            return 0
        left = self.mask & ~outside
        first = inside & -inside
        return left & ~next(part for part in self.units.joined(left) if part & first)

    def _branch(self, bound: _Bound, inside: int, outside: int) -> int:
        """Return a unit to put in and to leave out, or 0 if all is settled."""
        free = self.mask & ~inside & ~outside
        differ = bound.heavy & ~bound.light & free
        if differ:
            return 1 << max(bits(differ), key=lambda unit: self.units.weights[unit])
        parts = self.units.joined(bound.heavy)
        if len(parts) > 1:
            near = parts[0]
            if inside:
                near = self.units.beside(next(part for part in parts if part & inside))
            if near & free:
                return near & free & -(near & free)
        some = bound.heavy & free or free
        return some & -some
