"""The linear program over sets of units: what each unit is worth.

Prices come from an interior point method without crossover: of all that fit they lie in the
middle, and lead to the missing sets in few rounds.

References
----------
Gondzio, J., Gonzalez-Brevis, P., Munari, P. (2013), European Journal of Operational Research
224(1), 41-51: column generation with central prices.
"""

from collections.abc import Iterable

from ortools.math_opt.python import mathopt

from packdown.teardown.frontier import SCALE
from packdown.teardown.graph import bits
from packdown.teardown.hunt import Prices
from packdown.teardown.triples import meets
from packdown.teardown.units import Units

__all__ = ["Master"]


class Master:
    """Sets known so far, of which shares are taken so that every unit is held once.

    Parameters
    ----------
    units
        The units of a build.
    place_s
        Seconds that one more sub-assembly costs.

    Attributes
    ----------
    costs
        The known sets with what each costs.
    prices
        Of the last solution; nothing before `solve`.
    shares
        Of the last solution, for each of the sets then known.
    """

    def __init__(self, units: Units, place_s: int) -> None:
        self.units, self.place_s = units, place_s
        self.costs: dict[int, int] = {}
        self.prices = Prices([0] * units.count)
        self.shares: list[float] = []
        self._model = mathopt.Model()
        self._rows = [self._model.add_linear_constraint(lb=1, ub=1) for _ in range(units.count)]
        self._cuts: dict[int, mathopt.LinearConstraint] = {}
        self._taken: dict[int, mathopt.Variable] = {}

    @property
    def triples(self) -> Iterable[int]:
        """The cuts on three units."""
        return self._cuts

    def add(self, masks: Iterable[int]) -> bool:
        """Add sets; say whether any was new."""
        fresh = [mask for mask in dict.fromkeys(masks) if mask not in self.costs]
        for mask in fresh:
            variable = self._model.add_variable(lb=0)
            self._taken[mask] = variable
            self.costs[mask] = self.units.edge(mask) + 2 * self.place_s
            self._model.objective.set_linear_coefficient(variable, self.costs[mask])
            for unit in bits(mask):
                self._rows[unit].set_coefficient(variable, 1)
            for triple, row in self._cuts.items():
                if meets(triple, mask):
                    row.set_coefficient(variable, 1)
        return bool(fresh)

    def cut(self, triples: Iterable[int]) -> None:
        """Add cuts on three units."""
        for triple in triples:
            row = self._model.add_linear_constraint(ub=1)
            self._cuts[triple] = row
            for mask, variable in self._taken.items():
                if meets(triple, mask):
                    row.set_coefficient(variable, 1)

    def keep(self, masks: Iterable[int]) -> None:
        """Forget all other sets."""
        kept = set(masks)
        for mask in [mask for mask in self.costs if mask not in kept]:
            self._model.delete_variable(self._taken.pop(mask))
            del self.costs[mask]

    def solve(self) -> None:
        """Find the prices, rounded down, and the shares."""
        result = _central(self._model) or mathopt.solve(self._model, mathopt.SolverType.GLOP)
        if result.termination.reason != mathopt.TerminationReason.OPTIMAL:
            raise ArithmeticError("the linear program of sub-assemblies was not solved")
        losses = result.dual_values(self._cuts.values()) if self._cuts else []
        scaled = {t: int(loss * SCALE // 1) for t, loss in zip(self._cuts, losses, strict=True)}
        self.prices = Prices(
            [int(value * SCALE // 1) for value in result.dual_values(self._rows)],
            {triple: loss for triple, loss in scaled.items() if loss < 0},
        )
        self.shares = result.variable_values(self._taken.values())


def _central(model: mathopt.Model) -> mathopt.SolveResult | None:
    """Return a solution in the middle of all optimal ones, or None if none was found."""
    params = mathopt.SolveParameters(
        lp_algorithm=mathopt.LPAlgorithm.BARRIER, presolve=mathopt.Emphasis.OFF
    )
    params.highs.string_options["run_crossover"] = "off"
    try:
        result = mathopt.solve(model, mathopt.SolverType.HIGHS, params=params)
    except (AttributeError, RuntimeError):  # what becomes of a run without a clear end
        return None
    optimal = result.termination.reason == mathopt.TerminationReason.OPTIMAL
    return result if optimal else None
