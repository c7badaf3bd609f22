"""Column generation over windows the size of a container: a bound, and good sub-assemblies.

A split chooses sub-assemblies that cover every unit once; each costs half the effort of the
joints at its edge plus one place. The linear program over all sets of units that lie in a common
window relaxes that. Missing sets are found by one minimum cut per window: the best set is a
maximum closure.

References
----------
Picard, J.-C. (1976), Management Science 22(11), 1268-1272: maximum closures by minimum cuts.
Farley, A. A. (1990), Operations Research 38(5), 922-923: a bound from any prices.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache, partial
from itertools import product

import numpy as np
from ortools.graph.python import max_flow
from ortools.linear_solver import pywraplp

from packdown.geometry import WayUp
from packdown.teardown.graph import BuildGraph, bits
from packdown.teardown.room import Room
from packdown.teardown.units import Units

__all__ = ["Columns", "columns_of"]

#: Prices are counted in this fraction of a second, so that cuts are exact.
SCALE = 1_000
ROUNDS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What the linear program found.

    Parameters
    ----------
    bound_s
        Seconds that no split is below.
    parts
        Masks of pieces: sets worth trying as sub-assemblies; not all of them hold or fit.
    reduced
        By how much each of `parts` costs more than its units are worth, in half seconds: a split
        with it is at least half of that above the bound.
    """

    bound_s: int
    parts: tuple[int, ...]
    reduced: tuple[float, ...]

    def within(self, gap_s: int) -> list[int]:
        """Return the sets that may be in a split less than `gap_s` above the bound."""
        return [
            part
            for part, reduced in zip(self.parts, self.reduced, strict=True)
            if reduced < 2 * gap_s
        ]


