"""Pack up: split and pack together.

Start from the least-effort split and pack. Where it does not fit, split further what was left
out, or what wastes most space, chosen at random among the cheapest cuts; once all fits, join
again whatever still fits in one container. Repeat from other seeds and keep the best.

References
----------
Vanek, J. et al. (2014). PackMerger: a 3D print volume optimizer. Computer Graphics Forum 33(6):
split too much, pack, merge back what still fits.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, field

from packdown import packing, teardown
from packdown.geometry import bounds, volume
from packdown.model import Build, Item, ItemKind, Prefer
from packdown.planning.job import Job, Partition, SubAssembly
from packdown.planning.merge_back import merge_back
from packdown.planning.state import State, state_of

__all__ = ["Search", "search"]

Progress = Callable[[float, str], None]
Stop = Callable[[], bool]
CUTS_TO_CHOOSE_FROM = 6


@dataclass(kw_only=True)
class Search:
    """One run of the search; its counters belong to the run.

    Parameters
    ----------
    job, prefer, seed
        What is asked.
    effort
        How many partitions are packed at most.
    stop
        Asked between packings; once true, the best state so far is the answer.
    progress
        Told the share of the work done and, in a few words, how things stand.
    """

    job: Job
    prefer: Prefer
    seed: int
    effort: int
    stop: Stop
    progress: Progress
    spent: int = 0
    best: State | None = None
    _rng: random.Random = field(init=False)

    def __post_init__(self) -> None:
        self._rng = random.Random(self.seed)

    @property
    def over(self) -> bool:
        """Whether the effort is spent or a stop was asked for."""
        return self.spent >= self.effort or self.stop()

    def evaluate(self, partition: Partition) -> State:
        """Pack a partition and remember it if it is the best so far."""
        seed = self.seed * 1_000_003 + self.spent
        found = packing.pack(self.job.problem(partition), effort=1, seed=seed, stop=self.stop)
        self.spent += 1
        state = state_of(self.job, self.prefer, partition, found)
        self.keep(state)
        self.progress(min(1.0, self.spent / self.effort), _words(self.best or state))
        return state

    def keep(self, state: State) -> None:
        """Remember a state if it is the best so far."""
        if self.best is None or state.score < self.best.score:
            self.best = state

    def repair(self, state: State) -> State:
        """Split further until everything fits or nothing more can be split."""
        while not (state.complete or self.over):
            partition = self.split_more(state)
            if partition is None:
                break
            state = self.evaluate(partition)
        return state

    def split_more(self, state: State) -> Partition | None:
        """Split every left-out sub-assembly once; if only pieces are left out, a wasteful one."""
        left = set(state.packing.unpacked)
        wanted = [item for item in state.items if item.id in left and _can_split(item)]
        partition = dict(state.partition)
        changed = [self._split_one(partition, item) for item in wanted]
        if any(changed):
            return partition
        return self.perturb(state, 1)

    def perturb(self, state: State, count: int) -> Partition | None:
        """Split up to `count` sub-assemblies, those that waste most space first, by chance."""
        candidates = [item for item in state.items if _can_split(item)]
        partition = dict(state.partition)
        done = 0
        while candidates and done < count:
            weights = [1 + _waste(item) // 10**9 for item in candidates]
            item = self._rng.choices(candidates, weights)[0]
            candidates.remove(item)
            done += self._split_one(partition, item)
        return partition if done else None

    def _split_one(self, partition: dict[str, tuple[SubAssembly, ...]], item: Item) -> bool:
        """Replace a sub-assembly in a partition by two halves; False if it has no cut."""
        build = self._build(item.build)
        job = self.job
        rest = tuple(sub for sub in partition[build.id] if sub != item.pieces)
        found = teardown.cuts(
            build, item.pieces, job.settings, job.rules, job.workspace.key_weight_g
        )
        options = list(found[:CUTS_TO_CHOOSE_FROM])
        weights = [1 / (1 + option.effort_s) for option in options]
        while options:
            index = self._rng.choices(range(len(options)), weights)[0]
            weights.pop(index)
            halves = options.pop(index).sub_assemblies
            subs = in_build_order(build, (*rest, *halves))
            if job.moves(build, subs) is not None:
                partition[build.id] = subs
                return True
        return False

    def _build(self, name: str | None) -> Build:
        return next(build for build in self.job.builds if build.id == name)


def in_build_order(build: Build, subs: tuple[SubAssembly, ...]) -> tuple[SubAssembly, ...]:
    """Return sub-assemblies in the order of their first pieces, so that equal ones look equal."""
    rank = {piece.id: index for index, piece in enumerate(build.pieces)}
    return tuple(sorted(subs, key=lambda sub: min(rank[piece] for piece in sub)))


def _can_split(item: Item) -> bool:
    return item.kind is ItemKind.SUB_ASSEMBLY and len(item.pieces) > 1


def _waste(item: Item) -> int:
    """Volume of the bounding box that the item itself does not take."""
    return bounds(item.cuboids_um).volume - volume(item.cuboids_um)


def _words(state: State) -> str:
    if state.complete:
        return f"everything fits in {len(state.packing.fills)} containers"
    return f"{len(state.packing.unpacked)} items still without a place"


def search(run: Search, start: Partition) -> State:
    """Run the search and return the best state found; the first packing always finishes.

    Parameters
    ----------
    run
        A fresh run.
    start
        The least-effort split.
    """
    first = run.evaluate(start)
    state = run.repair(first)
    run.keep(merge_back(run.job, run.prefer, state, stop=run.stop, seed=run.seed))
    rounds = 0
    while not run.over:
        rounds += 1
        base = run.best if run.best and run.best.complete else first
        partition = run.perturb(base, 1 + rounds % 3)
        if partition is None:
            break
        state = run.repair(run.evaluate(partition))
        if state.complete:
            seed = run.seed + rounds
            run.keep(merge_back(run.job, run.prefer, state, stop=run.stop, seed=seed))
    if run.best is None:
        raise AssertionError("the first packing always leaves a state")
    return run.best
