"""The command that makes parts of mesh files: measure."""

from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Json, Output, app, talk
from packdown.cli.running import running
from packdown.cli.stores import Yes, confirm, print_json
from packdown.errors import PackdownError, Problem, UsageError

if TYPE_CHECKING:
    from packdown.files import NewPart
    from packdown.measuring import How, Measured

__all__ = ["measure"]

Found = tuple[list[tuple[str, "Measured"]], list[Problem]]


class Unit(StrEnum):
    """Units of mesh files."""

    MM = "mm"
    CM = "cm"
    M = "m"
    IN = "in"


class Up(StrEnum):
    """Axes of mesh files."""

    X = "x"
    Y = "y"
    Z = "z"


@app.command()
def measure(
    files: Annotated[list[Path], typer.Argument(help="STL, 3MF, OBJ, PLY, glTF; or folders.")],
    *,
    resolution: Annotated[
        str, typer.Option(help="No step of a cover is wider, such as 1mm.")
    ] = "2 mm",
    cuboids: Annotated[int, typer.Option(min=1, max=200, help="At most so many in a cover.")] = 40,
    units: Annotated[Unit | None, typer.Option(help="Unit of all files.")] = None,
    up: Annotated[Up, typer.Option(help="Axis of the files that points up.")] = Up.Z,
    material: Annotated[str, typer.Option(help="What the pieces are made of.")] = "PLA",
    infill: Annotated[
        str | None, typer.Option(help="How much of the inside is filled, such as 15%.")
    ] = None,
    core: Annotated[
        bool, typer.Option("--core", help="Write cuboids inside the shape, too.")
    ] = False,
    output: Output = None,
    add: Annotated[
        Path | None, typer.Option("--add", metavar="FOLDER", help="Add the parts to a workspace.")
    ] = None,
    replace: Annotated[
        bool, typer.Option("--replace", help="Replace parts that are there already.")
    ] = False,
    jobs: Annotated[int | None, typer.Option(min=1, help="Processes that work.")] = None,
    yes: Yes = False,
    as_json: Json = False,
) -> None:
    """Measure mesh files: size, cuboids that cover them, volume, weight, base, balance."""
    from rich.console import Console

    from packdown.report.measured import measured_data, print_measured

    how = _how(resolution, cuboids, units, up, material, infill)
    target = _target(output, add)
    found, refused, stopped = _measured(files, how, jobs)
    if as_json:
        problems = [{"file": one.file, "message": one.message} for one in refused]
        print_json({"parts": measured_data(found), "problems": problems})
    elif found:
        print_measured(found, Console(highlight=False, soft_wrap=True))
    if stopped:
        talk().print(f"Stopped after {len(found)} files. Nothing was written.")
        raise typer.Exit(1)
    if target and found:
        _write(target, found, with_core=core, replace=replace, yes=yes)
    elif found and any(one.guessed for _, one in found) and not as_json:
        talk().print("Units marked ? are guesses; say the right one with --units.")
    if refused:
        raise _RefusedError(refused)


class _RefusedError(PackdownError):
    """Some files could not be measured; the others were."""

    def __init__(self, refused: Sequence[Problem]) -> None:
        lines = (f"  {one.file}\n    {one.message}" for one in refused)
        many = "1 file was" if len(refused) == 1 else f"{len(refused)} files were"
        super().__init__("\n".join([f"{many} refused.", *lines]))


def _how(
    resolution: str, cuboids: int, units: Unit | None, up: Up, material: str, infill: str | None
) -> "How":
    from packdown.measuring import How, find_material
    from packdown.units import parse_length

    try:
        resolution_um = parse_length(resolution)
    except ValueError as error:
        raise UsageError(f"--resolution: {error}") from error
    if resolution_um < 100:
        raise UsageError("--resolution: expected at least 0.1 mm")
    return How(
        resolution_um=resolution_um,
        most_cuboids=cuboids,
        unit=units.value if units else None,
        up=up.value,
        material=find_material(material),
        infill_percent=_percent(infill) if infill else None,
    )


