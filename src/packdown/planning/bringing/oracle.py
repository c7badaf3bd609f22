"""Says whether a choice can be brought: packed for real, then held against every limit.

A choice can be brought if some set of the containers that may be brought holds all of it within
all limits. Every set is tried before the answer is no, and what is packed into a set does not
depend on the other limits. So looser limits, or more containers, never turn a yes into a no.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from packdown.model import Cargo, Loading, LoadSpace, Plan, Turnover, cargo_of
from packdown.packing.bounds import container_bounds
from packdown.planning.bringing.content import Content, content_of, contents_of, packed_workspace
from packdown.planning.bringing.demand import Choice, Demand
from packdown.planning.bringing.faults import Fault, FaultKind, plan_faults, time_faults
from packdown.planning.bringing.packer import Names, Packed, Packer, subsets
from packdown.planning.bringing.turnovers import Work, too_slow, turnovers
from packdown.planning.job import rules_of
from packdown.planning.loading import load
from packdown.planning.whole_job import chosen

__all__ = ["Accepted", "Oracle", "journeys_of"]

BOUND_LIMIT = 0.05
"""Deterministic time for each bound on the containers, roughly in seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """A choice that can be brought.

    Parameters
    ----------
    choice
        Numbers of the wishes.
    content
        What is brought.
    packed
        How it is packed.
    plan
        The plan of that; a draft unless it is finished.
    turnovers
        Setting up and clearing up.
    loads
        The load of each journey; none without a load space.
    """

    choice: Choice
    content: Content
    packed: Packed
    plan: Plan
    turnovers: tuple[Turnover, ...]
    loads: tuple[Loading, ...]


