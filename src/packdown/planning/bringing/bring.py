"""Bring: choose builds for the sessions of an event, pack what is chosen, explain the rest."""

from collections.abc import Callable

from packdown.model import Bringing, Event, Plan, Workspace
from packdown.planning.bringing.choosing import Progress, choose
from packdown.planning.bringing.demand import Demand
from packdown.planning.bringing.oracle import Accepted, Oracle
from packdown.planning.bringing.packer import Packer
from packdown.planning.bringing.reasons import Reasons

__all__ = ["DEFAULT_BRING_EFFORT", "bring"]

DEFAULT_BRING_EFFORT = 16
FINISHING = 8
"""Packings tried to pack the best choice better."""


def bring(
    workspace: Workspace,
    event: Event,
    *,
    effort: int | None = DEFAULT_BRING_EFFORT,
    seed: int = 0,
    stop: Callable[[], bool] | None = None,
    progress: Progress | None = None,
    first: Callable[[Callable[[], Plan]], None] | None = None,
) -> Bringing:
    """Choose what is brought to an event, and pack it.

    Musts come before all others; then the worth of the wishes that are met is as high as can be.

    Parameters
    ----------
    workspace
        The collection.
    event
        The event.
    effort
        How many packings are tried, give or take those of one choice; None goes on until `stop`
        says so, or until the best choice is proved. With the same workspace, event, seed and
        effort the same answer comes out.
    seed
        Seed of every random choice.
    stop
        Asked often; once true, the best choice so far is the answer.
    progress
        Told the share of the work done and how things stand.
    first
        Given what makes a plan of the first choice, before the search goes on: a caller may so
        learn how long it takes to finish a plan.

    Returns
    -------
    Bringing
        The plan in it is not yet verified.

    Raises
    ------
    InputError
        If a build cannot be taken apart.
    """
    demand = Demand(workspace=workspace, event=event)

    def seen(oracle: Oracle, best: Accepted) -> None:
        if first:
            first(lambda: oracle.finished(best, 1).plan)

    found = choose(
        demand, Packer(seed=seed), effort=effort, stop=stop, progress=progress, first=seen
    )
    best = found.oracle.finished(found.best, FINISHING)
    reasons = Reasons(oracle=found.oracle, chosen=best.choice)
    left = []
    for number in range(len(demand.picks)):
        if number not in best.choice:
            if progress:
                progress(1.0, "saying what stays and why")
            left.append(reasons.left(number))
    return Bringing(
        event=event,
        chosen=tuple(demand.picks[n] for n in best.choice),
        left=tuple(left),
        whole=tuple(name for name, _ in best.content.whole),
        made_there=best.content.made_there,
        turnovers=best.turnovers,
        plan=best.plan,
        loads=best.loads,
        musts=found.value[0],
        worth=found.value[1],
        musts_bound=found.bound[0],
        worth_bound=found.bound[1],
        proved=found.proved,
    )
