"""The choice of wishes as an integer program: everything but the packing itself.

Its conditions hold for whatever can be brought, so its optimum is never below the best choice.
What the packer then refuses comes back as a cut.
"""

from dataclasses import dataclass, field

from packdown.geometry import bounds, volume
from packdown.model import Container
from packdown.planning.bringing.conditions import Conditions
from packdown.planning.bringing.demand import Choice, Demand

__all__ = ["Master", "Value"]

Value = tuple[int, int]
"""Musts that are met, and the worth of all wishes that are."""
UM3_PER_DECILITRE = 10**14


@dataclass(kw_only=True)
class Master:
    """Chooses wishes; learns by cuts.

    Parameters
    ----------
    demand
        The event.
    containers
        What may be brought.
    """

    demand: Demand
    containers: tuple[Container, ...]
    _conditions: Conditions = field(init=False)
    _sizes: list[int] = field(init=False)
    _must_worth: int = field(init=False)
    _never: list[Choice] = field(init=False, default_factory=list)
    _assumed: list[Choice] = field(init=False, default_factory=list)
    _tare_g: int = field(init=False, default=0)
    _not: list[Choice] = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        self._conditions = Conditions(
            demand=self.demand, containers=self.containers, least_s=self._least_s()
        )
        self._sizes = [self._size(n) for n in range(len(self.demand.picks))]
        self._must_worth = 1 + sum(pick.wish.worth for pick in self.demand.picks)

    def forbid(self, choice: Choice) -> None:
        """Never return exactly this choice again."""
        self._not.append(choice)

    def forbid_all_of(self, choice: Choice, *, assumed: bool) -> None:
        """Never return a choice with all these wishes, as is proved, or as is assumed for now."""
        (self._assumed if assumed else self._never).append(choice)

    def assume_tare(self, weight_g: int) -> None:
        """Assume for now that the containers weigh as much at least."""
        self._tare_g = weight_g

    def drop_assumptions(self) -> bool:
        """Forget what was only assumed; return whether there was anything."""
        had = bool(self._assumed) or self._tare_g > 0
        self._assumed, self._tare_g = [], 0
        return had

    def best(self, above: Value | None) -> Choice | None:
        """Return the best choice that is not forbidden, or None if there is none.

        Of choices of equal value the one that takes least room is returned.

        Parameters
        ----------
        above
            Value that it has to exceed.

        Raises
        ------
        RuntimeError
            If the solver rejects the model or does not finish: a fault of the program.
        """
        from ortools.sat.python import cp_model  # noqa: PLC0415 - slow to load

        model = cp_model.CpModel()
        takes = [model.new_bool_var(f"wish {n}") for n in range(len(self.demand.picks))]
        self._conditions.add(model, takes, self._tare_g)
        for choice in (*self._never, *self._assumed):
            model.add_bool_or(~takes[n] for n in choice)
        for choice in self._not:
            model.add_bool_or(~take if n in choice else take for n, take in enumerate(takes))
        values = self._values()
        if above is not None:
            least = above[0] * self._must_worth + above[1] + 1
            model.add(cp_model.LinearExpr.weighted_sum(takes, values) >= least)
        scale = sum(self._sizes) + 1
        gains = [scale * each - size for each, size in zip(values, self._sizes, strict=True)]
        model.maximize(cp_model.LinearExpr.weighted_sum(takes, gains))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 0
        status = solver.solve(model)
        if status == cp_model.INFEASIBLE:
            return None
        if status != cp_model.OPTIMAL:
            raise RuntimeError(f"choosing wishes ended with {solver.status_name(status)}")
        return tuple(n for n, take in enumerate(takes) if solver.value(take))

    def _values(self) -> list[int]:
        """Return the value of each wish as one number: no worth of others outweighs a must."""
        wishes = [pick.wish for pick in self.demand.picks]
        return [wish.worth + self._must_worth * wish.must for wish in wishes]

    def _size(self, number: int) -> int:
        """Return the size of a wish in tenths of a litre, at least one."""
        wish = self.demand.picks[number].wish
        if wish.build is not None:
            pieces = self.demand.builds[wish.build].pieces
            return 1 + sum(volume(piece.core_um) for piece in pieces) // UM3_PER_DECILITRE
        part = next(one for one in self.demand.workspace.parts if one.id == wish.part)
        return 1 + wish.count * volume(part.core_um) // UM3_PER_DECILITRE

    def _least_s(self) -> dict[str, int]:
        """Return the least work to set each build up: so many parts at least are unpacked.

        No part is longer than the longest side of a container.
        """
        place_s = self.demand.workspace.settings.effort.place_s
        longest = max((max(c.inner_um) for c in self.containers), default=1)
        wanted = {pick.wish.build for pick in self.demand.picks if pick.wish.build}
        found = {}
        for name in sorted(wanted):
            solids = [cuboid for p in self.demand.builds[name].pieces for cuboid in p.cuboids_um]
            found[name] = place_s * -(-max(bounds(solids).size) // longest)
        return found
