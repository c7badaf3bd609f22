"""How many pieces of each kind go into which container: an integer relaxation of the packing.

Whatever a plan does, its counts obey these constraints, so the least cost of the relaxation is a
lower bound. Volumes are scaled to stay within 64-bit integers; pieces are rounded down and
containers up, so that rounding can only weaken a bound.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import gcd

from ortools.sat.python import cp_model

__all__ = ["Clique", "Kind", "Relaxation", "Room"]

EXACT = 2**50
"""Sums of scaled figures stay below this: exact as 64-bit integers and as floats."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Pieces alike in all that counts; the tuples run parallel to the containers.

    Parameters
    ----------
    number
        Tells kinds apart that differ in nothing else.
    weight_g
        Weight of one piece.
    takes_um3
        Room that one piece certainly takes in each container, by each of some measures.
    fits
        Whether it fits into each container alone.
    apart
        The groups of which a container holds no two. With each goes the unit whose pieces may
        share an item and so a container, or None for a piece that is an item of its own.
    together
        The groups of which all are in one container.
    """

    number: int
    weight_g: int
    takes_um3: tuple[tuple[int, ...], ...]
    fits: tuple[bool, ...]
    apart: tuple[tuple[int, str | None], ...] = ()
    together: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What one container holds: a volume, and a weight."""

    volume_um3: int
    payload_g: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Clique:
    """What one container, by index, holds one of at most.

    Parameters
    ----------
    site
        The container.
    kinds
        Kinds of which it holds one piece.
    whole
        Kinds of which it may hold several pieces, but then none of the others.
    """

    site: int
    kinds: tuple[Kind, ...]
    whole: tuple[Kind, ...] = ()


