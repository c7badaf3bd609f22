"""Who does which step, and when: list scheduling, improved and proved by constraint programming.

A step begins once all it waits for is done and enough helpers are free. No timeline is shorter
than the longest chain of steps that wait for each other, nor than all work shared out evenly.

References
----------
Graham, R. L. (1969). Bounds on multiprocessing timing anomalies. SIAM Journal on Applied
Mathematics 17(2), 416-429: adding helpers can make a list schedule longer, so fewer helpers are
tried too.
Kolisch, R. (1996). Serial and parallel resource-constrained project scheduling methods revisited.
European Journal of Operational Research 90(2), 320-333.
"""

from collections.abc import Mapping, Sequence
from heapq import heappop, heappush
from typing import TYPE_CHECKING

from packdown.model import Task, Timeline, Turn

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

__all__ = ["quick_length", "schedule", "shortest_possible"]

LIMIT = 2.0
"""Deterministic time for improving, roughly in seconds."""

Starts = Mapping[int, int]
"""When each step begins, in seconds, by its number."""


def schedule(tasks: Sequence[Task], helpers: int, *, limit: float = LIMIT) -> Timeline:
    """Return a timeline for some helpers, as short as was found.

    Parameters
    ----------
    tasks
        The steps, each after all it waits for.
    helpers
        How many there are; at least as many as any one step needs.
    limit
        Deterministic time for improving, roughly in seconds; 0 for none. The same tasks, helpers
        and limit give the same timeline.

    Raises
    ------
    ValueError
        If a step needs more helpers than there are.
    """
    most = max((task.helpers for task in tasks), default=1)
    if most > helpers:
        raise ValueError(f"a step needs {most} helpers, there are {helpers}")
    bound = shortest_possible(tasks, helpers)
    starts = _best_list(tasks, helpers)
    if limit > 0 and _length(tasks, starts) > bound:
        starts, bound = _improved(tasks, helpers, starts, bound, limit)
    return Timeline(
        helpers=helpers,
        turns=_turns(tasks, helpers, starts),
        length_s=_length(tasks, starts),
        bound_s=bound,
    )


def quick_length(tasks: Sequence[Task], helpers: int) -> int:
    """Return the length of the best list schedule; one more helper never makes it longer.

    Raises
    ------
    ValueError
        If a step needs more helpers than there are.
    """
    return schedule(tasks, helpers, limit=0).length_s


def shortest_possible(tasks: Sequence[Task], helpers: int) -> int:
    """Return a length below which no timeline is: the longest chain, or all work shared out."""
    work = sum(task.seconds * task.helpers for task in tasks)
    return max(max(_tails(tasks).values(), default=0), -(-work // helpers))


def _tails(tasks: Sequence[Task]) -> dict[int, int]:
    """Return for each step the longest chain of work that begins with it, in seconds."""
    behind: dict[int, int] = {}
    tails: dict[int, int] = {}
    for task in reversed(tasks):
        tails[task.n] = own = task.seconds + behind.get(task.n, 0)
        for n in task.after:
            behind[n] = max(behind.get(n, 0), own)
    return tails


def _length(tasks: Sequence[Task], starts: Starts) -> int:
    return max((starts[task.n] + task.seconds for task in tasks), default=0)


def _best_list(tasks: Sequence[Task], helpers: int) -> Starts:
    """Return the shortest list schedule for as many helpers or fewer."""
    tails = _tails(tasks)
    most = max((task.helpers for task in tasks), default=1)
    found = [
        _listed(tasks, number, tails, going_on=going_on)
        for number in range(helpers, most - 1, -1)
        for going_on in (True, False)
    ]
    return min(found, key=lambda starts: _length(tasks, starts))


def _listed(
    tasks: Sequence[Task], helpers: int, tails: Mapping[int, int], *, going_on: bool
) -> Starts:
    """Begin at every moment the steps that may begin, those with the longest chain first.

    Where somebody may go on with what has just been done, that comes before all others.
    """
    waits = {task.n: len(set(task.after)) for task in tasks}
    followers: dict[int, list[Task]] = {task.n: [] for task in tasks}
    for task in tasks:
        for n in set(task.after):
            followers[n].append(task)
    ready = [task for task in tasks if not waits[task.n]]
    starts: dict[int, int] = {}
    running: list[tuple[int, int, Task]] = []  # end, number, task
    now, free = 0, helpers
    next_up: set[int] = set()
    while ready or running:
        ready.sort(key=lambda task: (task.n not in next_up, -tails[task.n], task.n))
        for task in tuple(ready):
            if task.helpers <= free:
                ready.remove(task)
                starts[task.n] = now
                free -= task.helpers
                heappush(running, (now + task.seconds, task.n, task))
        now = running[0][0]
        next_up.clear()
        while running and running[0][0] == now:
            done = heappop(running)[2]
            free += done.helpers
            for task in followers[done.n]:
                waits[task.n] -= 1
                if not waits[task.n]:
                    ready.append(task)
                    next_up.update([task.n] if going_on else [])
    return starts


def _improved(
    tasks: Sequence[Task], helpers: int, starts: Starts, bound: int, limit: float
) -> tuple[Starts, int]:
    """Look for a shorter timeline; return the best one, and the bound that is proved."""
    from ortools.sat.python import cp_model  # noqa: PLC0415 - slow to load

    model = cp_model.CpModel()
    begins = _variables(model, tasks, helpers, _length(tasks, starts))
    end = model.new_int_var(bound, _length(tasks, starts), "end")
    for task in tasks:
        model.add(end >= begins[task.n] + task.seconds)
        model.add_hint(begins[task.n], starts[task.n])
    model.minimize(end)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 0
    solver.parameters.max_deterministic_time = limit
    status = solver.solve(model)
    if status == cp_model.MODEL_INVALID:
        raise RuntimeError(f"invalid model of a timeline: {model.validate()}")
    bound = max(bound, round(solver.best_objective_bound))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return starts, bound
    return {n: solver.value(begin) for n, begin in begins.items()}, bound


def _variables(
    model: "cp_model.CpModel", tasks: Sequence[Task], helpers: int, length: int
) -> dict[int, "cp_model.IntVar"]:
    """Add when each step begins, in its order and with enough helpers."""
    begins = {
        task.n: model.new_int_var(0, length - task.seconds, f"begin {task.n}") for task in tasks
    }
    seconds = {task.n: task.seconds for task in tasks}
    for task in tasks:
        for n in task.after:
            model.add(begins[task.n] >= begins[n] + seconds[n])
    spans = [
        model.new_fixed_size_interval_var(begins[task.n], task.seconds, f"step {task.n}")
        for task in tasks
    ]
    model.add_cumulative(spans, [task.helpers for task in tasks], helpers)
    return begins


def _turns(tasks: Sequence[Task], helpers: int, starts: Starts) -> tuple[Turn, ...]:
    """Give each step to helpers who are free, if possible to one who did what it waits for."""
    free_at = dict.fromkeys(range(1, helpers + 1), 0)
    doers: dict[int, tuple[int, ...]] = {}
    turns = []
    for task in sorted(tasks, key=lambda task: (starts[task.n], task.n)):
        start, end = starts[task.n], starts[task.n] + task.seconds
        known = {who for n in task.after for who in doers[n]}
        idle = [who for who, since in free_at.items() if since <= start]
        idle.sort(key=lambda who: (who not in known, who))
        doers[task.n] = tuple(sorted(idle[: task.helpers]))
        free_at.update(dict.fromkeys(doers[task.n], end))
        turns.append(Turn(n=task.n, start_s=start, end_s=end, helpers=doers[task.n]))
    return tuple(turns)
