"""Column generation over windows the size of a container: a bound, and good sub-assemblies.

A split chooses sub-assemblies that cover every unit once; each costs half the effort of the
joints at its edge plus one place. The linear program over all sets of units that may stay whole
relaxes that. Sets that are missing are found window by window; prices that lie between the last
ones and the best so far lead there in fewer rounds.

References
----------
Farley, A. A. (1990), Operations Research 38(5), 922-923: a bound from any prices.
Neame, P. J. (1999), PhD thesis, University of Melbourne: smoothed prices.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache, partial
from itertools import product

from ortools.math_opt.python import mathopt

from packdown.geometry import WayUp
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import bits
from packdown.teardown.pricing import SCALE, Found, Window
from packdown.teardown.room import Room
from packdown.teardown.units import Units

__all__ = ["Columns", "columns_of"]

ROUNDS = 300
#: Sets to be tried one by one, over all windows and rounds.
LOOKS = 3_000
#: Percents of the last prices at which a bound is tried.
LOWERED = (98, 95, 90, 80)
#: What a set must be worth above its cost to be added: prices are rounded.
LEAST = 4
#: Parts in ten of the best prices so far that go into the next ones.
SMOOTH = 6
Whole = Callable[[int], bool]
Look = Callable[[Window, Sequence[int], int, Whole], Found]


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


def columns_of(assembler: Assembler, rooms: Sequence[Room], place_s: int) -> Columns:
    """Solve the linear program for one build, by rounds of pricing.

    Parameters
    ----------
    assembler
        Says which sets may stay whole.
    rooms
        What the containers admit; at least one.
    place_s
        Seconds that one more sub-assembly costs.
    """
    return _columns(_Question(assembler, tuple(rooms), place_s))


class _Question:
    """A build, rooms and rules, equal to another with the same answer."""

    def __init__(self, assembler: Assembler, rooms: tuple[Room, ...], place_s: int) -> None:
        self.assembler, self.rooms, self.place_s = assembler, rooms, place_s
        self._key = (assembler.graph, rooms, place_s, assembler.holding)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Question) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)

    def whole(self, mask: int) -> bool:
        """Whether a mask of pieces may stay one sub-assembly."""
        return self.assembler.fits(mask, self.rooms)


@lru_cache(maxsize=64)
def _columns(question: _Question) -> Columns:
    tolerance_um, _, key_weight_g = question.assembler.holding
    units = Units(question.assembler.graph, tolerance_um)
    windows = [
        Window(units, mask, payload_g, key_weight_g)
        for mask, payload_g in _window_masks(units, question.rooms).items()
    ]
    place = 2 * question.place_s * SCALE
    search = _Search(_Master(units, question.place_s), windows, place, question.whole)
    search.run()
    bound = -(-(search.best - 2 * question.place_s) // 2)
    prices, master = search.prices, search.master
    return Columns(
        bound_s=max(0, int(bound)),
        parts=tuple(units.pieces(mask) for mask in master.masks),
        reduced=tuple(
            master.cost(mask) - sum(prices[unit] for unit in bits(mask)) / SCALE
            for mask in master.masks
        ),
    )


class _Search:
    """Rounds of pricing: as long as few cuts find anything new, then as thorough as it takes."""

    def __init__(
        self, master: "_Master", windows: Sequence[Window], place: int, whole: Whole
    ) -> None:
        self.master, self.windows, self.place, self.whole = master, windows, place, whole
        self.best = Fraction(0)
        #: Like the bound, but as if nothing better were there than what was found.
        self.guess = Fraction(0)
        self.prices = self.centre = master.prices()

    def run(self) -> None:
        """Add sets until none is missing, then lower the prices to where none is worth too much."""
        for _ in range(ROUNDS):
            if not any(self._tries()):
                break
            self.prices = self.master.prices()
        for percent in LOWERED:
            if Fraction(sum(self.prices) * percent, 100 * SCALE) > self.best:
                self._look([price * percent // 100 for price in self.prices], Window.thorough)

    def _tries(self) -> Iterator[bool]:
        """Yield whether new sets were found: in passing, at the prices themselves, thoroughly."""
        between = [
            (SMOOTH * old + (10 - SMOOTH) * new) // 10
            for old, new in zip(self.centre, self.prices, strict=True)
        ]
        yield self.master.add(self._look(between, Window.quick))
        yield self.master.add(self._look(self.prices, Window.quick))
        if sum(window.looked for window in self.windows) < LOOKS:
            yield self.master.add(self._look(self.prices, Window.thorough))

    def _look(self, prices: list[int], look: Look) -> list[int]:
        """Return the sets that are worth more than they cost, and keep the bound."""
        excess = found_excess = 0
        fresh: dict[int, None] = {}
        for window in self.windows:
            found = look(window, prices, self.place + LEAST, self.whole)
            excess = max(excess, found.most - self.place)
            fresh.update(dict.fromkeys(found.masks))
            found_excess = max(found_excess, *found.masks.values(), 0)
        self.best = max(self.best, self._value(prices, excess))
        guess = self._value(prices, max(0, found_excess - self.place))
        if guess > self.guess:
            self.guess, self.centre = guess, prices
        return list(fresh)

    def _value(self, prices: list[int], excess: int) -> Fraction:
        """Return what all units are worth if no set exceeds its cost by more than told."""
        return Fraction(sum(prices), SCALE) * Fraction(self.place, self.place + excess)


class _Master:
    """The linear program over the sets known so far."""

    def __init__(self, units: Units, place_s: int) -> None:
        self.units = units
        self.place_s = place_s
        self.program = mathopt.Model()
        self.rows = [self.program.add_linear_constraint(lb=1, ub=1) for _ in range(units.count)]
        self.masks: dict[int, None] = {}
        self.add([1 << unit for unit in range(units.count)])

    def add(self, masks: Sequence[int]) -> bool:
        """Add sets; say whether any was new."""
        fresh = [mask for mask in masks if mask not in self.masks]
        for mask in fresh:
            self.masks[mask] = None
            variable = self.program.add_variable(lb=0)
            self.program.objective.set_linear_coefficient(variable, self.cost(mask))
            for unit in bits(mask):
                self.rows[unit].set_coefficient(variable, 1)
        return bool(fresh)

    def cost(self, mask: int) -> int:
        """Return twice the cost of a set: the efforts at its edge and two places."""
        return self.units.edge(mask) + 2 * self.place_s

    def prices(self) -> list[int]:
        """Return what each unit is worth, scaled and rounded down."""
        result = mathopt.solve(self.program, mathopt.SolverType.HIGHS)
        if result.termination.reason != mathopt.TerminationReason.OPTIMAL:
            raise ArithmeticError("the linear program of sub-assemblies was not solved")
        return [int(value * SCALE // 1) for value in result.dual_values(self.rows)]


def _window_masks(units: Units, rooms: Sequence[Room]) -> dict[int, int]:
    """Return the largest connected sets of units that lie in one window, however it is turned.

    Returns
    -------
    dict
        For each set the payload of the room that takes it; of equal sets the largest.
    """
    found: dict[int, int] = {}
    slabs = cache(partial(_slabs, units))
    for room, way in product(rooms, WayUp):
        allowed = sum(1 << unit for unit, ways in enumerate(units.ways) if way in ways)
        for extent in _extents(room, way):
            along = (slabs(axis, length, allowed) for axis, length in enumerate(extent))
            for x, y, z in product(*along):
                for mask in units.connected(x & y & z, way):
                    found[mask] = max(found.get(mask, 0), room.payload_g)
    largest: dict[int, int] = {}
    for mask in sorted(found, key=lambda mask: (-mask.bit_count(), mask)):
        if not any(mask & o == mask and found[mask] <= load for o, load in largest.items()):
            largest[mask] = found[mask]
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
