"""Timelines: who of several helpers does which step, and when."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from packdown.model.plan import Plan, Step, StepKind

__all__ = ["Task", "Timeline", "Turn", "tasks_of"]

HANDS_EACH = 2
OPENING_PERCENT = 40
"""Share of a joint's effort that opening it takes; motion times give 38 to 48 %, by kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One step as work to be given to helpers.

    Parameters
    ----------
    n
        Number of the step.
    seconds
        How long it takes at the usual pace; more than 0.
    helpers
        How many have to be at it: a step that takes more hands than one person has takes more.
    after
        Numbers of the steps that must be done before.
    """

    n: int
    seconds: int
    helpers: int
    after: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One step on a timeline.

    Parameters
    ----------
    n
        Number of the step.
    start_s, end_s
        Seconds from the beginning.
    helpers
        Who does it, counted from 1.
    """

    n: int
    start_s: int
    end_s: int
    helpers: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """Every step once, with its time and its helpers.

    Parameters
    ----------
    helpers
        How many there are.
    turns
        In the order of their start, then of their numbers.
    length_s
        When all is done.
    bound_s
        No timeline for as many helpers is shorter.
    """

    helpers: int
    turns: tuple[Turn, ...]
    length_s: int
    bound_s: int

    @property
    def proved(self) -> bool:
        """Whether no timeline for as many helpers is shorter."""
        return self.length_s == self.bound_s


def tasks_of(
    plan: Plan, run: Sequence[Step], chosen: Collection[int] | None = None
) -> tuple[Task, ...]:
    """Return steps of a plan as tasks.

    To open the joints of a step takes its share of their efforts, to close them the rest; to
    pack or unpack an item takes as long as to find and place a sub-assembly.

    Parameters
    ----------
    plan
        The plan.
    run
        All its steps of one direction, in order.
    chosen
        Numbers of the steps that are wanted; all if None. What they wait for by way of others,
        they still wait for.
    """
    effort = {joint.id: joint.effort_s for build in plan.builds for joint in build.joints}
    by_number = {step.n: step for step in run}
    wanted = by_number.keys() if chosen is None else set(chosen)
    return tuple(
        Task(
            n=step.n,
            seconds=_seconds(step, effort, plan.rules.place_s),
            helpers=max(1, -(-step.hands // HANDS_EACH)),
            after=_before(step, by_number, wanted),
        )
        for step in run
        if step.n in wanted
    )


def _seconds(step: Step, effort: Mapping[str, int], place_s: int) -> int:
    if step.kind in (StepKind.PACK, StepKind.UNPACK):
        return max(1, place_s)
    whole = sum(effort.get(joint, 0) for joint in step.joints)
    opening = whole * OPENING_PERCENT // 100
    return max(1, opening if step.kind is StepKind.PART else whole - opening)


def _before(step: Step, by_number: Mapping[int, Step], wanted: Collection[int]) -> tuple[int, ...]:
    """Return the wanted steps that a step waits for, also by way of steps that are not wanted."""
    found: set[int] = set()
    seen: set[int] = set()
    todo = list(step.after)
    while todo:
        n = todo.pop()
        if n in seen or n not in by_number or n >= step.n:
            continue
        seen.add(n)
        if n in wanted:
            found.add(n)
        else:
            todo.extend(by_number[n].after)
    return tuple(sorted(found))
