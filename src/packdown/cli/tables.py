"""Commands on tables of parts and counts: import, export."""

import sys
from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Folder, Json, Output, app, talk
from packdown.cli.stores import Yes, confirm, print_json
from packdown.errors import UsageError, nearest

if TYPE_CHECKING:
    from packdown.tables import Memory, Preview

__all__ = ["export_table", "import_table"]


class Mark(StrEnum):
    """What stands before decimals."""

    POINT = "point"
    COMMA = "comma"


@app.command("import")
def import_table(
    table: Annotated[Path, typer.Argument(help="CSV or XLSX, as you have it.")],
    folder: Folder = Path(),
    *,
    columns: Annotated[
        list[str] | None,
        typer.Option("--column", metavar="HEADING=FIELD", help="What a column of yours holds."),
    ] = None,
    units: Annotated[str | None, typer.Option(help="Unit of lengths without one.")] = None,
    weights: Annotated[str | None, typer.Option(help="Unit of weights without one.")] = None,
    decimal: Annotated[Mark | None, typer.Option(help="What stands before decimals.")] = None,
    sheet: Annotated[str | None, typer.Option(help="Which sheet of a workbook.")] = None,
    encoding: Annotated[str | None, typer.Option(help="How the text is encoded.")] = None,
    material: Annotated[
        str | None, typer.Option(help="Estimate weights that are missing from this.")
    ] = None,
    replace_parts: Annotated[
        bool, typer.Option("--replace", help="Replace parts that say something else.")
    ] = False,
    yes: Yes = False,
    as_json: Json = False,
) -> None:
    """Take over parts and counts from a table; first show what was understood."""
    from rich.console import Console

    from packdown.report.imported import preview_data, print_preview
    from packdown.tables import read_memory, read_sheets, read_table

    _check_folder(folder)
    before = read_memory(folder)
    memory = _told(before, columns or [], units, weights, decimal)
    preview = read_table(
        folder,
        read_sheets(table, sheet=sheet, encoding=encoding),
        memory,
        estimate=_estimate(material) if material else None,
        replace=replace_parts,
    )
    if as_json:
        print_json(preview_data(preview))
    else:
        print_preview(preview, Console(highlight=False, soft_wrap=True))
    _write(folder, preview, memory if memory != before else None, yes=yes)


def _check_folder(folder: Path) -> None:
    if not (folder / "packdown.toml").is_file():
        raise UsageError(f"{folder} is no workspace", hint=f"make one: packdown new {folder}")


def _told(
    memory: "Memory",
    columns: list[str],
    units: str | None,
    weights: str | None,
    decimal: Mark | None,
) -> "Memory":
    """Return what is remembered together with what was said this time."""
    from packdown.tables import FIELDS, UNUSED, Decimal
    from packdown.units import G_BY_UNIT, UM_BY_UNIT

    said = dict(memory.columns)
    for pair in columns:
        heading, _, field = pair.rpartition("=")
        if field not in {*FIELDS, UNUSED} or not heading.strip():
            raise UsageError(
                f"--column {pair!r}: expected HEADING=FIELD",
                hint=f'{nearest(field, FIELDS)}; or "-" for a column that is not used',
            )
        said[heading.strip()] = field
    kinds = dict(memory.units)
    for kind, unit, known in (("length", units, UM_BY_UNIT), ("weight", weights, G_BY_UNIT)):
        if unit is not None and unit not in known:
            raise UsageError(f"unknown unit {unit!r}", hint=f"known: {', '.join(known)}")
        if unit is not None:
            kinds[kind] = unit
    mark = Decimal(decimal.value) if decimal else memory.decimal
    return replace(memory, columns=said, units=kinds, decimal=mark)


def _estimate(name: str) -> Callable[[tuple[int, int, int]], int]:
    """Return what estimates the weight of a box."""
    from packdown.measuring import find_material
    from packdown.measuring.weighing import estimate

    material = find_material(name)

    def of_box(size_um: tuple[int, int, int]) -> int:
        a, b, c = size_um
        return estimate(a * b * c, 2 * (a * b + b * c + c * a), material, None)[1]

    return of_box


def _write(folder: Path, preview: "Preview", memory: "Memory | None", *, yes: bool) -> None:
    from packdown.files import write_text
    from packdown.tables import FILE, memory_text

    changes = preview.changes
    if not changes.any and memory is None:
        talk().print("All of this is there already: nothing to write.")
        return
    parts = len(changes.new) + len(changes.changed)
    confirm(
        f"Write {parts} parts or sets and {len(changes.counts.changed)} counts to {folder}?",
        yes=yes,
    )
    if memory is not None:
        write_text(memory_text(memory), folder / FILE)
    for added in (changes.parts, changes.sets):
        if added.new or added.changed:
            write_text(added.text, added.path)
    if changes.counts.changed:
        write_text(changes.counts.text, changes.counts.path)
    talk().print(f"Written. Next: packdown check {folder}", markup=False)


@app.command("export")
def export_table(
    folder: Folder = Path(),
    *,
    output: Output = None,
    yes: Yes = False,
    as_json: Json = False,
) -> None:
    """Write parts and counts as CSV or XLSX, so that import reads them again without loss."""
    from packdown.files import write_bytes, write_text
    from packdown.tables import COLUMNS, parts_table, separated_text, workbook_bytes

    _check_folder(folder)
    rows = parts_table(folder)
    if as_json:
        print_json([dict(zip(COLUMNS, row, strict=True)) for row in rows])
        return
    if output is None:
        sys.stdout.write(separated_text(rows))
        return
    if output.exists():
        confirm(f"Replace {output}?", yes=yes)
    if output.suffix.lower() == ".xlsx":
        write_bytes(workbook_bytes(rows), output)
    else:
        write_text(separated_text(rows), output)
    talk().print(f"{len(rows)} parts: {output}", markup=False)
