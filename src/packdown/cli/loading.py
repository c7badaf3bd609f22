"""Commands on the way: load, lift."""

import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console

from packdown.cli.app import Containers, Json, Output, PlanFile, app, named, talk
from packdown.errors import PackdownError, UsageError, nearest
from packdown.model import (
    Cargo,
    Flight,
    FlightLoad,
    Loading,
    LoadSpace,
    PackedContainer,
    Plan,
    Workspace,
)

if TYPE_CHECKING:
    from packdown.limits.handling import Handling

__all__ = ["lift", "load"]

Into = Annotated[
    str | None,
    typer.Option("--into", metavar="SPACE", help="Load space or flight of load_spaces.toml."),
]
Folder = Annotated[
    Path | None,
    typer.Option("--workspace", metavar="DIR", help="The workspace; else the plan's folder."),
]
Need = Annotated[
    str | None,
    typer.Option("--need", metavar="ID,...", help="Containers in the order they are needed in."),
]
Picture = Annotated[
    Path | None, typer.Option("--picture", metavar="FILE.svg", help="Draw the load, step by step.")
]
Effort = Annotated[
    int, typer.Option("--effort", min=1, help="How long to search: same effort, same load.")
]
Seed = Annotated[int, typer.Option("--seed", min=0, help="Seed of the random choices.")]


class BrokenLoadError(PackdownError):
    """A load of our own that breaks a rule: a fault of the program, never shown as a load."""

    exit_code = 1


@app.command()
def load(
    plan_file: PlanFile,
    *,
    into: Into = None,
    workspace: Folder = None,
    need: Need = None,
    containers: Containers = None,
    effort: Effort = 8,
    seed: Seed = 0,
    output: Output = None,
    picture: Picture = None,
    as_json: Json = False,
) -> None:
    """Load packed containers into a vehicle, or onto a flight; say what to strap and what stays."""
    from packdown.files import read_plan, read_workspace
    from packdown.model import cargo_of

    plan = read_plan(plan_file)
    own = read_workspace(workspace or plan_file.parent)
    space = _space(own, into)
    cargo = _chosen(cargo_of(plan), named(containers))
    order = named(need)
    for name in order or ():
        _known(name, [one.id for one in cargo])
    if isinstance(space, Flight):
        _fly(plan, space, cargo, output or picture, as_json=as_json)
        return
    from packdown.planning.loading import load as load_vehicle

    loading = load_vehicle(space, cargo, order, plan=plan.workspace, seed=seed, effort=effort)
    _insist(loading)
    _save(loading, output, picture)
    _show(loading, as_json=as_json)
    if loading.left:
        raise typer.Exit(1)


@app.command()
def lift(
    plan_file: PlanFile,
    *,
    into: Into = None,
    workspace: Folder = None,
    as_json: Json = False,
) -> None:
    """Estimate for each packed container who lifts it, and the field of its magnets."""
    from packdown.files import read_plan, read_workspace
    from packdown.report.lookup import look_up

    plan = read_plan(plan_file)
    own = read_workspace(workspace or plan_file.parent)
    spaces = [space for space in own.load_spaces if into in {None, space.id}]
    if into and not spaces:
        raise UsageError(f'there is no load space "{into}"', hint=_hint(own, into))
    found = _lifts(plan, own, spaces)
    if as_json:
        data = [{"container": c.id, **_lift_data(each)} for c, lifts in found for each in lifts]
        sys.stdout.write(_json({"lifts": data}))
        return
    _print_lifts(plan, found, own, Console(highlight=False))
    _print_magnets(plan, Console(highlight=False))
    if not look_up(plan).used:
        raise typer.Exit(1)


def _lift_data(lift: "Handling") -> dict[str, object]:
    """Return a lift as data; the index is null where the lift is out of range."""
    return {**asdict(lift), "index": lift.index if isfinite(lift.index) else None}


def _space(own: Workspace, into: str | None) -> LoadSpace | Flight:
    """Return what a name stands for; without a name the only one there is."""
    spaces: dict[str, LoadSpace | Flight] = {space.id: space for space in own.load_spaces}
    if into is None and len(spaces) == 1:
        return next(iter(spaces.values()))
    spaces |= {flight.id: flight for flight in own.flights}
    if into is None:
        raise UsageError("say what to load into: --into SPACE", hint=_hint(own, ""))
    if into not in spaces:
        raise UsageError(f'there is no load space and no flight "{into}"', hint=_hint(own, into))
    return spaces[into]


def _hint(own: Workspace, name: str) -> str:
    known = [*(space.id for space in own.load_spaces), *(flight.id for flight in own.flights)]
    return nearest(name, known) if known else "define one in load_spaces.toml"


def _known(name: str, known: Sequence[str]) -> None:
    if name not in known:
        raise UsageError(f'the plan fills no container "{name}"', hint=nearest(name, known))


def _chosen(cargo: Sequence[Cargo], names: tuple[str, ...] | None) -> tuple[Cargo, ...]:
    for name in names or ():
        _known(name, [one.id for one in cargo])
    chosen = tuple(one for one in cargo if names is None or one.id in names)
    if not chosen:
        raise UsageError("the plan fills no container, so there is nothing to load")
    return chosen


