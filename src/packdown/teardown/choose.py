"""Choose the cheapest sets that hold every unit once: an integer program.

References
----------
Garfinkel, R. S., Nemhauser, G. L. (1969), Operations Research 17(5), 848-856: set partitioning.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ortools.math_opt.python import mathopt

from packdown.teardown.graph import bits
from packdown.teardown.triples import broken_triples, meets

__all__ = ["Choice", "choose"]

#: Most rounds of cuts, and most cuts a round.
ROUNDS, CUTS = 12, 60
#: Most nodes of the search tree, so that the answer is the same on any machine.
NODES = 300
#: More sets than this are not worth an integer program.
MANY = 5_000
#: What sums of floating-point numbers may be off.
CLOSE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What was chosen.

    Parameters
    ----------
    masks
        The sets; none if none were found that cost little enough.
    cost
        What they cost.
    bound
        No choice among the sets that were given costs less.
    """

    masks: tuple[int, ...]
    cost: int
    bound: int


def choose(count: int, costs: Mapping[int, int], most: int) -> Choice:
    """Return the cheapest sets that hold every unit once, of those at no more than some cost.

    Sets that are too dear by their reduced cost are left out, and cuts on three units are added,
    until an integer program decides on what is left.

    Parameters
    ----------
    count
        Number of units.
    costs
        What each set costs, by its mask.
    most
        What all may cost; what costs more is not looked for.
    """
    program = _Program(count, costs)
    bound = 0
    for _ in range(ROUNDS):
        shares = program.relaxed()
        if shares is None or program.value > most + CLOSE:
            return Choice(masks=(), cost=most + 1, bound=most + 1)
        bound = max(bound, _rounded_up(program.value))
        if all(min(share, 1 - share) < CLOSE for share in shares.values()):
            break
        program.prune(most)
        masks = list(program.taken)
        fresh = broken_triples(count, masks, [shares[m] for m in masks], program.cuts, CUTS)
        if not fresh:
            break
        program.cut(fresh)
    return _whole(program, most, bound)


def _whole(program: "_Program", most: int, bound: int) -> Choice:
    """Return the cheapest choice of whole sets."""
    if len(program.taken) > MANY:
        return Choice(masks=(), cost=most + 1, bound=bound)
    chosen, least = program.whole(most)
    cost = sum(program.costs[mask] for mask in chosen) if chosen else most + 1
    bound = min(cost, max(bound, _rounded_up(least)))
    if cost > most:
        return Choice(masks=(), cost=most + 1, bound=min(bound, most + 1))
    return Choice(masks=tuple(sorted(chosen)), cost=cost, bound=bound)


def _rounded_up(value: float) -> int:
    return int(-(-(value - CLOSE) // 1))


def _solved(model: mathopt.Model) -> mathopt.SolveResult:
    """Solve an integer program; where the first solver gives up, by another.

    HiGHS fails in rare cases with an internal error, for which OR-tools 9.15 raises
    AttributeError while it makes the error.
    """
    limits = mathopt.SolveParameters(
        relative_gap_tolerance=0.0, absolute_gap_tolerance=0.9, node_limit=NODES
    )
    try:
        return mathopt.solve(model, mathopt.SolverType.HIGHS, params=limits)
    except (AttributeError, mathopt.InternalMathOptError):
        return mathopt.solve(model, mathopt.SolverType.GSCIP, params=limits)


class _Program:
    """Sets, each taken or not; every unit in exactly one; cuts on three units."""

    def __init__(self, count: int, costs: Mapping[int, int]) -> None:
        self.costs = costs
        self.model = mathopt.Model()
        rows = [self.model.add_linear_constraint(lb=1, ub=1) for _ in range(count)]
        self.cuts: dict[int, mathopt.LinearConstraint] = {}
        self.taken = {mask: self.model.add_variable(lb=0) for mask in costs}
        for mask, variable in self.taken.items():
            self.model.objective.set_linear_coefficient(variable, costs[mask])
            for unit in bits(mask):
                rows[unit].set_coefficient(variable, 1)
        self.value = 0.0
        self.reduced: list[float] = []
        self.losses: list[float] = []

    def relaxed(self) -> dict[int, float] | None:
        """Return the share of each set in the linear program; None if there is no choice at all."""
        result = mathopt.solve(self.model, mathopt.SolverType.GLOP)
        if result.termination.reason == mathopt.TerminationReason.INFEASIBLE:
            return None
        if result.termination.reason != mathopt.TerminationReason.OPTIMAL:
            raise ArithmeticError("the linear program of a choice was not solved")
        self.value = result.objective_value()
        self.reduced = result.reduced_costs(self.taken.values())
        self.losses = result.dual_values(self.cuts.values())
        return dict(zip(self.taken, result.variable_values(self.taken.values()), strict=True))

    def prune(self, most: int) -> None:
        """Leave out what cannot be in a choice of at most some cost, and cuts that do not bind."""
        for mask, reduced in zip(list(self.taken), self.reduced, strict=True):
            if self.value + reduced > most + CLOSE:
                self.model.delete_variable(self.taken.pop(mask))
        for triple, loss in zip(list(self.cuts), self.losses, strict=True):
            if loss >= -CLOSE:
                self.model.delete_linear_constraint(self.cuts.pop(triple))

    def cut(self, triples: Iterable[int]) -> None:
        """Add cuts on three units."""
        for triple in triples:
            row = self.cuts[triple] = self.model.add_linear_constraint(ub=1)
            for mask, variable in self.taken.items():
                if meets(triple, mask):
                    row.set_coefficient(variable, 1)

    def whole(self, most: int) -> tuple[list[int], float]:
        """Return the cheapest choice that was found, none if none was, and a bound up to `most`."""
        for variable in self.taken.values():
            variable.upper_bound = 1
            variable.integer = True
        result = _solved(self.model)
        if result.termination.reason == mathopt.TerminationReason.INFEASIBLE:
            return [], most + 1
        least = min(most + 1, result.termination.objective_bounds.dual_bound)
        if not result.has_primal_feasible_solution():
            return [], least
        half, shares = 0.5, result.variable_values(self.taken.values())
        return [m for m, v in zip(self.taken, shares, strict=True) if v > half], least
