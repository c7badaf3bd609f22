"""A timeline in words: stints of work for each helper, and a chart in the terminal."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from itertools import pairwise
from typing import Any

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from packdown.model import Plan, Step, StepKind, Timeline
from packdown.report.step_words import runs
from packdown.report.words import counted

__all__ = ["Stint", "clock", "length_words", "print_timeline", "stints", "timeline_data"]

CELLS = 60
"""Width of the chart."""
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
WAITING = "."


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """Steps at one container, or on one build, that one helper does without a pause.

    Parameters
    ----------
    helper
        Who, counted from 1.
    place
        Id of the container that is packed or unpacked, or of the build that is worked on.
    name
        What that is called.
    letter
        Stands for it in charts.
    start_s, end_s
        From when to when.
    steps
        Numbers of the steps, in the order in which they are done.
    shared
        Those of them that others do with them.
    """

    helper: int
    place: str
    name: str
    letter: str
    start_s: int
    end_s: int
    steps: tuple[int, ...]
    shared: tuple[int, ...]


def clock(seconds: int) -> str:
    """Show seconds as minutes and seconds, with hours where there are any.

    >>> clock(65), clock(3_725)
    ('1:05', '1:02:05')
    """
    minutes, rest = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


def stints(plan: Plan, run: Sequence[Step], timeline: Timeline) -> tuple[Stint, ...]:
    """Return the stints of every helper, helper by helper.

    Parameters
    ----------
    plan
        The plan.
    run
        Its steps of one direction.
    timeline
        When which of them is done.
    """
    places = {step.n: _place(step) for step in run}
    names = {(False, build.id): build.name for build in plan.builds}
    names |= {(True, container.id): container.name for container in plan.containers}
    order = list(dict.fromkeys(places[turn.n] for turn in timeline.turns))
    found = []
    for helper in range(1, timeline.helpers + 1):
        own = [turn for turn in timeline.turns if helper in turn.helpers]
        breaks = [
            index
            for index, (one, two) in enumerate(pairwise(own), start=1)
            if one.end_s != two.start_s or places[one.n] != places[two.n]
        ]
        for start, end in pairwise([0, *breaks, len(own)] if own else [0]):
            turns = own[start:end]
            place = places[turns[0].n]
            found.append(
                Stint(
                    helper=helper,
                    place=place[1],
                    name=names.get(place, place[1]),
                    letter=LETTERS[order.index(place) % len(LETTERS)],
                    start_s=turns[0].start_s,
                    end_s=turns[-1].end_s,
                    steps=tuple(turn.n for turn in turns),
                    shared=tuple(turn.n for turn in turns if len(turn.helpers) > 1),
                )
            )
    return tuple(found)


def _place(step: Step) -> tuple[bool, str]:
    """Return whether a step is at a container, and the id of that container or its build."""
    if step.kind is StepKind.PACK:
        return True, step.to
    if step.kind is StepKind.UNPACK:
        return True, step.from_
    return False, step.build or ""


def length_words(plan: Plan, timeline: Timeline) -> str:
    """Say how long a timeline takes, how sure that is, and whether it could be shorter."""
    if not timeline.turns:
        return "nothing to do"
    low, high = (
        clock(round(timeline.length_s * factor))
        for factor in (plan.rules.effort_low, plan.rules.effort_high)
    )
    alone = clock(sum(turn.end_s - turn.start_s for turn in timeline.turns))
    shorter = (
        "no timeline for as many is shorter"
        if timeline.proved
        else f"at least {clock(timeline.bound_s)} in any case"
    )
    return (
        f"{clock(timeline.length_s)} by {counted(timeline.helpers, 'helper')} "
        f"({low} to {high}), {shorter}; one step after the other {alone}"
    )


def timeline_data(plan: Plan, run: Sequence[Step], timeline: Timeline, name: str) -> dict[str, Any]:
    """Return a timeline as JSON can hold it."""
    texts = {step.n: step for step in run}
    return {
        "steps": name,
        "helpers": timeline.helpers,
        "length_s": timeline.length_s,
        "bound_s": timeline.bound_s,
        "proved": timeline.proved,
        "turns": [
            asdict(turn) | {"build": texts[turn.n].build, "text": texts[turn.n].text}
            for turn in timeline.turns
        ],
        "stints": [asdict(stint) for stint in stints(plan, run, timeline)],
    }


def print_timeline(
    plan: Plan, run: Sequence[Step], timeline: Timeline, title: str, console: Console
) -> None:
    """Print a chart with a row for each helper, then what each does when."""
    console.print(Text(title, style="bold underline"))
    console.print(Text(length_words(plan, timeline)))
    if not timeline.turns:
        return
    found = stints(plan, run, timeline)
    console.print()
    for helper in range(1, timeline.helpers + 1):
        console.print(Text(f"  {helper} {_row(found, helper, timeline.length_s)}"), soft_wrap=True)
    end = clock(timeline.length_s)
    console.print(Text(f"    0:00{end:>{CELLS - 4}}"), soft_wrap=True)
    console.print()
    console.print(_table(found))


def _row(found: Sequence[Stint], helper: int, length_s: int) -> str:
    """Return a letter for each stretch of time: what its middle is spent on."""
    cells = [WAITING] * CELLS
    for stint in found:
        if stint.helper == helper:
            for cell in range(CELLS):
                if stint.start_s <= (cell + 0.5) * length_s / CELLS < stint.end_s:
                    cells[cell] = stint.letter
    return "".join(cells)


def _table(found: Sequence[Stint]) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False)
    for heading in ("helper", "from", "to"):
        table.add_column(heading, justify="right", no_wrap=True)
    for heading in ("", "at", "steps", "with others"):
        table.add_column(heading, overflow="fold")
    before = 0
    for stint in found:
        who = str(stint.helper) if stint.helper != before else ""
        before = stint.helper
        table.add_row(
            who,
            clock(stint.start_s),
            clock(stint.end_s),
            stint.letter,
            Text(stint.name),
            runs(stint.steps),
            runs(stint.shared) if stint.shared else "",
        )
    return table
