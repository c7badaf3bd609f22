"""What every choice that can be brought keeps, as linear conditions.

Pieces are needed at the same time, tables are covered, containers weigh and hold so much, and the
least work of a build takes its time. What depends on how things are packed is left to the packer.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from packdown.geometry import volume
from packdown.model import Container, Session, usable_payloads
from packdown.planning.bringing.demand import Demand
from packdown.planning.job import rules_of

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

__all__ = ["Conditions"]

UM3_PER_MM3 = 10**9


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Adds conditions to a model.

    Parameters
    ----------
    demand
        The event.
    containers
        What may be brought.
    least_s
        For each build the least seconds of work to set it up, by one person.
    """

    demand: Demand
    containers: tuple[Container, ...]
    least_s: Mapping[str, int]

    def add(
        self, model: "cp_model.CpModel", takes: "Sequence[cp_model.IntVar]", tare_g: int = 0
    ) -> None:
        """Add all of them; the variables say which wishes are taken.

        The containers are taken to weigh at least as much as is said.
        """
        for one, two in self.demand.clashes(range(len(takes))):
            model.add_bool_or(~takes[one], ~takes[two])
        for session in self.demand.event.sessions:
            self._add_tables(model, takes, session)
        self._add_room(model, self._pieces(model, takes), tare_g)
        self._add_times(model, takes)

    def _add_tables(
        self, model: "cp_model.CpModel", takes: "Sequence[cp_model.IntVar]", session: Session
    ) -> None:
        demand, table = self.demand, self.demand.event.limits.table_um
        if table is None:
            return
        own = [
            (takes[n], pick.wish.build)
            for n, pick in enumerate(demand.picks)
            if pick.session == session.id and pick.wish.build is not None
        ]
        for take, build in own:
            if not demand.fits_table(build):
                model.add(take == 0)
        area = session.tables * table[0] * table[1]
        model.add(sum(take * demand.base_um2(build) for take, build in own) <= area)

    def _pieces(
        self, model: "cp_model.CpModel", takes: "Sequence[cp_model.IntVar]"
    ) -> list[tuple["cp_model.IntVar", int, int]]:
        """Add how much is brought; return each number with its grams and cubic millimetres each."""
        demand = self.demand
        parts = {part.id: part for part in demand.workspace.parts}
        asked = [demand.asks(pick.wish) for pick in demand.picks]
        found = []
        for name in sorted({part for asks in asked for part in asks}):
            most = min(demand.pool.get(name, 10**6), sum(asks[name] for asks in asked))
            number = model.new_int_var(0, most, f"pieces {name}")
            for session in demand.event.sessions:
                model.add(sum(takes[n] * asked[n][name] for n in demand.active(session)) <= number)
            part = parts[name]
            found.append((number, part.weight_g, volume(part.core_um) // UM3_PER_MM3))
        for name in sorted({pick.wish.build for pick in demand.picks if pick.wish.build}):
            if not demand.takes_parts(name):
                pieces = demand.builds[name].pieces
                there = model.new_bool_var(f"build {name}")
                for n, pick in enumerate(demand.picks):
                    if pick.wish.build == name:
                        model.add_implication(takes[n], there)
                solid = sum(volume(piece.core_um) for piece in pieces) // UM3_PER_MM3
                found.append((there, sum(piece.weight_g for piece in pieces), solid))
        return found

    def _add_room(
        self,
        model: "cp_model.CpModel",
        brought: "list[tuple[cp_model.IntVar, int, int]]",
        tare_g: int,
    ) -> None:
        limits = self.demand.event.limits
        payloads = usable_payloads(self.containers, rules_of(self.demand.workspace))
        used = [model.new_bool_var(f"container {c.id}") for c in self.containers]
        pairs = list(zip(used, self.containers, strict=True))
        grams = sum(number * each for number, each, _ in brought)
        model.add(grams <= sum(use * payloads[c.id] for use, c in pairs))
        model.add(
            sum(number * each for number, _, each in brought)
            <= sum(use * (-(-c.volume_um3 // UM3_PER_MM3)) for use, c in pairs)
        )
        if limits.weight_g is not None:
            model.add(grams + sum(use * c.tare_g for use, c in pairs) <= limits.weight_g)
            model.add(grams <= max(0, limits.weight_g - tare_g))
        if limits.most_containers is not None:
            model.add(sum(used) <= limits.most_containers)

    def _add_times(self, model: "cp_model.CpModel", takes: "Sequence[cp_model.IntVar]") -> None:
        """Bound the work before each start; what stood on the same day may have stayed."""
        allowed = self.demand.event.limits.set_up_s
        sessions = self.demand.event.sessions
        if allowed is None:
            return
        for begins in sorted({session.begins for session in sessions}):
            starting = [session for session in sessions if session.begins == begins]
            ended = [s for s in sessions if s.day == begins[0] and s.end_s <= begins[1]]
            standing = self._by_build(takes, ended)
            work = []
            for build, wants in self._by_build(takes, starting).items():
                fresh = model.new_bool_var(f"{build} is set up")
                for take in wants:
                    model.add_bool_or(~take, fresh, *standing.get(build, ()))
                work.append(fresh * self.least_s[build])
            model.add(sum(work) <= self.demand.event.limits.helpers * allowed)

    def _by_build(
        self, takes: "Sequence[cp_model.IntVar]", sessions: Sequence[Session]
    ) -> dict[str, list["cp_model.IntVar"]]:
        names = {session.id for session in sessions}
        found: dict[str, list[cp_model.IntVar]] = {}
        for take, pick in zip(takes, self.demand.picks, strict=True):
            if pick.session in names and pick.wish.build is not None:
                found.setdefault(pick.wish.build, []).append(take)
        return found
