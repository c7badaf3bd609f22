"""The command that shows what may be traded for what: trade-off."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Containers, Folder, Json, Output, app, named, talk
from packdown.cli.plans import Effort, Seconds, Seed, insist, show_verified
from packdown.cli.running import running
from packdown.errors import PackdownError, UsageError
from packdown.model import Plan

if TYPE_CHECKING:
    from packdown.verify import Report

__all__: list[str] = []

Take = Annotated[int | None, typer.Option("--take", min=1, help="Save the plan of this number.")]


class NothingFitsError(PackdownError):
    """No plan has a place for everything."""

    exit_code = 1


@app.command("trade-off")
def trade_off(
    folder: Folder = Path(),
    *,
    take: Take = None,
    output: Output = None,
    seconds: Seconds = None,
    effort: Effort = None,
    seed: Seed = 0,
    containers: Containers = None,
    as_json: Json = False,
) -> None:
    """Show plans with fewer containers or with less to rebuild; save one with --take."""
    from rich.console import Console

    from packdown.report.trade_off import choices_data, print_choices

    found = _verified(
        folder, seconds=seconds, effort=effort, seed=seed, containers=named(containers)
    )
    plans = tuple(plan for plan, _ in found)
    if take is not None and take > len(plans):
        raise UsageError(
            f"there is no number {take}", hint=f"numbers go from 1 to {len(plans)} this time"
        )
    if as_json:
        sys.stdout.write(json.dumps(choices_data(plans), indent=2) + "\n")
    else:
        print_choices(plans, Console(highlight=False))
    if take is None:
        talk().print("Save one of them: packdown trade-off --take NUMBER", markup=False)
    else:
        _save(*found[take - 1], output or folder / "plan.json", quiet=as_json)


def _verified(
    folder: Path,
    *,
    seconds: float | None,
    effort: int | None,
    seed: int,
    containers: tuple[str, ...] | None,
) -> "list[tuple[Plan, Report]]":
    """Return all plans worth a choice, every one of them verified."""
    from packdown.files import read_workspace

    with running(talk(), seconds=seconds) as run:
        workspace = read_workspace(folder)
        from packdown.planning import DEFAULT_EFFORT
        from packdown.planning import trade_off as plans_of
        from packdown.verify import verify

        plans = plans_of(
            workspace,
            effort=effort or DEFAULT_EFFORT,
            seed=seed,
            containers=containers,
            stop=run.stop,
            progress=run.progress,
        )
        found = [(plan, verify(plan)) for plan in plans]
    for _, report in found:
        insist(report)
    if not found:
        raise NothingFitsError(
            "No plan has a place for everything.", hint="See what has no place: packdown plan"
        )
    return found


def _save(plan: Plan, report: "Report", output: Path, *, quiet: bool) -> None:
    from packdown.files import write_plan

    write_plan(plan, output)
    if not quiet:
        show_verified(plan, report)
    talk().print(f"Plan: {output}", markup=False)
