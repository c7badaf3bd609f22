"""A timeline checked step by step, from the tasks alone."""

from collections.abc import Sequence
from itertools import pairwise

from packdown.model import Task, Timeline, Turn

__all__ = ["check_timeline"]


def check_timeline(tasks: Sequence[Task], timeline: Timeline) -> tuple[str, ...]:
    """Return everything that is wrong with a timeline; nothing if all is right.

    Every step is done once, in its time, after all it waits for, by as many helpers as it needs;
    nobody does two steps at once. The length is the end of the last step: at least the longest
    chain of steps, at most the sum of all, and no bound is above it.

    Parameters
    ----------
    tasks
        The steps, in any order.
    timeline
        What is to be checked; it may be wrong in any way.
    """
    by_number = {task.n: task for task in tasks}
    turns = {turn.n: turn for turn in timeline.turns}
    if sorted(turn.n for turn in timeline.turns) != sorted(by_number):
        return ("not every step is done exactly once",)
    faults = []
    for n, turn in turns.items():
        faults += _turn_faults(by_number[n], turn, timeline.helpers)
        faults += [
            f"step {n} begins before step {other} is done"
            for other in by_number[n].after
            if other not in turns or turns[other].end_s > turn.start_s
        ]
    return (*faults, *_clashes(timeline), *_length_faults(tasks, timeline))


def _turn_faults(task: Task, turn: Turn, helpers: int) -> list[str]:
    faults = []
    if turn.start_s < 0:
        faults.append(f"step {task.n} begins before the start")
    if turn.end_s - turn.start_s != task.seconds:
        took = turn.end_s - turn.start_s
        faults.append(f"step {task.n} takes {took} s, not {task.seconds} s")
    if len(turn.helpers) != task.helpers or len(set(turn.helpers)) != len(turn.helpers):
        faults.append(f"step {task.n} is done by {len(turn.helpers)}, it needs {task.helpers}")
    if any(not 1 <= who <= helpers for who in turn.helpers):
        faults.append(f"step {task.n} is done by somebody who is not there")
    return faults


def _clashes(timeline: Timeline) -> list[str]:
    """Return who does two steps at once."""
    faults = []
    for who in range(1, timeline.helpers + 1):
        own = sorted(
            (turn.start_s, turn.end_s, turn.n) for turn in timeline.turns if who in turn.helpers
        )
        for (_, end, n), (start, _, other) in pairwise(own):
            if start < end:
                faults.append(f"helper {who} does steps {n} and {other} at once")
    return faults


def _length_faults(tasks: Sequence[Task], timeline: Timeline) -> list[str]:
    length = timeline.length_s
    faults = []
    end = max((turn.end_s for turn in timeline.turns), default=0)
    chain = _longest_chain(tasks)
    total = sum(task.seconds for task in tasks)
    if length != end:
        faults.append(f"the length is {length} s, the last step ends after {end} s")
    if length < chain:
        faults.append(f"the length is {length} s, the longest chain takes {chain} s")
    if length > total:
        faults.append(f"the length is {length} s, one after the other would take {total} s")
    if timeline.bound_s > length:
        faults.append(f"the bound, {timeline.bound_s} s, is above the length, {length} s")
    return faults


def _longest_chain(tasks: Sequence[Task]) -> int:
    """Return the seconds of the longest chain of steps that wait for each other."""
    ends: dict[int, int] = {}
    for task in sorted(tasks, key=lambda task: task.n):
        before = max((ends.get(n, 0) for n in task.after), default=0)
        ends[task.n] = before + task.seconds
    return max(ends.values(), default=0)
