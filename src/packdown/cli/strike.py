"""The command that packs up after an event: strike."""

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Containers, Json, Output, PlanFile, app, named, talk
from packdown.cli.events import Home
from packdown.cli.plans import Effort, Seconds, insist, show_verified
from packdown.cli.running import running
from packdown.cli.stores import StoreAddress, open_store

if TYPE_CHECKING:
    from packdown.model import Plan, Workspace
    from packdown.store.connection import Store
    from packdown.verify import Report

__all__: list[str] = []

Names = "PIECE or PART=NUMBER,..."
Standing = Annotated[
    str | None,
    typer.Option("--standing", metavar="ID,...", help="Builds that stand at the end."),
]
UsedUp = Annotated[
    str | None, typer.Option("--used-up", metavar=Names, help="Pieces that are used up.")
]
Lent = Annotated[str | None, typer.Option("--lent", metavar=Names, help="Pieces that are lent.")]
LeftThere = Annotated[
    str | None, typer.Option("--left", metavar=Names, help="Pieces that stay there.")
]
With = Annotated[str, typer.Option("--with", help="Who has what is lent, or where it was left.")]
Record = Annotated[
    bool, typer.Option("--record", help="Tell the store what is used up, lent and left.")
]


@app.command()
def strike(
    plan_file: PlanFile,
    *,
    standing: Standing = None,
    used_up: UsedUp = None,
    lent: Lent = None,
    left: LeftThere = None,
    whom: With = "",
    record: Record = False,
    containers: Containers = None,
    workspace: Home = None,
    output: Output = None,
    seconds: Seconds = None,
    effort: Effort = None,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Pack up after an event with what is there: without what was used up, lent or left."""
    from packdown.files import read_plan, read_workspace, write_plan
    from packdown.planning.bringing.strike import gone_pieces

    plan = read_plan(plan_file)
    collection = read_workspace(workspace or plan_file.parent)
    consumed = gone_pieces(plan, named(used_up) or ())
    away = gone_pieces(plan, named(lent) or (), consumed)
    stayed = gone_pieces(plan, named(left) or (), (*consumed, *away))
    made, report = _struck(
        collection,
        plan,
        standing=named(standing),
        gone=(*consumed, *away, *stayed),
        containers=named(containers),
        seconds=seconds,
        effort=effort,
    )
    if record:
        target = open_store(store, workspace or plan_file.parent)
        _record(target, consumed, away, stayed, whom)
    written = output or plan_file.with_name(f"{plan_file.stem}-strike.json")
    write_plan(made, written)
    if as_json:
        sys.stdout.write(written.read_text(encoding="utf-8"))
    else:
        show_verified(made, report)
    talk().print(f"Plan: {written}", markup=False)
    if made.not_packed:
        raise typer.Exit(1)


def _struck(
    collection: "Workspace",
    plan: "Plan",
    *,
    standing: tuple[str, ...] | None,
    gone: tuple[str, ...],
    containers: tuple[str, ...] | None,
    seconds: float | None,
    effort: int | None,
) -> "tuple[Plan, Report]":
    """Return the plan of the way home, verified."""
    from packdown.planning import DEFAULT_EFFORT
    from packdown.planning.bringing.strike import strike as strike_plan
    from packdown.verify import verify

    with running(talk(), seconds=seconds) as run:
        made = strike_plan(
            collection,
            plan,
            standing=standing,
            gone=gone,
            containers=containers,
            effort=None if seconds is not None and effort is None else effort or DEFAULT_EFFORT,
            stop=run.stop,
            progress=run.progress,
        )
        report = verify(made)
    insist(report)
    return made, report


def _record(
    target: "Store", consumed: tuple[str, ...], away: tuple[str, ...], stayed: tuple[str, ...],
    whom: str,
) -> None:  # fmt: skip
    """Strike off what is used up; what is lent or left is out, and the store says for what."""
    from packdown.store.individuals import strike_off
    from packdown.store.moving import OUT, move

    if consumed:
        strike_off(target, consumed, None)
    for pieces, what in ((away, "lent"), (stayed, "left")):
        if pieces:
            move(target, pieces, OUT, event=f"{what}: {whom}" if whom else what)
    told = [
        f"{len(pieces)} {what}"
        for pieces, what in ((consumed, "struck off"), (away, "lent"), (stayed, "left"))
        if pieces
    ]
    talk().print(f"Recorded: {', '.join(told) or 'nothing is gone'}.", markup=False)
