"""Containers against rebuilding: plans of which none is better in everything than another."""

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from functools import partial

from packdown.model import Plan, Prefer, Workspace
from packdown.planning.answer import plan_of
from packdown.planning.job import Job
from packdown.planning.pack_up import Search
from packdown.planning.state import State
from packdown.planning.whole_job import DEFAULT_EFFORT, chosen, least_effort_split

__all__ = ["trade_off"]

Progress = Callable[[float, str], None]
Weights = tuple[int, int, int]
"""Containers used, their volume in cubic micrometres, and effort in seconds."""


@dataclass(slots=True)
class _Front:
    """The states seen so far that no other is better than, with the search that found each."""

    job: Job
    best: dict[Weights, tuple[State, Prefer]] = field(default_factory=dict)

    def see(self, state: State, prefer: Prefer) -> None:
        """Keep a state with a place for all that has one, unless another is as good throughout."""
        weights = self._weights(state)
        if not state.complete or any(_as_good(own, weights) for own in self.best):
            return
        self.best = {own: kept for own, kept in self.best.items() if not _as_good(weights, own)}
        self.best[weights] = (state, prefer)

    def _weights(self, state: State) -> Weights:
        inside = {container.id: container.volume_um3 for container in self.job.containers}
        fills = state.packing.fills
        volume = sum(inside[fill.container] for fill in fills)
        return (len(fills), volume, self.job.cost_s(state.partition))


def _as_good(one: Weights, other: Weights) -> bool:
    return all(a <= b for a, b in zip(one, other, strict=True))


def trade_off(
    workspace: Workspace,
    *,
    effort: int = DEFAULT_EFFORT,
    seed: int = 0,
    containers: Collection[str] | None = None,
    stop: Callable[[], bool] | None = None,
    progress: Progress | None = None,
) -> tuple[Plan, ...]:
    """Plan with every preference; return the plans worth a choice, fewest containers first.

    Of two of them the one with fewer containers, or with less volume, takes more effort.

    Parameters
    ----------
    workspace
        The collection.
    effort
        How many partitions each of the three searches tries.
    seed, containers, stop, progress
        As for `plan_workspace`.

    Returns
    -------
    tuple of Plan
        Not yet verified. Empty if none was found with a place for all that some container takes.

    Raises
    ------
    UsageError
        If a container is unknown.
    """
    job = Job(workspace=workspace, containers=chosen(workspace, containers))
    front, start, told = _Front(job), least_effort_split(job), progress or (lambda _s, _w: None)
    for number, prefer in enumerate(Prefer):
        search = Search(
            job=job,
            prefer=prefer,
            seed=seed,
            effort=effort,
            stop=stop or (lambda: False),
            progress=_part(told, number),
            seen=partial(front.see, prefer=prefer),
        )
        search.run(start)
    return tuple(
        plan_of(job, state, prefer=prefer, seed=seed, effort=effort)
        for _, (state, prefer) in sorted(front.best.items(), key=lambda entry: entry[0])
    )


def _part(told: Progress, number: int) -> Progress:
    """Return what tells how far all searches are, for the one of a number."""
    return lambda share, words: told((number + share) / len(Prefer), words)