@dataclass(kw_only=True)
class Oracle:
    """Decides on choices for one event.

    Parameters
    ----------
    demand
        The event.
    packer
        Packs; it may have been used for other events of the same collection.
    """

    demand: Demand
    packer: Packer
    _proved: dict[Content, bool] = field(init=False, default_factory=dict)
    _loads: dict[tuple[Cargo, ...], tuple[Loading, ...] | None] = field(
        init=False, default_factory=dict
    )

    @property
    def names(self) -> Names:
        """Ids of the containers that may be brought, in the order of the collection."""
        wanted = self.demand.event.limits.containers
        every = tuple(container.id for container in self.demand.workspace.containers)
        return every if wanted is None else tuple(name for name in every if name in wanted)

    @property
    def space(self) -> LoadSpace | None:
        """The load space, if there is one."""
        wanted = self.demand.event.limits.load_space
        return next((s for s in self.demand.workspace.load_spaces if s.id == wanted), None)

    def accept(self, choice: Choice, *, thoroughly: bool = True) -> Accepted | None:
        """Return how a choice can be brought, or None if it cannot.

        Parameters
        ----------
        choice
            Numbers of the wishes; what they want is owned and has tables.
        thoroughly
            Whether every set of containers is tried, and not only all of them together.
        """
        contents = [
            content
            for content in contents_of(self.demand, choice)
            if not too_slow(self.demand, content, choice)
        ]
        for names in subsets(self.demand.workspace, self.names):
            for content in contents:
                packed = self.packer.packed(self.demand, content, names)
                found = self._held(choice, content, packed) if packed else None
                if found is not None:
                    return found
                if self.packer.stop():
                    return None
                if packed and not self._late(choice, content, packed):
                    break  # what brings more pieces is no lighter and takes no less room
            if not thoroughly:
                return None
        return None

    def finished(self, accepted: Accepted, effort: int) -> Accepted:
        """Pack an accepted choice better, within the same limits, and make its plan whole."""
        best = accepted
        if accepted.choice:
            others = self.packer.better(accepted.packed, effort)
            held = (self._held(accepted.choice, accepted.content, other) for other in others)
            best = next((found for found in held if found is not None), accepted)
            best = min(best, accepted, key=lambda found: found.packed.state.score)
        return replace(best, plan=self.packer.finished(best.packed, effort))

    def _held(self, choice: Choice, content: Content, packed: Packed) -> Accepted | None:
        """Hold a packing against every limit but the containers it was made for."""
        limits, plan = self.demand.event.limits, packed.draft
        if any(True for _ in plan_faults(plan, limits)):
            return None
        work = Work(demand=self.demand, content=content, plan=plan)
        turns = turnovers(work, choice)
        if any(True for _ in time_faults(turns)):
            return None
        loads = self.loads(plan)
        if loads is None:
            return None
        return Accepted(
            choice=choice,
            content=content,
            packed=packed,
            plan=plan,
            turnovers=turns,
            loads=loads,
        )

    def _late(self, choice: Choice, content: Content, packed: Packed) -> bool:
        work = Work(demand=self.demand, content=content, plan=packed.draft)
        return any(True for _ in time_faults(turnovers(work, choice)))

    def tare_if_heavy(self, choice: Choice) -> int:
        """Return the weight of the containers if a choice, packed into any, is too heavy."""
        limit = self.demand.event.limits.weight_g
        content = content_of(self.demand, choice)
        packed = self.packer.packed(self.demand, content, self.names)
        if packed is None or limit is None or packed.draft.objective.weight_g <= limit:
            return 0
        return sum(container.tare_g for container in packed.draft.containers if container.fill)

    def loads(self, plan: Plan) -> tuple[Loading, ...] | None:
        """Return the load of each journey, or None if some container is left."""
        if self.space is None:
            return ()
        cargo = cargo_of(plan)
        if cargo not in self._loads:
            most = self.demand.event.limits.journeys
            loads = tuple(journeys_of(self.space, cargo, most, plan.workspace, self.packer.seed))
            self._loads[cargo] = None if loads and loads[-1].left else loads
        return self._loads[cargo]

    def proved_too_much(self, choice: Choice) -> bool:
        """Whether it is proved that no plan at all holds a choice, and so none a larger one."""
        content = content_of(self.demand, choice)
        if content not in self._proved:
            workspace = packed_workspace(self.demand, content)
            pieces = [piece for build in workspace.builds for piece in build.pieces]
            everything = (*pieces, *workspace.loose)
            most = self.demand.event.limits.most_containers
            bound = container_bounds(
                everything,
                chosen(workspace, self.names),
                rules_of(workspace),
                bagged=None,
                limit=BOUND_LIMIT,
            )
            weight = self.demand.event.limits.weight_g
            self._proved[content] = bool(everything) and (
                not bound.feasible
                or (most is not None and bound.containers > most)
                or (weight is not None and bound.weight_g > weight)
            )
        return self._proved[content]

    def faults(self, choice: Choice, names: Names) -> list[Fault]:
        """Return what keeps a choice from being brought in some containers, as little as can be."""
        found = [
            list(self._faults(choice, content, names))
            for content in contents_of(self.demand, choice)
        ]
        return min(found, key=len)

    def _faults(self, choice: Choice, content: Content, names: Names) -> Iterator[Fault]:
        limits = self.demand.event.limits
        plan = self.packer.plan(self.demand, content, names)
        if plan is None:
            yield Fault(kind=FaultKind.CONTAINERS, reason="does not fit into the containers")
            return
        yield from plan_faults(plan, limits)
        yield from time_faults(
            turnovers(Work(demand=self.demand, content=content, plan=plan), choice)
        )
        if self.space is not None and self.loads(plan) is None:
            yield _load_fault(self.space, cargo_of(plan), limits.journeys, self.packer.seed)


def journeys_of(
    space: LoadSpace, cargo: Sequence[Cargo], most: int, plan: str, seed: int
) -> Iterator[Loading]:
    """Yield the load of one journey after the other, until all is loaded or none is left."""
    rest = list(cargo)
    for _ in range(most):
        if not rest:
            return
        found = load(space, rest, plan=plan, seed=seed)
        yield found
        away = {one.container for one in found.loaded}
        if not away:
            return
        rest = [one for one in rest if one.id not in away]


def _load_fault(space: LoadSpace, cargo: Sequence[Cargo], journeys: int, seed: int) -> Fault:
    """Say which containers have no place in the load space."""
    loads = list(journeys_of(space, cargo, len(cargo), "", seed))
    names = {one.id: one.name for one in cargo}
    if loads[-1].left:
        left = [f"{names[one.container]} {one.reason}" for one in loads[-1].left]
        return Fault(
            kind=FaultKind.LOAD,
            reason=f"{space.name}: {'; '.join(left[:2])}",
            remedy="find a larger vehicle",
        )
    return Fault(
        kind=FaultKind.LOAD,
        reason=f"would need {len(loads)} journeys with {space.name}, {journeys} allowed",
        remedy=f"go {len(loads)} times, or find a larger vehicle",
    )
