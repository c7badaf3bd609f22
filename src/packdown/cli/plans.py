"""Commands on plans: plan, verify, steps, book."""

import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer
from rich.console import Console

from packdown.cli.app import (
    Containers,
    Folder,
    Helpers,
    Json,
    Output,
    Paper,
    PlanFile,
    app,
    named,
    talk,
)
from packdown.cli.running import running
from packdown.errors import PackdownError, UsageError
from packdown.model import Plan, Prefer

if TYPE_CHECKING:
    from packdown.verify import Report

__all__ = ["Effort", "Seconds", "Seed", "insist", "make_plan", "save_book", "show_verified"]

Seconds = Annotated[
    float | None, typer.Option("--seconds", min=0.1, help="Stop after so many seconds.")
]
Effort = Annotated[
    int | None,
    typer.Option("--effort", min=1, help="How many partitions to try: same effort, same plan."),
]
Seed = Annotated[int, typer.Option("--seed", min=0, help="Seed of the random choices.")]
Preference = Annotated[
    Prefer | None, typer.Option("--prefer", help="What to spare first.", show_default="workspace")
]

TradeOff = Annotated[
    Path | None,
    typer.Option(
        "--trade-off",
        metavar="FILE",
        help="Show what other containers would save: a file with what trade-off --json printed.",
    ),
]
Turning = Annotated[
    bool, typer.Option("--turning/--flat", help="With or without what can be turned in 3D.")
]
LoadFile = Annotated[
    Path | None, typer.Option("--load", metavar="FILE", help="Show a load of `packdown load` too.")
]

TAKE_DOWN: Literal["take_down"] = "take_down"
REBUILD: Literal["rebuild"] = "rebuild"


class BrokenPlanError(PackdownError):
    """A plan of our own that breaks a rule: a fault of the program, never shown as a plan."""

    exit_code = 1


def make_plan(
    folder: Path,
    output: Path,
    *,
    seconds: float | None = None,
    effort: int | None = None,
    seed: int = 0,
    prefer: Prefer | None = None,
    containers: tuple[str, ...] | None = None,
) -> "tuple[Plan, Report]":
    """Read a workspace, plan it, verify the plan and save it; only then return it."""
    from packdown.files import read_workspace, write_plan

    with running(talk(), seconds=seconds) as run:
        workspace = read_workspace(folder)
        from packdown.planning import DEFAULT_EFFORT, plan_workspace
        from packdown.verify import verify as verify_plan

        endless = seconds is not None and effort is None
        plan = plan_workspace(
            workspace,
            effort=None if endless else effort or DEFAULT_EFFORT,
            seed=seed,
            prefer=prefer,
            containers=containers,
            stop=run.stop,
            progress=run.progress,
            first=lambda finish: run.rehearse(lambda: verify_plan(finish())),
        )
        report = verify_plan(plan)
    insist(report)
    write_plan(plan, output)
    if run.interrupted:
        talk().print("Stopped early: this is the best plan found so far.")
    return plan, report


def insist(report: "Report") -> None:
    """End with an error if a plan breaks any rule."""
    if not report.ok:
        broken = "\n".join(f"  {violation}" for violation in report.violations)
        raise BrokenPlanError(
            f"The plan breaks rules of its own, so it is not saved:\n{broken}",
            hint="This is a fault of Packdown. Please report it with your workspace.",
        )


def show_verified(plan: Plan, report: "Report") -> None:
    """Print the summary of a plan, and how many rules it keeps."""
    from packdown.report import summary

    console = Console(highlight=False)
    summary(plan, console)
    console.print(f"Verified: all {len(report.rules)} rules kept.")


