"""The command on events: bring."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Json, Output, app, talk
from packdown.cli.plans import Effort, Seconds, Seed, insist, show_verified
from packdown.cli.running import running
from packdown.errors import PackdownError

if TYPE_CHECKING:
    from packdown.model import Bringing, Event, Workspace
    from packdown.verify import Report

__all__ = ["EventName", "Home", "read_event_of"]

EventName = Annotated[
    str, typer.Argument(help="Name of the event, or its file events/NAME.toml in a workspace.")
]
Home = Annotated[
    Path | None, typer.Option("--workspace", help="Folder of the workspace; else this folder.")
]


class BrokenBringingError(PackdownError):
    """An answer of our own that breaks a rule: a fault of the program."""

    exit_code = 1


@app.command()
def bring(
    event: EventName,
    *,
    workspace: Home = None,
    output: Output = None,
    seconds: Seconds = None,
    effort: Effort = None,
    seed: Seed = 0,
    as_json: Json = False,
) -> None:
    """Choose what to bring to an event, pack it, and say what stays and why.

    Exit status 1 if a session must do without something it cannot do without.
    """
    from rich.console import Console

    from packdown.files import write_plan
    from packdown.report.bringing import bringing_data, print_bringing

    folder, collection, asked = read_event_of(event, workspace)
    found, report = _brought(collection, asked, seconds=seconds, effort=effort, seed=seed)
    target = output or folder / f"{asked.id}.json"
    write_plan(found.plan, target)
    if as_json:
        data = bringing_data(found) | {"plan": str(target)}
        sys.stdout.write(json.dumps(data, indent=2, ensure_ascii=False) + "\n")
    else:
        print_bringing(collection, found, Console(highlight=False))
        sys.stdout.write("\n")
        show_verified(found.plan, report)
        talk().print(f"Plan: {target}", markup=False)
    at_end = ",".join(found.standing_at_end)
    standing = f" --standing {at_end}" if at_end else ""
    talk().print(f"At the end: packdown strike {target}{standing}", markup=False)
    if any(left.pick.wish.must for left in found.left):
        raise typer.Exit(1)


def read_event_of(event: str, workspace: Path | None) -> "tuple[Path, Workspace, Event]":
    """Return the folder of a workspace, what is in it, and one of its events."""
    from packdown.files import read_event, read_workspace

    folder, name = workspace or Path(), event
    if event.endswith(".toml"):
        path = Path(event)
        name = path.stem
        folder = workspace or path.resolve().parent.parent
    collection = read_workspace(folder)
    return folder, collection, read_event(folder, name, collection)


def _brought(
    collection: "Workspace",
    asked: "Event",
    *,
    seconds: float | None,
    effort: int | None,
    seed: int,
) -> "tuple[Bringing, Report]":
    """Return what is brought; its plan, its loads and the choice itself are verified."""
    with running(talk(), seconds=seconds) as run:
        from packdown.planning.bringing import DEFAULT_BRING_EFFORT
        from packdown.planning.bringing import bring as bring_to
        from packdown.verify import check_bringing, verify, verify_load

        endless = seconds is not None and effort is None
        found = bring_to(
            collection,
            asked,
            effort=None if endless else effort or DEFAULT_BRING_EFFORT,
            seed=seed,
            stop=run.stop,
            progress=run.progress,
            first=lambda finish: run.rehearse(lambda: verify(finish())),
        )
        report = verify(found.plan)
        loads = [verify_load(load) for load in found.loads]
        faults = check_bringing(collection, found)
    for each in (report, *loads):
        insist(each)
    if faults:
        raise BrokenBringingError(
            "The answer breaks rules of its own:\n  " + "\n  ".join(faults),
            hint="This is a fault of Packdown. Please report it with your workspace.",
        )
    return found, report
