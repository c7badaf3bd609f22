"""Commands that print on paper: labels and packing lists."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Containers, Output, Paper, PlanFile, app, named, talk
from packdown.errors import UsageError, nearest
from packdown.model import PackedContainer, Plan, meant
from packdown.units import parse_length

if TYPE_CHECKING:
    from packdown.report.printing import Printed

__all__ = ["labels", "lists", "paper_named", "save_printed"]

MOST_SHIFT_UM = 10_000

Sheet = Annotated[
    str, typer.Option("--sheet", metavar="NAME", help="Sheet of labels; a wrong name lists all.")
]
Start = Annotated[
    int, typer.Option("--start", min=1, help="First free label of the sheet, row by row.")
]
Shift = Annotated[
    str, typer.Option("--shift", metavar="X,Y", help="Millimetres to move all right and down.")
]
Copies = Annotated[int, typer.Option("--copies", min=1, max=20, help="Labels for each container.")]
Edges = Annotated[
    bool, typer.Option("--edges", help="Draw the edges of labels, to try on plain paper.")
]


@app.command()
def labels(
    plan_file: PlanFile,
    *,
    output: Output = None,
    sheet: Sheet = "a4-8",
    start: Start = 1,
    shift: Shift = "0,0",
    copies: Copies = 1,
    edges: Edges = False,
    containers: Containers = None,
) -> None:
    """Print a label for each packed container: a PDF for a sheet of labels."""
    from packdown.files import read_label_sheets, read_plan

    sheets = read_label_sheets()
    if sheet not in sheets:
        known = ", ".join(sheets)
        raise UsageError(f'there is no sheet of labels "{sheet}"', hint=f"known: {known}")
    chosen = sheets[sheet]
    if start > chosen.per_sheet:
        raise UsageError(f"--start {start}: a sheet {sheet} has {chosen.per_sheet} labels")
    shift_um = _shift(shift)
    plan = read_plan(plan_file)
    wanted = _chosen(plan, named(containers))
    from packdown.report.printing import print_labels

    printed = print_labels(
        plan, wanted, chosen, start=start, shift_um=shift_um, copies=copies, edges=edges
    )
    save_printed(printed, output or plan_file.with_name("labels.pdf"), "Labels")
    talk().print("Print at actual size (100 %), not fitted to the page.")


@app.command()
def lists(
    plan_file: PlanFile,
    *,
    output: Output = None,
    paper: Paper = "a4",
    containers: Containers = None,
) -> None:
    """Print a packing list for each packed container: a PDF with one page for each."""
    from packdown.files import read_plan

    size = paper_named(paper)
    plan = read_plan(plan_file)
    wanted = _chosen(plan, named(containers))
    from packdown.report.printing import print_lists

    printed = print_lists(plan, wanted, size)
    save_printed(printed, output or plan_file.with_name("packing-lists.pdf"), "Packing lists")


def paper_named(name: str) -> tuple[int, int]:
    """Return width and height of a paper, in micrometres."""
    from packdown.files import read_papers

    papers = read_papers()
    if name not in papers:
        raise UsageError(f'there is no paper "{name}"', hint=nearest(name, papers))
    return papers[name]


def _shift(text: str) -> tuple[int, int]:
    """Read how far to move what is printed, in micrometres."""
    try:
        x, y = (parse_length(part if _has_unit(part) else f"{part} mm") for part in text.split(","))
    except ValueError:
        raise UsageError(
            f"--shift {text}: expected two lengths in millimetres",
            hint="such as --shift 0.5,-1 for half a millimetre right and one up",
        ) from None
    if max(abs(x), abs(y)) > MOST_SHIFT_UM:
        raise UsageError(f"--shift {text}: at most {MOST_SHIFT_UM // 1_000} mm each way")
    return x, y


def _has_unit(length: str) -> bool:
    return length.strip()[-1:].isalpha()


def _chosen(plan: Plan, names: tuple[str, ...] | None) -> tuple[PackedContainer, ...]:
    """Return the packed containers of a plan, or those named by their ids or short ids."""
    packed = {container.id: container for container in plan.containers if container.fill}
    if not packed:
        raise UsageError("the plan fills no container, so there is nothing to print")
    chosen = []
    for name in names or packed:
        own = meant(name, packed)
        if own is None:
            raise UsageError(f'the plan fills no container "{name}"', hint=nearest(name, packed))
        chosen.append(packed[own])
    return tuple(chosen)


def save_printed(printed: "Printed", output: Path, what: str) -> None:
    """Write a document, and say what in it could not be printed."""
    from packdown.files import write_bytes

    if output.suffix.lower() != ".pdf":
        raise UsageError(f"{output.name}: {what.lower()} are one PDF file", hint="name it .pdf")
    write_bytes(printed.data, output)
    console = talk()
    pages = f"{printed.pages} page{'s' if printed.pages > 1 else ''}"
    console.print(f"{what}: {output}, {pages}", markup=False)
    if printed.missing:
        signs = " ".join(printed.missing)
        console.print(f"No font here has {signs}: a sign stands in their place.", markup=False)