def _percent(text: str) -> float:
    try:
        value = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError as error:
        raise UsageError(f"--infill: {text!r} is no percentage such as 15%") from error
    if not 0 <= value <= 100:
        raise UsageError("--infill: expected 0% to 100%")
    return value


def _target(output: Path | None, add: Path | None) -> Path | None:
    """Return the file to write, if any."""
    if output and add:
        raise UsageError("say either -o or --add, not both")
    if add and not (add / "packdown.toml").is_file():
        raise UsageError(f"{add} is no workspace", hint=f"make one: packdown new {add}")
    return add / "parts.toml" if add else output


def _measured(
    files: Sequence[Path], how: "How", jobs: int | None
) -> "tuple[list[tuple[str, Measured]], list[Problem], bool]":
    """Measure all files; return parts with their ids, what was refused, and whether to stop."""
    from packdown.measuring import Measured, find_files, measure_files

    paths = find_files(files)
    done: dict[int, Measured | Problem] = {}
    with running(talk(), seconds=None, stopping="what was begun is finished") as run:
        run.progress(0.0, "measuring")
        for number, outcome in measure_files(paths, how, jobs=jobs, stop=run.stop):
            done[number] = outcome
            run.progress(len(done) / len(paths), f"measured {len(done)} of {len(paths)}")
        stopped = run.interrupted
    ids = _ids(paths)
    ordered = [(ids[number], done[number]) for number in sorted(done)]
    found = [(part, one) for part, one in ordered if isinstance(one, Measured)]
    refused = [one for _, one in ordered if isinstance(one, Problem)]
    return found, refused, stopped


def _ids(paths: Sequence[Path]) -> list[str]:
    """Return a part's id for every file; files of one name get numbers."""
    from packdown.files import short_name

    used: set[str] = set()
    ids = []
    for path in paths:
        base = part = short_name(path.stem)
        number = 2
        while part in used:
            part, number = f"{base}-{number}", number + 1
        used.add(part)
        ids.append(part)
    return ids


def _write(
    target: Path,
    found: "list[tuple[str, Measured]]",
    *,
    with_core: bool,
    replace: bool,
    yes: bool,
) -> None:
    """Show what would change in the file, ask, and write it in one step."""
    from packdown.files import add_parts, write_text

    parts = {part: _part(part, one, with_core=with_core) for part, one in found}
    added = add_parts(target, parts, replace=replace)
    for words, ids in (
        ("new", added.new), ("replaced", added.changed), ("there already", added.same),
        ("there, but different: left as it is, say --replace", added.kept),
    ):  # fmt: skip
        if ids:
            talk().print(f"{words}: {', '.join(ids)}", markup=False)
    if not added.new and not added.changed:
        talk().print("Nothing to write.")
        return
    guessed = sorted({one.unit for _, one in found if one.guessed})
    unit = f"Units were guessed as {' and '.join(guessed)}. " if guessed else ""
    confirm(f"{unit}Write {len(added.new) + len(added.changed)} parts to {target}?", yes=yes)
    write_text(added.text, target)
    talk().print(f"Written: {target}. Next: how many of each, in counts.csv.", markup=False)


def _part(part: str, one: "Measured", *, with_core: bool) -> "NewPart":
    from packdown.files import NewPart, cuboid_tables, part_text
    from packdown.report.measured import remarks
    from packdown.units import format_length

    entry: dict[str, object] = {
        "name": Path(one.file).stem,
        "weight": f"{one.weight_g[1]} g",
    }
    if len(one.cover_um) == 1:
        entry["size"] = [format_length(side) for side in one.cover_um[0].size]
    else:
        entry["cuboids"] = cuboid_tables(one.cover_um)
        if with_core:
            entry["core"] = cuboid_tables(one.core_um)
    return NewPart(entry=entry, text=part_text(part, entry, remarks(one)))
