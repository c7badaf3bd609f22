"""Why a wish is left behind, and what would make it fit."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice

from packdown.model import Container, Left, Workspace
from packdown.planning.bringing.content import content_of
from packdown.planning.bringing.demand import Choice, Demand
from packdown.planning.bringing.faults import Fault, FaultKind, ordinal
from packdown.planning.bringing.oracle import Oracle
from packdown.planning.bringing.packer import Packer, subsets

__all__ = ["Reasons"]

SETS = 4
"""Sets of more containers that are tried at most."""
SPARES = 2
"""Containers that are thought up, at most, to see whether a wish would fit into more."""


@dataclass(kw_only=True)
class Reasons:
    """Explains what is left behind beside a choice.

    Parameters
    ----------
    oracle
        Decides on choices.
    chosen
        The choice.
    """

    oracle: Oracle
    chosen: Choice

    @property
    def _demand(self) -> Demand:
        return self.oracle.demand

    def left(self, number: int) -> Left:
        """Return why a wish is left behind."""
        faults = list(self._faults(number))
        return Left(
            pick=self._demand.picks[number],
            reasons=tuple(dict.fromkeys(fault.reason for fault in faults)),
            remedies=tuple(dict.fromkeys(fault.remedy for fault in faults if fault.remedy)),
        )

    def _faults(self, number: int) -> Iterator[Fault]:
        more = tuple(sorted({*self.chosen, number}))
        found = [*self._clash(number), *self._short(more), *self._tables(more, number)]
        yield from found or self._packing_faults(more)

    def _clash(self, number: int) -> Iterator[Fault]:
        demand = self._demand
        for one, two in demand.clashes(sorted({*self.chosen, number})):
            if number in (one, two):
                other = demand.picks[two if number == one else one]
                name = demand.sessions[other.session].name
                reason = f"is wanted at the same time for {name}"
                yield Fault(kind=FaultKind.CLASH, reason=reason)

    def _short(self, more: Choice) -> Iterator[Fault]:
        names = {part.id: part.name for part in self._demand.workspace.parts}
        for part, lacking in sorted(self._demand.short(more).items()):
            yield Fault(
                kind=FaultKind.PIECES,
                reason=f"{lacking} x {names[part]} short",
                remedy=f"get {lacking} more {names[part]}",
            )

    def _tables(self, more: Choice, number: int) -> Iterator[Fault]:
        pick = self._demand.picks[number]
        if pick.session not in self._demand.over_tables(more):
            return
        if pick.wish.build is not None and not self._demand.fits_table(pick.wish.build):
            reason, remedy = "is larger than a table", "push tables together, and say so"
        else:
            reason, remedy = "has no room on the tables", "ask for another table"
        yield Fault(kind=FaultKind.TABLES, reason=reason, remedy=remedy)

    def _packing_faults(self, more: Choice) -> Iterator[Fault]:
        """Yield what is in the way, once there are containers for all."""
        oracle, content = self.oracle, content_of(self._demand, more)
        if oracle.packer.stop():
            yield Fault(kind=FaultKind.TIME, reason="time was up before it was tried")
            return
        if oracle.packer.plan(self._demand, content, oracle.names) is not None:
            yield from oracle.faults(more, oracle.names)
            return
        for wider, added in self._wider():
            every = tuple(container.id for container in wider.demand.workspace.containers)
            for names in islice(subsets(wider.demand.workspace, every), SETS):
                plan = wider.packer.plan(wider.demand, content, names)
                if plan is None:
                    continue
                extra = [c.name for c in plan.containers if c.fill and c.id in added]
                yield Fault(
                    kind=FaultKind.CONTAINERS,
                    reason=f"would need a {ordinal(len(oracle.names) + 1)} container",
                    remedy=f"bring {' and '.join(extra) or 'another container'} as well",
                )
                for fault in wider.faults(more, names):
                    if fault.kind is not FaultKind.CONTAINERS:
                        yield fault
                return
        reason = f"does not fit into the containers, nor into {SPARES} more"
        yield Fault(kind=FaultKind.CONTAINERS, reason=reason, remedy="find larger containers")

    def _wider(self) -> Iterator[tuple[Oracle, set[str]]]:
        """Yield the same question with more containers, and the ids of those that are new."""
        workspace, allowed = self._demand.workspace, self.oracle.names
        others = {c.id for c in workspace.containers if c.id not in allowed}
        if others:
            yield self._with(workspace), others
        largest = max(
            (c for c in workspace.containers if c.id in allowed), key=lambda c: c.volume_um3
        )
        spares: list[Container] = []
        for number in range(1, SPARES + 1):
            own = f"spare-{number}"
            spares.append(replace(largest, id=own, name=f"another {largest.name}", stacked_on=None))
            kept = tuple(c for c in workspace.containers if c.id in allowed)
            wider = replace(workspace, containers=(*kept, *spares))
            yield self._with(wider), {spare.id for spare in spares}

    def _with(self, workspace: Workspace) -> Oracle:
        packer = Packer(seed=self.oracle.packer.seed, stop=self.oracle.packer.stop)
        return Oracle(demand=replace(self._demand, workspace=workspace), packer=packer)
