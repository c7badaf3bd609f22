"""Moves of the search: other partitions of one build, with what each costs or saves."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from packdown import teardown
from packdown.model import Build, Container
from packdown.planning.job import Job, Partition, SubAssembly

__all__ = ["Change", "Changes", "container_kinds", "in_build_order", "kind_of"]

CUTS_EACH = 6
"""Cheapest ways of halving one sub-assembly that are looked at."""

Subs = tuple[SubAssembly, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Another partition of one build.

    Parameters
    ----------
    build
        Id of the build.
    subs
        Its new sub-assemblies.
    added_s
        Seconds of effort added, more for joints rather kept; negative where effort is saved.
    eased
        By how much the build becomes easier to place; negative where it becomes harder.
    """

    build: str
    subs: Subs
    added_s: int
    eased: int


@dataclass(kw_only=True)
class Changes:
    """Finds the changes of a build's partition; what was found once is remembered.

    Three kinds are known: the least-effort split for one kind of container alone, halving one
    sub-assembly, and joining two.
    """

    job: Job
    _alone: dict[str, tuple[Subs, ...]] = field(init=False, default_factory=dict)
    _near: dict[tuple[str, Subs], tuple[Change, ...]] = field(init=False, default_factory=dict)

    def of(self, build: Build, partition: Partition) -> tuple[Change, ...]:
        """Return all changes of one build; whether they are possible is yet to be asked."""
        now = partition[build.id]
        key = (build.id, now)
        if key not in self._near:
            job = self.job
            cost = teardown.cost_of(build, now, job.rules.place_s)
            found = dict.fromkeys(
                in_build_order(build, subs)
                for subs in (
                    *self._for_one_kind(build),
                    *self._halved(build, now),
                    *_joined(build, now, job.rules.place_s),
                )
            )
            found.pop(now, None)
            awkward = job.awkwardness(build, now)
            self._near[key] = tuple(
                Change(
                    build=build.id,
                    subs=subs,
                    added_s=teardown.cost_of(build, subs, job.rules.place_s) - cost,
                    eased=awkward - job.awkwardness(build, subs),
                )
                for subs in found
            )
        return self._near[key]

    def possible(self, change: Change) -> bool:
        """Whether all that a change leaves whole holds, and the build can be taken apart so."""
        build = next(build for build in self.job.builds if build.id == change.build)
        holds = all(self.job.item(build, sub) is not None for sub in change.subs)
        return holds and self.job.moves(build, change.subs) is not None

    def _for_one_kind(self, build: Build) -> tuple[Subs, ...]:
        """Return the least-effort split for each kind of container alone."""
        if build.id not in self._alone:
            job = self.job
            splits = (
                teardown.split(
                    build,
                    [kind],
                    job.settings,
                    job.rules,
                    job.workspace.key_weight_g,
                    aim=teardown.Aim.QUICK,
                )
                for kind in container_kinds(job.containers)
            )
            self._alone[build.id] = tuple(
                dict.fromkeys(found.sub_assemblies for found in splits if not found.stuck)
            )
        return self._alone[build.id]

    def _halved(self, build: Build, now: Subs) -> Iterator[Subs]:
        job = self.job
        for sub in now:
            if len(sub) == 1:
                continue
            rest = [other for other in now if other != sub]
            weight = job.workspace.key_weight_g
            cuts = teardown.cuts(build, sub, job.settings, job.rules, weight, most=CUTS_EACH)
            for cut in cuts:
                yield (*rest, *cut.sub_assemblies)


def _joined(build: Build, now: Subs, place_s: int) -> Iterator[Subs]:
    rank = {piece.id: index for index, piece in enumerate(build.pieces)}
    for one, two in sorted(pair[:2] for pair in teardown.joinable(build, now, place_s)):
        merged = tuple(sorted((*now[one], *now[two]), key=rank.__getitem__))
        yield (*(sub for index, sub in enumerate(now) if index not in {one, two}), merged)


def container_kinds(containers: tuple[Container, ...]) -> list[Container]:
    """Return one of each kind of container that differs in room, rules or payload."""
    kinds: dict[Container, Container] = {}
    for container in containers:
        kinds.setdefault(kind_of(container), container)
    return list(kinds.values())


def kind_of(container: Container) -> Container:
    """Return a container without all that does not matter to what goes into it."""
    return replace(container, id="", name="", type="", stacked_on=None, outer_um=container.inner_um)


def in_build_order(build: Build, subs: Subs) -> Subs:
    """Return sub-assemblies in the order of their first pieces, so that equal ones look equal."""
    rank = {piece.id: index for index, piece in enumerate(build.pieces)}
    return tuple(sorted(subs, key=lambda sub: min(rank[piece] for piece in sub)))
