"""Setting up before sessions and clearing up after them: what stands, and how long it takes.

A build that the next session of the day wants too stays where it stands. All others are cleared
up when their session is over, and every build is cleared up at the end of the day.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from packdown import teardown
from packdown.model import (
    Build,
    Plan,
    Session,
    Task,
    Turnover,
    tasks_of,
)
from packdown.planning.bringing.content import Content
from packdown.planning.bringing.demand import Demand
from packdown.planning.timeline import quick_length

__all__ = ["NEVER", "Moment", "Work", "moments_of", "too_slow", "turnovers"]

NEVER = 10**9
"""Seconds where a step needs more helpers than there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When sessions start, or the last of a day have ended.

    Parameters
    ----------
    day, at_s
        Day of the event, and second since midnight.
    starting
        The sessions that start; none at the end of a day.
    ended
        The sessions that ended since the moment before.
    """

    day: int
    at_s: int
    starting: tuple[Session, ...]
    ended: tuple[Session, ...]

    @property
    def gap_s(self) -> int | None:
        """Seconds from the last end to the start; None where nothing ended or nothing starts."""
        if not self.starting or not self.ended:
            return None
        return self.at_s - max(session.end_s for session in self.ended)


def moments_of(sessions: Sequence[Session]) -> Iterator[Moment]:
    """Yield the starts of all days, and the end of each, in the order of time."""
    for day in sorted({session.day for session in sessions}):
        today = [session for session in sessions if session.day == day]
        done: set[str] = set()
        for start in sorted({session.start_s for session in today}):
            starting = tuple(session for session in today if session.start_s == start)
            ended = tuple(s for s in today if s.end_s <= start and s.id not in done)
            done.update(session.id for session in ended)
            yield Moment(day=day, at_s=start, starting=starting, ended=ended)
        rest = tuple(session for session in today if session.id not in done)
        yield Moment(day=day, at_s=max(s.end_s for s in today), starting=(), ended=rest)


@dataclass(kw_only=True)
class Work:
    """The tasks of setting up and clearing up what a plan holds.

    Parameters
    ----------
    demand
        The event.
    content
        What is brought.
    plan
        How it is packed.
    """

    demand: Demand
    content: Content
    plan: Plan
    _lengths: dict[tuple[bool, frozenset[str], frozenset[str]], int] = field(
        init=False, default_factory=dict
    )

    def length_s(self, builds: Iterable[str], parts: Iterable[str], *, rebuild: bool) -> int:
        """Return the time for builds, and for the loose pieces of some parts, one way."""
        key = (rebuild, frozenset(builds), frozenset(parts))
        if key not in self._lengths:
            tasks = self._tasks(key[1], key[2], rebuild=rebuild)
            helpers = self.demand.event.limits.helpers
            enough = all(task.helpers <= helpers for task in tasks)
            self._lengths[key] = quick_length(tasks, helpers) if enough else NEVER
        return self._lengths[key]

    def _tasks(
        self, builds: frozenset[str], parts: frozenset[str], *, rebuild: bool
    ) -> tuple[Task, ...]:
        run = self.plan.steps.rebuild if rebuild else self.plan.steps.take_down
        part_of = {piece.id: piece.part for piece in self.plan.pieces}
        chosen = [
            step.n
            for step in run
            if (
                step.build in builds
                if step.build
                else not parts.isdisjoint(part_of[piece] for piece in step.pieces)
            )
        ]
        tasks = list(tasks_of(self.plan, run, chosen))
        number = len(run)
        for name in sorted(builds.intersection(self.content.made_there)):
            build = self.demand.builds[name]
            for task in _made_there(build, self.plan.rules.place_s, rebuild=rebuild):
                after = tuple(n + number for n in task.after)
                tasks.append(replace(task, n=task.n + number, after=after))
            number += 2 * len(build.pieces) + 2
        return tuple(tasks)


@lru_cache(maxsize=512)
def _made_there(build: Build, place_s: int, *, rebuild: bool) -> tuple[Task, ...]:
    """Return the tasks of making a build of single pieces, or of taking it apart to the last.

    Making it there counts the whole effort of its joints: the pieces have first to be parted from
    those of other builds.
    """
    singles = [(piece.id,) for piece in build.pieces]
    effort = {joint.id: joint.effort_s for joint in build.joints}
    try:
        moves = teardown.order_of_work(build, singles)
    except teardown.Interlocked:
        moves = ()
    if len(moves) + 1 < len(singles):
        whole = sum(effort.values()) + place_s * len(singles)
        return (Task(n=1, seconds=max(1, whole), helpers=1, after=()),)
    down, up = teardown.write_steps(build, singles, moves, {})
    steps = teardown.number(up if rebuild else down)
    first = Task(n=1, seconds=max(1, place_s), helpers=1, after=())
    return (
        first,
        *(
            Task(
                n=step.n + 1,
                seconds=max(1, place_s + sum(effort[joint] for joint in step.joints)),
                helpers=max(1, -(-step.hands // 2)),
                after=tuple(n + 1 for n in step.after) or (1,),
            )
            for step in steps
        ),
    )


def turnovers(work: Work, choice: Sequence[int]) -> tuple[Turnover, ...]:
    """Return the work of an event in the order of time, with the time that is allowed.

    Sessions for which nothing is brought do not count.
    """
    wanted = _wanted(work.demand, choice)
    loose = _loose(work.demand, work.content, choice)
    busy = {work.demand.picks[number].session for number in choice}
    sessions = [session for session in work.demand.event.sessions if session.id in busy]
    return tuple(_turnover(work, moment, wanted, loose) for moment in moments_of(sessions))


def _turnover(
    work: Work,
    moment: Moment,
    wanted: Mapping[str, Sequence[str]],
    loose: Mapping[str, set[str]],
) -> Turnover:
    limits = work.demand.event.limits
    standing = dict.fromkeys(b for session in moment.ended for b in wanted[session.id])
    needed = dict.fromkeys(b for session in moment.starting for b in wanted[session.id])
    strikes = tuple(build for build in standing if build not in needed)
    sets_up = tuple(build for build in needed if build not in standing)
    into = set[str]().union(*(loose[session.id] for session in moment.starting))
    out = set[str]().union(*(loose[session.id] for session in moment.ended))
    return Turnover(
        day=moment.day,
        at_s=moment.at_s,
        sessions=tuple(session.id for session in moment.starting),
        stays=tuple(build for build in standing if build in needed),
        strikes=strikes,
        sets_up=sets_up,
        strike_s=work.length_s(strikes, out - into, rebuild=False),
        set_up_s=work.length_s(sets_up, into - out, rebuild=True),
        set_up_allowed_s=limits.set_up_s if moment.starting else None,
        strike_allowed_s=None if moment.starting else limits.strike_s,
        gap_s=moment.gap_s,
    )


def too_slow(demand: Demand, content: Content, choice: Sequence[int]) -> bool:
    """Whether what is made there takes longer than is allowed, however the rest is packed."""
    limits = demand.event.limits
    if not content.made_there or limits.set_up_s is None:
        return False
    wanted = _wanted(demand, choice)
    busy = {demand.picks[number].session for number in choice}
    place_s = demand.workspace.settings.effort.place_s
    for moment in moments_of([s for s in demand.event.sessions if s.id in busy]):
        standing = {b for session in moment.ended for b in wanted[session.id]}
        fresh = {b for session in moment.starting for b in wanted[session.id]} - standing
        work = 0
        for name in fresh.intersection(content.made_there):
            tasks = _made_there(demand.builds[name], place_s, rebuild=True)
            work += sum(task.seconds * task.helpers for task in tasks)
        if work > limits.set_up_s * limits.helpers:
            return True
    return False


def _wanted(demand: Demand, choice: Iterable[int]) -> dict[str, list[str]]:
    """Return the builds that are chosen for each session."""
    wanted: dict[str, list[str]] = {session.id: [] for session in demand.event.sessions}
    for number in sorted(choice):
        pick = demand.picks[number]
        if pick.wish.build is not None:
            wanted[pick.session].append(pick.wish.build)
    return wanted


def _loose(demand: Demand, content: Content, choice: Iterable[int]) -> dict[str, set[str]]:
    """Return the parts of which each session uses loose pieces that are brought."""
    extras = {part for part, _, _ in content.extras}
    used: dict[str, set[str]] = {session.id: set() for session in demand.event.sessions}
    for number in choice:
        pick = demand.picks[number]
        if pick.wish.build is None or pick.wish.build in content.made_there:
            used[pick.session] |= extras.intersection(demand.asks(pick.wish))
    return used