class Relaxation:
    """The counting model of some kinds of piece and some containers.

    Parameters
    ----------
    numbers
        How many pieces there are of each kind.
    rooms
        What each container holds.
    alike
        Groups of containers, by index, that can be exchanged for each other.
    cliques
        What some containers hold one of at most.
    fewest
        Number of containers that are known to be needed.

    Attributes
    ----------
    model
        The model; more can be added to it.
    used
        For each container, whether it is used.
    counts
        How many of each kind are in each container, by index; only where a kind fits.
    """

    def __init__(
        self,
        numbers: Mapping[Kind, int],
        rooms: Sequence[Room],
        alike: Iterable[Sequence[int]],
        cliques: Iterable[Clique] = (),
        fewest: int = 0,
    ) -> None:
        self._numbers = numbers
        self._rooms = rooms
        self.model = cp_model.CpModel()
        self.used = [self.model.new_bool_var("") for _ in rooms]
        self.counts = {
            (kind, site): self.model.new_int_var(0, number, "")
            for kind, number in numbers.items()
            for site in range(len(rooms))
            if kind.fits[site]
        }
        self._place_all()
        self._limit_room()
        self._limit_weight()
        self._hold_one(cliques)
        self._keep_apart()
        self._keep_together()
        self._break_symmetry(alike)
        if fewest:
            self.model.add(cp_model.LinearExpr.sum(self.used) >= fewest)

    def least(self, costs: Sequence[int], limit: float) -> int | None:
        """Return a lower bound on the cost of the containers used, or None if nothing works.

        Parameters
        ----------
        costs
            Cost of each container; not negative.
        limit
            Deterministic time; a small one weakens the bound and never breaks it.

        Raises
        ------
        RuntimeError
            If the solver rejects the model: a fault of the program.
        """
        unit = max(1, gcd(*costs), -(-sum(costs) // EXACT))
        self.model.minimize(self._sum(self.used, [cost // unit for cost in costs]))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 0
        solver.parameters.max_deterministic_time = limit
        status = solver.solve(self.model)
        if status == cp_model.INFEASIBLE:
            return None
        if status == cp_model.MODEL_INVALID:
            raise RuntimeError(f"invalid counting model: {self.model.validate()}")
        # Optimal, feasible or unknown: the bound holds all the same. It is of whole numbers, so
        # rounding to the nearest takes off no more than the noise of a float.
        return round(max(0.0, solver.best_objective_bound)) * unit

    @staticmethod
    def _sum(variables: Sequence[cp_model.IntVar], weights: Sequence[int]) -> cp_model.LinearExprT:
        return cp_model.LinearExpr.weighted_sum(variables, weights)

    def _in(self, site: int) -> list[Kind]:
        return [kind for kind in self._numbers if kind.fits[site]]

    def _place_all(self) -> None:
        for kind, number in self._numbers.items():
            homes = [self.counts[kind, site] for site, fits in enumerate(kind.fits) if fits]
            self.model.add(cp_model.LinearExpr.sum(homes) == number)

    def _limit_room(self) -> None:
        for rows in zip(*(kind.takes_um3 for kind in self._numbers), strict=True):
            needed = sum(max(row) * n for row, n in zip(rows, self._numbers.values(), strict=True))
            unit = -(-max(needed, sum(room.volume_um3 for room in self._rooms), 1) // EXACT)
            self._limit(
                [tuple(takes // unit for takes in row) for row in rows],
                [-(-room.volume_um3 // unit) for room in self._rooms],
            )

    def _limit_weight(self) -> None:
        self._limit(
            [(kind.weight_g,) * len(self._rooms) for kind in self._numbers],
            [room.payload_g for room in self._rooms],
        )

    def _limit(self, demands: Sequence[tuple[int, ...]], supplies: Sequence[int]) -> None:
        """Let no container take more than it supplies, nor all that are used together."""
        demand = dict(zip(self._numbers, demands, strict=True))
        for site, supply in enumerate(supplies):
            kinds = self._in(site)
            counts = [self.counts[kind, site] for kind in kinds]
            taken = self._sum(counts, [demand[kind][site] for kind in kinds])
            self.model.add(taken <= supply * self.used[site])
        total = sum(
            number
            * min((demand[kind][site] for site, fits in enumerate(kind.fits) if fits), default=0)
            for kind, number in self._numbers.items()
        )
        self.model.add(self._sum(self.used, supplies) >= total)

    def _hold_one(self, cliques: Iterable[Clique]) -> None:
        present: dict[tuple[Kind, int], cp_model.IntVar] = {}
        for clique in cliques:
            counts = [self.counts[kind, clique.site] for kind in clique.kinds]
            for key in ((kind, clique.site) for kind in clique.whole):
                if key not in present:
                    (present[key],) = self._presence("", key[:1], clique.site)
                counts.append(present[key])
            self.model.add(cp_model.LinearExpr.sum(counts) <= 1)

    def _keep_apart(self) -> None:
        groups: dict[int, dict[str | None, list[Kind]]] = defaultdict(lambda: defaultdict(list))
        for kind in self._numbers:
            for group, unit in kind.apart:
                groups[group][unit].append(kind)
        for units in groups.values():
            for site in range(len(self._rooms)):
                present = [
                    variable
                    for unit, kinds in units.items()
                    for variable in self._presence(unit, kinds, site)
                ]
                self.model.add(cp_model.LinearExpr.sum(present) <= 1)

    def _presence(
        self, unit: str | None, kinds: Sequence[Kind], site: int
    ) -> list[cp_model.IntVar]:
        """Return variables whose sum is how much of a unit of kinds a container holds."""
        here = [kind for kind in kinds if kind.fits[site]]
        if unit is None:
            return [self.counts[kind, site] for kind in here]
        present = self.model.new_bool_var("")
        for kind in here:
            self.model.add(self.counts[kind, site] <= self._numbers[kind] * present)
        return [present]

    def _keep_together(self) -> None:
        groups: dict[int, list[Kind]] = defaultdict(list)
        for kind in self._numbers:
            for group in kind.together:
                groups[group].append(kind)
        for kinds in groups.values():
            homes = [self.model.new_bool_var("") for _ in self._rooms]
            self.model.add_exactly_one(homes)
            for site, home in enumerate(homes):
                for kind in kinds:
                    if kind.fits[site]:
                        self.model.add(self.counts[kind, site] == self._numbers[kind] * home)
                    else:
                        self.model.add(home == 0)

    def _break_symmetry(self, alike: Iterable[Sequence[int]]) -> None:
        for group in alike:
            for first, second in pairwise(group):
                self.model.add_implication(self.used[second], self.used[first])
