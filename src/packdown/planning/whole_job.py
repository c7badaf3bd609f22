"""The front door of planning."""

from collections.abc import Callable, Collection
from dataclasses import replace

from packdown.errors import InputError, Problem, UsageError, nearest
from packdown.model import Build, Container, Plan, Prefer, Workspace
from packdown.planning.answer import plan_of
from packdown.planning.job import Job, Partition, SubAssembly
from packdown.planning.pack_up import Search
from packdown.planning.state import State
from packdown.planning.straight import starting_split

__all__ = ["DEFAULT_EFFORT", "chosen", "least_effort_split", "plan_workspace"]

DEFAULT_EFFORT = 8
ENDLESS = 10**9


def plan_workspace(
    workspace: Workspace,
    *,
    effort: int | None = DEFAULT_EFFORT,
    seed: int = 0,
    prefer: Prefer | None = None,
    containers: Collection[str] | None = None,
    stop: Callable[[], bool] | None = None,
    progress: Callable[[float, str], None] | None = None,
    first: Callable[[Callable[[], Plan]], None] | None = None,
) -> Plan:
    """Plan how a whole collection is packed up.

    Parameters
    ----------
    workspace
        The collection.
    effort
        How many partitions are tried; None goes on until `stop` says so. With the same
        workspace, seed and effort the same plan comes out.
    seed
        Seed of every random choice.
    prefer
        What to spare first; the workspace's own preference if None.
    containers
        Ids of the containers that may be used; all if None.
    stop
        Asked often; once true, the best plan so far is the answer.
    progress
        Told the share of the work done and how things stand.
    first
        Given what makes a plan of the first packing, before the search goes on: a caller may so
        learn how long it takes to finish a plan.

    Returns
    -------
    Plan
        Not yet verified; what has no place is listed with its reason.

    Raises
    ------
    UsageError
        If a container is unknown.
    """
    job = Job(workspace=workspace, containers=chosen(workspace, containers))
    wanted = prefer or workspace.settings.prefer
    told: list[State] = []

    def seen(state: State) -> None:
        if first and not told:
            told.append(state)
            first(lambda: plan_of(job, state, prefer=wanted, seed=seed, effort=run.effort))

    run = Search(
        job=job,
        prefer=wanted,
        seed=seed,
        effort=ENDLESS if effort is None else max(1, effort),
        stop=stop or (lambda: False),
        progress=progress or (lambda _share, _words: None),
        seen=seen,
    )
    best = run.run(least_effort_split(job))
    return plan_of(
        job, best, prefer=wanted, seed=seed, effort=run.spent if effort is None else run.effort
    )


def chosen(workspace: Workspace, names: Collection[str] | None) -> tuple[Container, ...]:
    """Return the containers of those names; one that stood on an absent one stands lower."""
    if names is None:
        return workspace.containers
    known = [container.id for container in workspace.containers]
    for name in names:
        if name not in known:
            raise UsageError(f'there is no container "{name}"', hint=nearest(name, known))
    by_id = {container.id: container for container in workspace.containers}
    chosen = []
    for container in workspace.containers:
        below = container.stacked_on
        while below is not None and below not in names:
            below = by_id[below].stacked_on
        if container.id in names:
            chosen.append(replace(container, stacked_on=below))
    return tuple(chosen)


def least_effort_split(job: Job) -> Partition:
    """Return the least-effort split of every build that can be taken apart.

    Raises
    ------
    InputError
        If a build cannot be taken apart with straight moves, or what is never to be parted
        does not hold.
    """
    partition: dict[str, tuple[SubAssembly, ...]] = {}
    problems = []
    for build in job.builds:
        subs = starting_split(job, build)
        if job.moves(build, subs) is None:
            subs = tuple((piece.id,) for piece in build.pieces)
        weak = [sub for sub in subs if job.item(build, sub) is None]
        if job.moves(build, subs) is None:
            problems.append(_problem(build, "place", LOCKED))
        elif weak:
            problems.append(_problem(build, f"keep, {weak[0][0]} and what it is kept with", WEAK))
        partition[build.id] = subs
    if problems:
        raise InputError(problems)
    return partition


LOCKED = (
    "its pieces lock each other in: no straight move takes one off",
    "check the places of its pieces, or glue what never comes apart",
)
WEAK = (
    "these pieces are never to be parted, yet their joints do not hold in transit",
    'let some of the joints be split, glue them, or set shock = "shelf" if they are not carried',
)


def _problem(build: Build, entry: str, words: tuple[str, str]) -> Problem:
    message, hint = words
    return Problem(file=f"build {build.id}", entry=entry, message=message, hint=hint)
