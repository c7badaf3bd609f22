"""Commands on workspaces: demo, new, check."""

import json
import shutil
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from packdown.cli.app import Folder, Json, app, talk
from packdown.data import data_folder
from packdown.errors import InputError, UsageError
from packdown.model import Build, Weak, Workspace
from packdown.units import format_weight

__all__: list[str] = []

EXAMPLE = "saltworks"


@app.command()
def demo(
    folder: Annotated[Path, typer.Argument(help="Folder to make.")] = Path("packdown-demo"),
) -> None:
    """Copy the example workspace, plan it, verify the plan and write its pack book."""
    from packdown.cli.plans import make_plan, save_book, show_verified

    if folder.exists() and any(folder.iterdir()):
        raise UsageError(
            f"{folder} is not empty, so the example is not copied there",
            hint=f"name another folder, or plan what is there: packdown plan {folder}",
        )
    shutil.copytree(data_folder("examples") / EXAMPLE, folder, dirs_exist_ok=True)
    plan_file = folder / "plan.json"
    plan, report = make_plan(folder, plan_file)
    show_verified(plan, report)
    book = save_book(plan, folder / "pack-book.html")
    talk().print(f"Plan:      {plan_file}\nPack book: {book}", markup=False)
    if plan.not_packed:
        raise typer.Exit(1)


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
    except InputError as error:
        if as_json:
            rows = [
                {"file": p.file, "entry": p.entry, "message": p.message, "hint": p.hint}
                for p in error.problems
            ]
            sys.stdout.write(json.dumps({"problems": rows}, indent=2, ensure_ascii=False) + "\n")
            raise typer.Exit(error.exit_code) from error
        raise
    pieces = [piece for build in workspace.builds for piece in build.pieces]
    everything = (*pieces, *workspace.loose)
    found = {
        "name": workspace.name,
        "parts": len(workspace.parts),
        "builds": len(workspace.builds),
        "designs": len(workspace.designs),
        "pieces_in_builds": len(pieces),
        "joints": sum(len(build.joints) for build in workspace.builds),
        "loose_pieces": len(workspace.loose),
        "weight_g": sum(piece.weight_g for piece in everything),
        "containers": len(workspace.containers),
    }
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
        f"{format_weight(sum(piece.weight_g for piece in everything))} in all, "
        f"{found['containers']} containers.",
        markup=False,
    )
    for one in advice:
        console.print(f"{one.file}: {one.entry}", markup=False, style="bold")
        console.print(f"    {one.message}\n    {one.hint}", markup=False)
    for build, entry in weak:
        console.print(f"{build.name}: {weak_sentence(entry)}.", markup=False)


def _weak(workspace: Workspace) -> list[tuple[Build, Weak]]:
    """Return what of the builds must not travel as it is joined, each with its build."""
    from packdown.teardown import weak_parts

    key_weight_g, settings = workspace.key_weight_g, workspace.settings
    return [
        (build, weak)
        for build in workspace.builds
        for weak in weak_parts(build, (), settings, key_weight_g)
    ]
