"""The command that shares steps out among helpers: timeline."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from packdown.cli.app import Helpers, Json, Output, PlanFile, app, talk
from packdown.errors import PackdownError, UsageError

if TYPE_CHECKING:
    from packdown.model import Plan, Timeline
    from packdown.report.terminal import StepList

__all__ = ["timelines_of"]

TITLES: "dict[StepList, str]" = {"take_down": "Taking down", "rebuild": "Rebuilding"}


class BrokenTimelineError(PackdownError):
    """A timeline of our own that breaks a rule: a fault of the program."""

    exit_code = 1


@app.command()
def timeline(
    plan_file: PlanFile,
    *,
    helpers: Helpers = 2,
    take_down: Annotated[bool, typer.Option("--take-down", help="Only taking down.")] = False,
    rebuild: Annotated[bool, typer.Option("--rebuild", help="Only rebuilding.")] = False,
    output: Output = None,
    as_json: Json = False,
) -> None:
    """Share the steps out among helpers: who does what, and when; draw it as SVG with -o."""
    from rich.console import Console

    from packdown.files import read_plan
    from packdown.report.timeline import print_timeline, timeline_data

    plan = read_plan(plan_file)
    both = take_down == rebuild
    wanted = [name for name, one in (("take_down", take_down), ("rebuild", rebuild)) if one or both]
    found = {name: made for name, made in timelines_of(plan, helpers).items() if name in wanted}
    if output:
        _draw(plan, found, output)
    if as_json:
        data = [
            timeline_data(plan, getattr(plan.steps, name), made, name)
            for name, made in found.items()
        ]
        sys.stdout.write(json.dumps({"timelines": data}, indent=2, ensure_ascii=False) + "\n")
        return
    console = Console(highlight=False)
    for number, (name, made) in enumerate(found.items()):
        if number:
            console.print()
        print_timeline(plan, getattr(plan.steps, name), made, TITLES[name], console)


def timelines_of(plan: "Plan", helpers: int) -> "dict[StepList, Timeline]":
    """Return the timelines of taking down and of rebuilding, each of them checked.

    Raises
    ------
    UsageError
        If a step needs more helpers than there are.
    """
    from packdown.model import tasks_of
    from packdown.planning import schedule
    from packdown.verify import check_timeline

    made: dict[Literal["take_down", "rebuild"], Timeline] = {}
    for name in TITLES:
        tasks = tasks_of(plan, getattr(plan.steps, name))
        most = max(tasks, key=lambda task: task.helpers, default=None)
        if most and most.helpers > helpers:
            raise UsageError(
                f"step {most.n} of {TITLES[name].lower()} needs {most.helpers} helpers",
                hint=f"say --helpers {most.helpers}",
            )
        made[name] = schedule(tasks, helpers)
        faults = check_timeline(tasks, made[name])
        if faults:
            raise BrokenTimelineError(
                "The timeline breaks rules of its own:\n  " + "\n  ".join(faults),
                hint="This is a fault of Packdown. Please report it with your plan.",
            )
    return made


def _draw(plan: "Plan", found: "dict[StepList, Timeline]", output: Path) -> None:
    """Write one drawing; of both directions only one is drawn."""
    from packdown.files import write_text
    from packdown.report.timeline_picture import timeline_drawing

    if output.suffix.lower() != ".svg":
        raise UsageError(f"{output.name}: a timeline is drawn as SVG", hint="name it something.svg")
    if len(found) > 1:
        raise UsageError("a drawing shows one direction", hint="add --take-down or --rebuild")
    ((name, made),) = found.items()
    if not made.turns:
        raise UsageError("there is nothing to do, so nothing to draw")
    drawn = timeline_drawing(plan, getattr(plan.steps, name), made, TITLES[name])
    write_text(drawn, output)
    talk().print(f"Drawing: {output}", markup=False)
