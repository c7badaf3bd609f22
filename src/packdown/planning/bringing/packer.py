"""Packs what a choice brings: into all containers that may be brought, or into some of them.

What is packed does not depend on any limit but the containers, and every answer is remembered.
So a choice that fits under some limits fits under all looser ones.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import product

from packdown.geometry import volume
from packdown.model import Container, Plan, Workspace, usable_payloads
from packdown.packing import pack
from packdown.planning.answer import plan_of
from packdown.planning.bringing.content import Content, packed_workspace
from packdown.planning.bringing.demand import Demand
from packdown.planning.job import Job, Memory, Partition, SubAssembly, rules_of
from packdown.planning.moves import container_kinds, kind_of
from packdown.planning.pack_up import Search
from packdown.planning.state import State, state_of
from packdown.planning.whole_job import chosen, least_effort_split

__all__ = ["Names", "Packed", "Packer", "roomy", "subsets"]

FAR = 0.06
"""Share of the volume without a place from which on a packing is not repaired."""
ENDLESS = 10**9
Names = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """A packing of everything, and the draft of its plan.

    Parameters
    ----------
    job, state
        What was packed, and how.
    draft
        Its plan, without bounds.
    """

    job: Job
    state: State
    draft: Plan


@dataclass(kw_only=True)
class Packer:
    """Packs choices of one collection; what it found is kept.

    Parameters
    ----------
    seed
        Decides all that is random.
    tries
        Times of one greedy packing that each split is tried.
    repairs
        Packings tried to repair one that lacks little.
    stop
        Asked between packings; once true, nothing more is found.
    """

    seed: int = 0
    tries: int = 2
    repairs: int = 6
    stop: Callable[[], bool] = lambda: False
    tried: int = field(init=False, default=0)
    _found: dict[tuple[Content, Names], Packed | None] = field(init=False, default_factory=dict)
    _splits: dict[tuple[str, frozenset[Container]], tuple[SubAssembly, ...]] = field(
        init=False, default_factory=dict
    )
    _memory: Memory = field(init=False, default_factory=Memory)

    def packed(self, demand: Demand, content: Content, names: Names) -> Packed | None:
        """Return a packing with a place for everything, or None if none was found.

        Parameters
        ----------
        demand
            The event.
        content
            What is brought.
        names
            Ids of the containers that may be used.
        """
        key = (content, names)
        if key not in self._found:
            found = self.of(packed_workspace(demand, content), names)
            if found is None and self.stop():
                return None
            self._found[key] = found
        return self._found[key]

    def of(self, workspace: Workspace, names: Names) -> Packed | None:
        """Return a packing of a whole workspace, or None if none was found."""
        job = Job(workspace=workspace, containers=chosen(workspace, names), memory=self._memory)
        if not roomy(job.workspace, job.containers):
            return None
        self.tried += 1
        found = self._first(job)
        return self._drafted(job, found, self.tries) if found else None

    def plan(self, demand: Demand, content: Content, names: Names) -> Plan | None:
        """Return the draft of a plan with a place for everything, or None if none was found."""
        found = self.packed(demand, content, names)
        return found.draft if found else None

    def better(self, packed: Packed, effort: int) -> Iterator[Packed]:
        """Yield other packings of the same, the best first, as a longer search finds them."""
        states = self._states(packed.job, packed.state.partition, effort, enough=ENDLESS)
        for state in sorted(states, key=lambda state: state.score):
            yield self._drafted(packed.job, state, effort)

    def finished(self, packed: Packed, effort: int) -> Plan:
        """Return the whole plan of a packing, with its bounds."""
        return self._plan(packed.job, packed.state, effort, draft=False)

    def _drafted(self, job: Job, state: State, effort: int) -> Packed:
        return Packed(job=job, state=state, draft=self._plan(job, state, effort, draft=True))

    def _plan(self, job: Job, state: State, effort: int, *, draft: bool) -> Plan:
        prefer = job.settings.prefer
        return plan_of(job, state, prefer=prefer, seed=self.seed, effort=effort, draft=draft)

    def _first(self, job: Job) -> State | None:
        """Return a state with a place for everything: splits get finer until one packs."""
        tries: list[State] = []
        for number, partition in enumerate(self._ladder(job)):
            problem, seed = job.problem(partition), self.seed + number
            packing = pack(problem, effort=self.tries, seed=seed, stop=self.stop)
            tries.append(state_of(job, job.settings.prefer, partition, packing))
            if not packing.unpacked:
                return tries[-1]
            if self.stop():
                return None
        nearest = min(tries, key=_missing)
        if _missing(nearest) > FAR:
            return None
        return next(iter(self._states(job, nearest.partition, self.repairs, enough=1)), None)

    def _states(self, job: Job, start: Partition, effort: int, *, enough: int) -> list[State]:
        """Search on from a partition; return states with a place for everything."""
        found: list[State] = []

        def seen(state: State) -> None:
            if not state.packing.unpacked:
                found.append(state)

        search = Search(
            job=job,
            prefer=job.settings.prefer,
            seed=self.seed,
            effort=effort,
            stop=lambda: len(found) >= enough or self.stop(),
            progress=lambda _share, _words: None,
            seen=seen,
        )
        search.run(start)
        return found

    def _ladder(self, job: Job) -> Iterator[Partition]:
        """Yield least-effort splits for all kinds of container, then without the largest ones."""
        kinds = sorted(
            container_kinds(job.containers), key=lambda kind: kind.volume_um3, reverse=True
        )
        known: list[Partition] = []
        for number in range(len(kinds)):
            partition = self._partition(job, tuple(kinds[number:]))
            if partition not in known:
                known.append(partition)
                yield partition

    def _partition(self, job: Job, kinds: tuple[Container, ...]) -> Partition:
        """Return the least-effort split of every build for some kinds of container."""
        key = frozenset(kind_of(kind) for kind in kinds)
        for build in job.builds:
            if (build.id, key) not in self._splits:
                alone = replace(job.workspace, builds=(build,), loose=())
                split = least_effort_split(
                    Job(workspace=alone, containers=kinds, memory=self._memory)
                )
                self._splits[build.id, key] = split[build.id]
        return {build.id: self._splits[build.id, key] for build in job.builds}


def _missing(state: State) -> float:
    """Return the share of what is to be packed that has no place, by volume."""
    left = set(state.packing.unpacked)
    every = sum(volume(item.cuboids_um) for item in state.items)
    lost = sum(volume(item.cuboids_um) for item in state.items if item.id in left)
    return lost / every if every else 0.0


def _sizes(workspace: Workspace) -> Iterator[int]:
    """Yield the volume that each piece surely takes, in cubic micrometres."""
    pieces = [piece for build in workspace.builds for piece in build.pieces]
    for piece in (*pieces, *workspace.loose):
        yield volume(piece.core_um)


def roomy(workspace: Workspace, containers: Sequence[Container]) -> bool:
    """Whether containers are large and strong enough for the sum of what is packed."""
    pieces = [piece for build in workspace.builds for piece in build.pieces]
    weight = sum(piece.weight_g for piece in (*pieces, *workspace.loose))
    payloads = usable_payloads(containers, rules_of(workspace))
    room = sum(container.volume_um3 for container in containers)
    return sum(_sizes(workspace)) <= room and weight <= sum(payloads.values())


def subsets(workspace: Workspace, names: Names) -> Iterator[Names]:
    """Yield every set of some containers, the largest first, equal ones once.

    Containers that differ in nothing but their names count as equal, unless one stands on
    another.
    """
    stacked = {container.stacked_on for container in workspace.containers}
    kinds: dict[object, list[str]] = {}
    for container in workspace.containers:
        if container.id in names:
            single = container.stacked_on is not None or container.id in stacked
            key: object = container.id if single else _alike(container)
            kinds.setdefault(key, []).append(container.id)
    groups = list(kinds.values())
    counts = product(*(range(len(group), -1, -1) for group in groups))
    order = {name: number for number, name in enumerate(names)}
    for numbers in sorted(counts, key=lambda each: (-sum(each), [-n for n in each])):
        some = [name for group, n in zip(groups, numbers, strict=True) for name in group[:n]]
        if some:
            yield tuple(sorted(some, key=order.__getitem__))


def _alike(container: Container) -> Container:
    return replace(container, id="", name="", type="")
