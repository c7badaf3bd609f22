"""Commands on workspaces: demo, new, check."""

import json
import shutil
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from packdown.cli.app import Folder, Json, app, talk
from packdown.data import data_folder
from packdown.errors import InputError, Problem, UsageError, nearest
from packdown.model import Build, Event, Weak, Workspace
from packdown.units import format_weight

__all__: list[str] = []

EXAMPLE = "saltworks"

Example = Annotated[
    str, typer.Option("--example", metavar="NAME", help="saltworks, or ropeway with an event.")
]


@app.command()
def demo(
    folder: Annotated[Path, typer.Argument(help="Folder to make.")] = Path("packdown-demo"),
    *,
    example: Example = EXAMPLE,
) -> None:
    """Copy an example workspace, plan it, verify the plan and write its pack book.

    Of an example with an event, what is brought there is planned.
    """
    from packdown.cli.plans import make_plan, save_book, show_verified
    from packdown.files import event_names

    examples = {path.name: path for path in data_folder("examples").iterdir()}
    if example not in examples:
        raise UsageError(f'there is no example "{example}"', hint=nearest(example, examples))

    if folder.exists() and any(folder.iterdir()):
        raise UsageError(
            f"{folder} is not empty, so the example is not copied there",
            hint=f"name another folder, or plan what is there: packdown plan {folder}",
        )
    shutil.copytree(examples[example], folder, dirs_exist_ok=True)
    plan_file = folder / "plan.json"
    for event in event_names(folder):
        _bring_demo(event, folder)
        return
    plan, report = make_plan(folder, plan_file)
    show_verified(plan, report)
    book = save_book(plan, folder / "pack-book.html")
    talk().print(f"Plan:      {plan_file}\nPack book: {book}", markup=False)
    if plan.not_packed:
        raise typer.Exit(1)


def _bring_demo(event: str, folder: Path) -> None:
    """Plan what is brought to an event of an example, and write the pack book of that."""
    from packdown.cli.events import bring
    from packdown.cli.plans import save_book
    from packdown.files import read_plan

    plan_file = folder / f"{event}.json"
    bring(event, workspace=folder, output=plan_file)
    book = save_book(read_plan(plan_file), folder / "pack-book.html", helpers=2)
    talk().print(f"Pack book: {book}", markup=False)


@app.command()
def new(folder: Annotated[Path, typer.Argument(help="Folder to make.")]) -> None:
    """Make an empty workspace whose commented files explain themselves."""
    from packdown.files import new_workspace

    new_workspace(folder)
    talk().print(
        f"Made {folder}. Describe your parts there, then: packdown check {folder}", markup=False
    )


@app.command()
def check(folder: Folder = Path(), *, as_json: Json = False) -> None:
    """Read everything and list every problem; advise on what is hardly meant.

    Advice is on slots that almost meet, what hangs in the air or rests on too little, builds that
    are too heavy for any container, and what must not travel as it is joined.
    """
    from packdown.files import read_advice, read_workspace
    from packdown.report.weak_words import weak_sentence

    try:
        workspace = read_workspace(folder)
        events = _events(folder, workspace)
    except InputError as error:
        if as_json:
            rows = [
                {"file": p.file, "entry": p.entry, "message": p.message, "hint": p.hint}
                for p in error.problems
            ]
            sys.stdout.write(json.dumps({"problems": rows}, indent=2, ensure_ascii=False) + "\n")
            raise typer.Exit(error.exit_code) from error
        raise
    found = _figures(workspace) | {"events": len(events)}
    weak, advice = _weak(workspace), read_advice(folder, workspace)
    if as_json:
        rows = [{"build": build.id, **asdict(entry)} for build, entry in weak]
        data = {"problems": [], **found, "advice": list(map(asdict, advice)), "weak": rows}
        sys.stdout.write(json.dumps(data, indent=2, ensure_ascii=False) + "\n")
        return
    console = Console(highlight=False, soft_wrap=True)
    designs = f"{found['designs']} designs, " if workspace.designs else ""
    console.print(
        f"{workspace.name}: no problems.\n{designs}"
        f"{found['parts']} parts, {found['builds']} builds of {found['pieces_in_builds']} pieces "
        f"with {found['joints']} joints, {found['loose_pieces']} loose pieces, "
        f"{format_weight(found['weight_g'])} in all, "
        f"{found['containers']} containers.",
        markup=False,
    )
    for one in advice:
        console.print(f"{one.file}: {one.entry}", markup=False, style="bold")
        console.print(f"    {one.message}\n    {one.hint}", markup=False)
    for build, entry in weak:
        console.print(f"{build.name}: {weak_sentence(entry)}.", markup=False)


def _figures(workspace: Workspace) -> dict[str, Any]:
    """Return how much there is of everything."""
    pieces = [piece for build in workspace.builds for piece in build.pieces]
    return {
        "name": workspace.name,
        "parts": len(workspace.parts),
        "builds": len(workspace.builds),
        "designs": len(workspace.designs),
        "pieces_in_builds": len(pieces),
        "joints": sum(len(build.joints) for build in workspace.builds),
        "loose_pieces": len(workspace.loose),
        "weight_g": sum(piece.weight_g for piece in (*pieces, *workspace.loose)),
        "containers": len(workspace.containers),
    }


def _events(folder: Path, workspace: Workspace) -> list[Event]:
    """Read all events; every problem of all of them is told at once."""
    from packdown.files import event_names, read_event

    events: list[Event] = []
    problems: list[Problem] = []
    for name in event_names(folder):
        try:
            events.append(read_event(folder, name, workspace))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return events


def _weak(workspace: Workspace) -> list[tuple[Build, Weak]]:
    """Return what of the builds must not travel as it is joined, each with its build."""
    from packdown.teardown import weak_parts

    key_weight_g, settings = workspace.key_weight_g, workspace.settings
    return [
        (build, weak)
        for build in workspace.builds
        for weak in weak_parts(build, (), settings, key_weight_g)
    ]