@lru_cache(maxsize=64)
def columns_of(
    graph: BuildGraph, rooms: tuple[Room, ...], tolerance_um: int, place_s: int
) -> Columns:
    """Solve the linear program for one build, by rounds of pricing.

    Parameters
    ----------
    graph
        The build.
    rooms
        What the containers admit; at least one.
    tolerance_um
        How far one joint may stand open.
    place_s
        Seconds that one more sub-assembly costs.
    """
    units = Units(graph, tolerance_um)
    windows = [_Window(units, mask) for mask in _window_masks(units, rooms)]
    master = _Master(units, place_s)
    best = Fraction(0)
    for _ in range(ROUNDS):
        prices = master.prices()
        excess, fresh = _price(windows, prices, 2 * place_s * SCALE)
        least = 2 * place_s * SCALE
        value = Fraction(sum(prices), SCALE) * (Fraction(least, least + excess) if excess else 1)
        best = max(best, value)
        if not excess or not master.add(fresh):
            break
    bound = -(-(best - 2 * place_s) // 2)
    return Columns(
        bound_s=max(0, int(bound)),
        parts=tuple(units.pieces(mask) for mask in master.masks),
        reduced=tuple(
            master.cost(mask) - sum(prices[unit] for unit in bits(mask)) / SCALE
            for mask in master.masks
        ),
    )


def _price(
    windows: Sequence["_Window"], prices: Sequence[int], place: int
) -> tuple[int, list[int]]:
    """Return by how much the dearest set exceeds its cost, and all sets that do."""
    most = 0
    found: dict[int, None] = {}
    for window in windows:
        value, mask = window.dearest(prices)
        if value > place:
            most = max(most, value - place)
            found[mask] = None
    return most, list(found)


class _Master:
    """The linear program over the sets known so far."""

    def __init__(self, units: Units, place_s: int) -> None:
        self.units = units
        self.place_s = place_s
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        self.rows = [self.solver.Constraint(1, 1) for _ in range(units.count)]
        self.masks: dict[int, None] = {}
        self.add([1 << unit for unit in range(units.count)])

    def add(self, masks: Sequence[int]) -> bool:
        """Add sets; say whether any was new."""
        fresh = [mask for mask in masks if mask not in self.masks]
        for mask in fresh:
            self.masks[mask] = None
            variable = self.solver.NumVar(0, self.solver.infinity(), "")
            self.solver.Objective().SetCoefficient(variable, self.cost(mask))
            for unit in bits(mask):
                self.rows[unit].SetCoefficient(variable, 1)
        return bool(fresh)

    def cost(self, mask: int) -> int:
        """Return twice the cost of a set: the efforts at its edge and two places."""
        edge = sum(
            effort
            for (a, b), effort in self.units.efforts.items()
            if (mask >> a & 1) != (mask >> b & 1)
        )
        return edge + 2 * self.place_s

    def prices(self) -> list[int]:
        """Return what each unit is worth, scaled and rounded down."""
        if self.solver.Solve() != pywraplp.Solver.OPTIMAL:
            raise ArithmeticError("the linear program of sub-assemblies was not solved")
        return [int(row.dual_value() * SCALE // 1) for row in self.rows]


class _Window:
    """Finds the dearest set of units within a window, by a flow that is made once."""

    def __init__(self, units: Units, mask: int) -> None:
        self.members = list(bits(mask))
        self.flow = max_flow.SimpleMaxFlow()
        count = len(self.members)
        node = {unit: n for n, unit in enumerate(self.members)}
        self.source, self.sink = count, count + 1
        self.outside = np.zeros(count, dtype=np.int64)
        for (a, b), effort in units.efforts.items():
            if a in node and b in node:
                self.flow.add_arc_with_capacity(node[a], node[b], effort * SCALE)
                self.flow.add_arc_with_capacity(node[b], node[a], effort * SCALE)
            elif a in node or b in node:
                self.outside[node[a] if a in node else node[b]] += effort * SCALE
        index = np.arange(count)
        none = np.zeros(count, dtype=np.int64)
        self.gain = self.flow.add_arcs_with_capacity(np.full(count, self.source), index, none)
        self.loss = self.flow.add_arcs_with_capacity(index, np.full(count, self.sink), none)

    def dearest(self, prices: Sequence[int]) -> tuple[int, int]:
        """Return the most that prices exceed efforts at the edge for a set, and the set."""
        own = np.array([prices[unit] for unit in self.members], dtype=np.int64)
        gain = np.maximum(own, 0)
        self.flow.set_arcs_capacity(self.gain, gain)
        self.flow.set_arcs_capacity(self.loss, self.outside - np.minimum(own, 0))
        if self.flow.solve(self.source, self.sink) != self.flow.OPTIMAL:
            raise ArithmeticError("the efforts of the joints are too large to add up")
        value = int(gain.sum()) - self.flow.optimal_flow()
        chosen = self.flow.get_source_side_min_cut()
        return value, sum(1 << self.members[n] for n in chosen if n < len(self.members))


def _window_masks(units: Units, rooms: Sequence[Room]) -> list[int]:
    """Return the largest connected sets of units that lie in one window, however it is turned."""
    found: set[int] = set()
    slabs = cache(partial(_slabs, units))
    for room, way in product(rooms, WayUp):
        allowed = sum(1 << unit for unit, ways in enumerate(units.ways) if way in ways)
        for extent in _extents(room, way):
            along = (slabs(axis, length, allowed) for axis, length in enumerate(extent))
            for x, y, z in product(*along):
                found.update(units.connected(x & y & z, way))
    largest: list[int] = []
    for mask in sorted(found, key=lambda mask: (-mask.bit_count(), mask)):
        if not any(mask & other == mask for other in largest):
            largest.append(mask)
    return largest


def _extents(room: Room, way: WayUp) -> tuple[tuple[int, int, int], ...]:
    """Return the extents of a room in the frame of a build that lies in a way up."""
    a, b, c = room.size_um
    if way in {WayUp.UPRIGHT, WayUp.UPSIDE_DOWN}:
        return (a, b, c), (b, a, c)
    if way in {WayUp.ON_LEFT, WayUp.ON_RIGHT}:
        return (c, a, b), (c, b, a)
    return (a, c, b), (b, c, a)


def _slabs(units: Units, axis: int, length: int, allowed: int) -> set[int]:
    """Return what may share a sub-assembly of some length with units that begin it."""
    starts: dict[int, list[int]] = {}
    for unit in bits(allowed):
        starts.setdefault(units.boxes[unit][axis], []).append(unit)
    return {
        sum(
            1 << unit
            for unit in bits(allowed)
            if low <= units.boxes[unit][axis]
            and min(units.grown_end(first, unit, axis) for first in firsts) <= low + length
        )
        for low, firsts in starts.items()
    }
