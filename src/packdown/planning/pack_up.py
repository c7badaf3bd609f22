"""Pack up: split and pack together.

Start from the least-effort split and pack. While something has no place, split further, chosen
at random among the changes that cost least. Once all fits, pack the best partition harder, and in
turn join again or exchange whatever makes a better plan that still packs. Every partition that is
tried is packed whole.

References
----------
Vanek, J. et al. (2014). PackMerger: a 3D print volume optimizer. Computer Graphics Forum 33(6):
split too much, pack, merge back what still fits.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, field

from packdown import packing
from packdown.model import Build, ItemKind, Prefer
from packdown.planning.job import Job, Partition
from packdown.planning.moves import Change, Changes
from packdown.planning.state import State, state_of

__all__ = ["Search"]

Progress = Callable[[float, str], None]
Stop = Callable[[], bool]
EASE_S = 5
"""Seconds added to every effort before the odds are drawn, so that free changes are not certain."""
FEW, HARDER = 2, 3
"""Where so few items are left out, so much more packing is tried before joints are split."""
DEPTH = 2
"""Partitions tried in a row to make room for a better one before it is given up."""


@dataclass(kw_only=True)
class Search:
    """One run of the search; its counters belong to the run.

    Parameters
    ----------
    job, prefer, seed
        What is asked.
    effort
        How many packings are made at most, give or take the last.
    stop
        Asked between packings; once true, the best state so far is the answer.
    progress
        Told the share of the work done and, in a few words, how things stand.
    seen
        Told every state, as soon as it is packed.
    """

    job: Job
    prefer: Prefer
    seed: int
    effort: int
    stop: Stop
    progress: Progress
    seen: Callable[[State], None] = lambda _state: None
    spent: int = 0
    _changes: Changes = field(init=False)
    _rng: random.Random = field(init=False)
    _tried: set[frozenset[tuple[str, object]]] = field(init=False, default_factory=set)

    def __post_init__(self) -> None:
        self._changes = Changes(job=self.job)
        self._rng = random.Random(self.seed)

    def run(self, start: Partition) -> State:
        """Return the best state found; the packing of the start always finishes."""
        best = self._repaired(self._evaluate(start), self.effort)
        rounds = 0
        while best.complete and not self._over:
            rounds += 1
            changed = self._changed(best, self._better(best)) if rounds % 2 == 0 else None
            if changed is None:
                state = self._packed(best.partition, HARDER)
            else:
                state = self._repaired(self._evaluate(changed), DEPTH)
            best = min(best, state, key=lambda state: state.score)
        return best

    @property
    def _over(self) -> bool:
        return self.spent >= self.effort or self.stop()

    def _evaluate(self, partition: Partition) -> State:
        """Pack a partition, harder where only a few items are left out."""
        self._tried.add(_key(partition))
        state = self._packed(partition, 1)
        if 0 < len(state.missing) <= FEW and not self._over:
            state = min(state, self._packed(partition, HARDER), key=lambda state: state.score)
        return state

    def _packed(self, partition: Partition, effort: int) -> State:
        seed = self.seed * 1_000_003 + self.spent
        problem = self.job.problem(partition)
        found = packing.pack(problem, effort=effort, seed=seed, stop=self.stop)
        self.spent += effort
        state = state_of(self.job, self.prefer, partition, found)
        self.seen(state)
        self.progress(min(1.0, self.spent / self.effort), _words(state))
        return state

    def _repaired(self, state: State, tries: int) -> State:
        """Split further until all fits or the tries run out; return the best on the way."""
        best = state
        while not (state.complete or self._over) and tries > 0:
            partition = self._split_further(state)
            if partition is None:
                break
            state = self._evaluate(partition)
            best = min(best, state, key=lambda state: state.score)
            tries -= 1
        return best

    def _split_further(self, state: State) -> Partition | None:
        """Ease every build of which something has no place, or any if only loose ones have none."""
        missing = {
            item.build
            for item in state.items
            if item.id in state.missing and item.kind is ItemKind.SUB_ASSEMBLY
        }
        partition = state.partition
        for build in self.job.builds:
            if build.id in missing:
                partition = self._drawn(partition, self._easing(build, partition)) or partition
        if partition is state.partition or _key(partition) in self._tried:
            changes = [c for b in self.job.builds for c in self._easing(b, state.partition)]
            return self._changed(state, changes)
        return partition

    def _easing(self, build: Build, partition: Partition) -> list[tuple[Change, float]]:
        """Return changes that make a build easier to place, with their odds."""
        return [
            (change, change.eased / (EASE_S + max(0, change.added_s)))
            for change in self._changes.of(build, partition)
            if change.eased > 0
        ]

    def _better(self, state: State) -> list[tuple[Change, float]]:
        """Return changes that may make a better plan, with their odds: those that save most."""
        every = [c for build in self.job.builds for c in self._changes.of(build, state.partition)]
        saving = [
            (change, float(EASE_S - change.added_s)) for change in every if change.added_s < 0
        ]
        if self.prefer is Prefer.REBUILD:
            return saving
        worth = self.job.settings.box_worth_s
        easing = [
            (change, EASE_S * EASE_S / (EASE_S + change.added_s))
            for change in every
            if change.eased > 0 and 0 <= change.added_s < worth
        ]
        return saving + easing

    def _changed(self, state: State, changes: list[tuple[Change, float]]) -> Partition | None:
        """Draw a change that leads to a partition not tried before; None if there is none."""
        fresh = [
            (change, odds)
            for change, odds in changes
            if _key({**state.partition, change.build: change.subs}) not in self._tried
        ]
        return self._drawn(state.partition, fresh)

    def _drawn(self, partition: Partition, changes: list[tuple[Change, float]]) -> Partition | None:
        """Draw a change that is possible, and return the partition it leads to."""
        changes = list(changes)
        while changes:
            odds = [chance for _, chance in changes]
            change, _ = changes.pop(self._rng.choices(range(len(changes)), odds)[0])
            if self._changes.possible(change):
                return {**partition, change.build: change.subs}
        return None


def _key(partition: Partition) -> frozenset[tuple[str, object]]:
    return frozenset(partition.items())


def _words(state: State) -> str:
    if state.complete:
        return f"everything fits in {len(state.packing.fills)} containers"
    return f"{len(state.missing)} items still without a place"