def save_book(
    plan: Plan,
    output: Path,
    *,
    trade_off: Path | None = None,
    turning: bool = True,
    load_file: Path | None = None,
    helpers: int = 1,
) -> Path:
    """Write the pack book of a plan as one page for a browser; for several, with a timetable."""
    from packdown.cli.timelines import timelines_of
    from packdown.files import read_choices, read_load, write_text
    from packdown.report import book

    if output.suffix.lower() not in {".html", ".htm"}:
        raise UsageError(
            f"{output.name}: a pack book is one file, for a browser or for paper",
            hint="name it something.html or something.pdf",
        )
    choices = read_choices(trade_off) if trade_off else ()
    loading = read_load(load_file) if load_file else None
    timelines = tuple(timelines_of(plan, helpers).items()) if helpers > 1 else ()
    page = book.render(plan, choices=choices, turning=turning, loading=loading, timelines=timelines)
    write_text(page, output)
    return output


@app.command()
def plan(
    folder: Folder = Path(),
    *,
    output: Output = None,
    seconds: Seconds = None,
    effort: Effort = None,
    seed: Seed = 0,
    prefer: Preference = None,
    containers: Containers = None,
    as_json: Json = False,
) -> None:
    """Decide which joints to split and what goes where; verify the plan and save it."""
    target = output or folder / "plan.json"
    made, report = make_plan(
        folder,
        target,
        seconds=seconds,
        effort=effort,
        seed=seed,
        prefer=prefer,
        containers=named(containers),
    )
    if as_json:
        sys.stdout.write(target.read_text(encoding="utf-8"))
    else:
        show_verified(made, report)
        talk().print(f"Plan: {target}", markup=False)
    if made.not_packed:
        raise typer.Exit(1)


@app.command()
def verify(plan_file: PlanFile, *, as_json: Json = False) -> None:
    """Check every rule of a plan or of a load by name; exit status 1 if any is broken."""
    from packdown.files import is_load, read_load, read_plan
    from packdown.report import verification
    from packdown.verify import verify as verify_plan
    from packdown.verify import verify_load

    if is_load(plan_file):
        report = verify_load(read_load(plan_file))
    else:
        report = verify_plan(read_plan(plan_file))
    if as_json:
        rows = [
            {
                "rule": rule.name,
                "means": rule.sentence,
                "violations": [asdict(violation) for violation in violations],
            }
            for rule, violations in report.rules
        ]
        sys.stdout.write(json.dumps({"ok": report.ok, "rules": rows}, indent=2) + "\n")
    else:
        verification(report, Console(highlight=False))
    if not report.ok:
        raise typer.Exit(1)


@app.command()
def steps(
    plan_file: PlanFile,
    *,
    take_down: Annotated[bool, typer.Option("--take-down", help="Only taking down.")] = False,
    rebuild: Annotated[bool, typer.Option("--rebuild", help="Only rebuilding.")] = False,
    as_json: Json = False,
) -> None:
    """Print the steps of taking down and of rebuilding."""
    from packdown.files import read_plan
    from packdown.report import print_steps

    made = read_plan(plan_file)
    both = take_down == rebuild
    names = [
        name for name, wanted in ((TAKE_DOWN, take_down), (REBUILD, rebuild)) if wanted or both
    ]
    if as_json:
        from packdown.files import steps_json

        sys.stdout.write(steps_json({name: getattr(made.steps, name) for name in names}) + "\n")
        return
    console = Console(highlight=False)
    for name in names:
        print_steps(made, name, console)


@app.command()
def book(
    plan_file: PlanFile,
    *,
    output: Output = None,
    paper: Paper = "a4",
    trade_off: TradeOff = None,
    turning: Turning = True,
    load_file: LoadFile = None,
    helpers: Helpers = 1,
) -> None:
    """Write the pack book: an HTML file that needs no network, or a PDF to print.

    For several helpers, the file for a browser has a timetable.
    """
    from packdown.files import read_plan

    if output and output.suffix.lower() == ".pdf":
        from packdown.cli.labels import paper_named, save_printed
        from packdown.report.printing import print_book

        size = paper_named(paper)
        save_printed(print_book(read_plan(plan_file), size), output, "Pack book")
        return
    target = output or plan_file.with_suffix(".html")
    written = save_book(
        read_plan(plan_file),
        target,
        trade_off=trade_off,
        turning=turning,
        load_file=load_file,
        helpers=helpers,
    )
    talk().print(f"Pack book: {written}", markup=False)
