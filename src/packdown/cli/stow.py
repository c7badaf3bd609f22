"""The command that records a plan as carried out."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Json, PlanFile, app, named, talk
from packdown.cli.stores import StoreAddress, Yes, confirm, open_store, print_json, print_lines
from packdown.errors import InputError, PackdownError

if TYPE_CHECKING:
    from packdown.model import Plan
    from packdown.store.plan_rows import Catalogue

__all__ = ["stow"]

Only = Annotated[
    str | None,
    typer.Option("--containers", metavar="ID,...", help="Only these containers are filled."),
]


class UnsoundPlanError(PackdownError):
    """A plan that breaks rules is not recorded."""

    exit_code = 1


@app.command()
def stow(
    plan_file: PlanFile,
    *,
    containers: Only = None,
    store: StoreAddress = None,
    yes: Yes = False,
    as_json: Json = False,
) -> None:
    """Record that a plan was carried out; first show what that changes."""
    from packdown.files import plan_json, read_plan
    from packdown.report.stowing import difference_lines
    from packdown.store import stowing

    plan = read_plan(plan_file)
    _check(plan)
    target = open_store(store, plan_file.parent)
    only = named(containers)
    catalogue = _catalogue(plan_file.parent)
    preview = stowing.preview_stow(target, plan, only=only, catalogue=catalogue)
    if as_json:
        print_json(preview)
    else:
        print_lines(difference_lines(preview))
    confirm("Record this?", yes=yes)
    done = stowing.stow(
        target,
        plan,
        plan_json(plan),
        only=only,
        catalogue=catalogue,
        after_change=preview.after_change,
    )
    talk().print(f"Stowed, change {done.after_change + 1}. Store: {target.name}", markup=False)


def _check(plan: "Plan") -> None:
    from packdown.verify import verify

    report = verify(plan)
    if not report.ok:
        broken = "\n".join(f"  {violation}" for violation in report.violations)
        raise UnsoundPlanError(
            f"The plan breaks rules, so it is not stowed:\n{broken}", hint="make the plan again"
        )


def _catalogue(folder: Path) -> "Catalogue | None":
    """Read names and tags from the workspace of the plan, if there is one that can be read."""
    from packdown.files import read_workspace
    from packdown.store.plan_rows import catalogue_of

    if not (folder / "packdown.toml").exists():
        return None
    try:
        return catalogue_of(read_workspace(folder))
    except InputError as error:
        count = len(error.problems)
        talk().print(
            f"Tags are not taken over: {count} problem{'s' if count > 1 else ''} in the "
            "workspace (packdown check lists them).",
            markup=False,
        )
        return None
