"""Column generation over windows the size of a container: a bound, and good sub-assemblies.

A split chooses sub-assemblies that hold every unit once; each costs half the effort of the joints
at its edge plus one place. The linear program over all sets of units that may stay whole relaxes
that. Sets that are missing are found window by window: by minimum cuts and by small changes as
long as these find any, then by branch and bound, which finds the dearest or proves there is none.

References
----------
Farley, A. A. (1990), Operations Research 38(5), 922-923: a bound from any prices.
Ben-Ameur, W., Neto, J. (2007), Networks 49(1), 3-17: sets are found between known prices.
Jepsen, M. et al. (2008), Operations Research 56(2), 497-511: cuts on rows in column generation.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence

from packdown.teardown.climb import Climber
from packdown.teardown.frontier import SCALE, Frontier
from packdown.teardown.hunt import Hunt, Prices, Row
from packdown.teardown.master import Master
from packdown.teardown.pricing import Window
from packdown.teardown.refusals import Refusals
from packdown.teardown.spans import window_masks
from packdown.teardown.triples import broken_triples
from packdown.teardown.units import Units
from packdown.teardown.windows import Windows

__all__ = ["Columns"]

#: Most rounds of pricing until all sets are found, over all cuts.
ROUNDS = 400
#: Most branches of one hunt in a window, and how many times more where nothing is found.
NODES, LONGER = 20_000, 8
#: Most branches of all hunts.
ALL_NODES = 1_200_000
#: How near prices that are proved must be to those of the linear program, as a share of these.
NEAR = 0.02
#: What a set must be worth above its cost to be added: prices are rounded.
LEAST = 4
#: Dearest sets of a round from which better ones are tried.
CLIMBS = 15
#: Sets kept from the start for each unit.
KEPT = 4
#: Most cuts on three units in a round.
CUTS = 30
#: More than any set is worth.
ENDLESS = 2**60


class Columns:
    """The linear program over all sets of one build that may stay whole.

    Parameters
    ----------
    windows
        The build, the rooms and the rules; at least one room.
    parts
        Masks of the pieces of known sub-assemblies.
    stop
        Asked in every round; once true, the rounds end.

    Attributes
    ----------
    units, refusals
        The units of the build, and what was found out about sets of them.
    prices
        What the units are worth.
    excess
        No set is worth more than this above its cost at these prices, as far as is known.
    """

    def __init__(self, windows: Windows, parts: Iterable[int], stop: Callable[[], bool]) -> None:
        assembler = windows.assembler
        tolerance_um, _, key_weight_g = assembler.holding
        self.windows, self.stop = windows, stop
        self.units = Units(windows.graph, tolerance_um)
        self.refusals = Refusals(self.units, assembler, windows.rooms)
        self.place = 2 * windows.place_s * SCALE
        self.cuts = [
            Window(self.units, mask, payload_g, key_weight_g)
            for mask, payload_g in window_masks(self.units, windows.rooms).items()
        ]
        self._rows: dict[int, Row] = {}
        self.master = Master(self.units, windows.place_s)
        self.master.add(1 << unit for unit in range(self.units.count))
        self._start([self.of_pieces(part) for part in parts])
        self.prices = self.master.prices
        self.excess = ENDLESS
        self._bound = 0
        self._rounds = 0
        self._nodes = ALL_NODES
        #: Prices at which no set is worth more than it costs.
        self._inner = Prices([0] * self.units.count)

    def of_pieces(self, part: int) -> int:
        """Return the units of a mask of pieces."""
        return sum(1 << n for n, unit in enumerate(self.units.graph.units) if unit & part)

    def whole(self, mask: int) -> bool:
        """Whether a mask of units may stay whole; where not, why is found out."""
        if self.windows.whole(self.units.pieces(mask)):
            return True
        self.refusals.learn(mask)
        return False

    @property
    def bound_s(self) -> int:
        """Seconds that no split is below."""
        return max(0, -(-(self._bound - self.place) // (2 * SCALE)))

    @property
    def exact(self) -> bool:
        """Whether the prices are proved: no set is worth more than it costs."""
        return self.excess <= LEAST

    def _start(self, parts: list[int]) -> None:
        """Begin with known sets, of which the dearest are kept."""
        seen = {self.of_pieces(mask): None for mask in self.windows.seen()}
        self.master.add([*parts, *seen])
        self.master.solve()
        self.prices = self.master.prices
        kept = set(self._dearest(KEPT * self.units.count))
        kept.update(parts, (1 << unit for unit in range(self.units.count)))
        self.master.keep(kept)

    def _dearest(self, most: int) -> list[int]:
        """Return the known sets that are worth most above their cost."""
        prices, units = self.prices, self.units
        return sorted(self.master.costs, key=lambda mask: (-prices.worth(units, mask), mask))[:most]

    def solve(self) -> None:
        """Add sets until none is missing, as far as can be told."""
        while self._rounds < ROUNDS and not self.stop():
            self._rounds += 1
            self.master.solve()
            self.prices, self.excess = self.master.prices, ENDLESS
            if not self.master.add(self._found_fast()) and not self._add_hunted():
                return

    def _add_hunted(self) -> bool:
        """Add sets by branch and bound, looking longer where none are found; say whether any.

        They are looked for at prices half way from proved ones to those of the linear program: a
        set worth more than its cost there is so at the latter, or else the bound is better.
        """
        outer = self.prices
        while self._nodes > 0 and not self.stop():
            near = outer.total - self._inner.total <= NEAR * outer.total
            self.prices = outer if near else self._inner.towards(outer)
            nodes, windows = NODES, self.cuts
            while windows and self._nodes > 0 and not self.stop():
                found, windows = self._hunted(windows, nodes)
                if self.master.add(found):
                    return True
                nodes *= LONGER
            if windows or near:
                return False
            self._inner = self.prices
        return False

    def _row(self, window: Window) -> Row:
        if window.mask not in self._rows:
            key_weight_g = self.windows.assembler.key_weight_g
            frontier = Frontier(self.units, window.mask, window.payload_g, key_weight_g)
            self._rows[window.mask] = Row(frontier, self.refusals)
        return self._rows[window.mask]

    def tighten(self) -> bool:
        """Add cuts on three units that the shares break; say whether there were any."""
        triples = broken_triples(
            self.units.count,
            list(self.master.costs),
            self.master.shares,
            set(self.master.triples),
            CUTS,
        )
        self.master.cut(triples)
        return bool(triples)

    def _found_fast(self) -> Iterator[int]:
        """Yield sets that are worth more than they cost: by minimum cuts, by small changes."""
        floor = self.place + LEAST
        for window in self.cuts:
            for mask in window.best(self.prices.units, floor, self.whole).masks:
                if self.prices.worth(self.units, mask) > floor:
                    yield mask
        climber = Climber(self.units, self.prices.units)
        for mask in self._dearest(CLIMBS):
            home = next((w for w in self.cuts if w.weighed and not mask & ~w.mask), None)
            if home:
                better = climber.climbed(mask, home.mask, home.payload_g)
                if (
                    self.prices.worth(self.units, better) > floor
                    and len(self.units.joined(better)) == 1
                    and self.whole(better)
                ):
                    yield better

    def _hunted(self, windows: Sequence[Window], nodes: int) -> tuple[list[int], list[Window]]:
        """Return the dearest sets of windows, and those where dearer ones may be; keep the bound.

        All other windows must be known to have none.
        """
        floor = self.place + LEAST
        excess = 0
        fresh: dict[int, None] = {}
        left = []
        for window in windows:
            found = window.best(self.prices.units, floor, self.whole)
            if found.most > floor and self._row(window).frontier.steps:
                hunt = Hunt(self._row(window), self.units, self.prices)
                found = hunt.dearest(floor, self.whole, min(nodes, self._nodes))
                self._nodes = max(0, self._nodes - found.nodes)
            if found.most > floor:
                left.append(window)
            excess = max(excess, found.most - self.place)
            fresh.update(dict.fromkeys(found.masks))
        self.excess = excess
        self._bound = max(self._bound, self._value(self.prices, excess))
        return list(fresh), left

    def _value(self, prices: Prices, excess: int) -> int:
        """Return what all units are worth if no set exceeds its cost by more than told."""
        by_parts = prices.total - self.units.count * excess
        if self.place == 0:
            return by_parts
        return max(by_parts, prices.total * self.place // (self.place + excess))

    def raise_bound(self, bound_s: int) -> None:
        """Keep a bound that was proved elsewhere."""
        self._bound = max(self._bound, 2 * SCALE * bound_s + self.place)

    def within(self, effort_s: int, nodes: int) -> dict[int, int] | None:
        """Return all sets that a split of at most some effort can have, with what each costs.

        Some of them may turn out not to stay whole. None if there are too many.

        Parameters
        ----------
        effort_s
            Seconds of the split.
        nodes
            Most branches to look at.
        """
        most = 2 * SCALE * effort_s + self.place
        slack = most - self.prices.total + self.units.count * self.excess
        floor = self.place - slack - 1
        found = {1 << unit: None for unit in range(self.units.count)}
        for window in self.cuts:
            row = self._row(window)
            if not row.frontier.steps or self.stop():
                return None
            every = Hunt(row, self.units, self.prices).above(floor, nodes)
            nodes -= every.nodes
            if not every.complete:
                return None
            found.update(dict.fromkeys(every.masks))
        return {
            mask: self.units.edge(mask) + 2 * self.windows.place_s
            for mask in found
            if self.prices.worth(self.units, mask) > floor
        }