def _insist(loading: Loading) -> None:
    """End with an error if a load breaks any rule."""
    from packdown.verify import verify_load

    report = verify_load(loading)
    if not report.ok:
        broken = "\n".join(f"  {violation}" for violation in report.violations)
        raise BrokenLoadError(
            f"The load breaks rules of its own, so it is not shown:\n{broken}",
            hint="This is a fault of Packdown. Please report it with your workspace.",
        )


def _save(loading: Loading, output: Path | None, picture: Path | None) -> None:
    from packdown.files import write_load, write_text

    if picture:
        from packdown.report.load_pictures import load_picture, load_step_pictures
        from packdown.report.standalone import svg_file

        if picture.suffix.lower() != ".svg":
            raise UsageError(f"{picture.name}: expected a file .svg")
        drawings = [load_picture(loading), *load_step_pictures(loading)]
        write_text(svg_file(drawings), picture)
        talk().print(f"Picture: {picture}", markup=False)
    if output:
        write_load(loading, output)
        talk().print(f"Load: {output}", markup=False)


def _show(loading: Loading, *, as_json: bool) -> None:
    if as_json:
        from packdown.files import load_json

        sys.stdout.write(load_json(loading) + "\n")
        return
    from packdown.report.load_terminal import print_load
    from packdown.verify import LOAD_RULES

    console = Console(highlight=False)
    print_load(loading, console)
    console.print(f"\nVerified: all {len(LOAD_RULES)} rules of a load kept.")


def _fly(
    plan: Plan, flight: Flight, cargo: Sequence[Cargo], file: Path | None, *, as_json: bool
) -> None:
    """Show which containers go on a flight."""
    from packdown.planning.flight import load_flight

    if file:
        raise UsageError(f"{file.name}: only a vehicle can be drawn or saved, not a flight")
    found = load_flight(flight, cargo)
    if as_json:
        sys.stdout.write(_json(asdict(found)))
    else:
        _print_flight(plan, found, cargo, Console(highlight=False))
    if found.left:
        raise typer.Exit(1)


def _print_flight(plan: Plan, found: FlightLoad, cargo: Sequence[Cargo], console: Console) -> None:
    from packdown.report.flight_words import flight_cautions, flight_left, flight_rows
    from packdown.report.lift_words import flight_caution
    from packdown.report.load_terminal import print_cautions, print_rows
    from packdown.report.lookup import look_up

    lookup = look_up(plan)
    rows = flight_rows(found, cargo)
    headings = ("container", "as", "weight", "size together", "mark")
    print_rows(found.flight.name, headings, rows, console)
    if found.left:
        print_rows("Stays behind", ("container", "why"), flight_left(found, cargo), console)
    taken = {piece.container for piece in found.baggage}
    magnets = flight_caution(lookup, [c for c in lookup.used if c.id in taken])
    print_cautions([*flight_cautions(found), *([magnets] if magnets else [])], console)


Lifts = list[tuple[PackedContainer, list["Handling"]]]


def _lifts(plan: Plan, own: Workspace, spaces: Sequence[LoadSpace]) -> Lifts:
    """Estimate every lift of every packed container."""
    from packdown.files import read_filter, read_lift_tables
    from packdown.limits.handling import Journey, handle
    from packdown.report.lookup import look_up

    settings, lookup = own.settings.lifting, look_up(plan)
    journeys: list[Journey] = [
        Journey(name="floor to table", from_um=0, to_um=settings.table_um),
        *(
            Journey(name=f"ground to {space.name}", from_um=0, to_um=space.sill_um)
            for space in spaces
        ),
    ]
    tables, table = read_lift_tables(), read_filter()
    return [
        (c, [handle(c.outer_um, lookup.gross_g(c), j, settings, tables, table) for j in journeys])
        for c in lookup.used
    ]


def _print_lifts(plan: Plan, found: Lifts, own: Workspace, console: Console) -> None:
    from packdown.report.lift_words import LIFT_NOTE, heavy_note, lift_row
    from packdown.report.load_terminal import print_cautions, print_rows
    from packdown.report.lookup import look_up
    from packdown.units import format_weight

    lookup = look_up(plan)
    headings = ("container", "gross", "lift", "advised", "index", "filter m / w", "for")
    rows = [
        (container.name, format_weight(lookup.gross_g(container)), *lift_row(each))
        for container, lifts in found
        for each in lifts
    ]
    print_rows("Lifting", headings, rows, console)
    console.print(heavy_note(own.settings.lifting.limit_g))
    print_cautions([LIFT_NOTE], console)


def _print_magnets(plan: Plan, console: Console) -> None:
    from packdown.report.lift_words import flight_caution, magnet_rows
    from packdown.report.load_terminal import print_cautions, print_rows
    from packdown.report.lookup import look_up

    lookup = look_up(plan)
    rows = magnet_rows(lookup, lookup.used)
    caution = flight_caution(lookup)
    if rows and caution:
        fields = ("aligned, 2.1 m", "at random", "aligned, 4.6 m")
        headings = ("container", "magnets", *fields, "on a flight")
        print_rows("Magnets", headings, rows, console)
        print_cautions([caution], console)


def _json(data: object) -> str:
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False, default=str) + "\n"
