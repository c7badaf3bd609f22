"""Packdown beside py3dbp: ``cd tests && python -m benchmarks.compare_py3dbp one|collections``.

py3dbp knows sizes, weights and bins, no clearance, support, load or ways up. Every solid is
therefore taken as its bounding box that may lie any way up, and Packdown runs twice: once on
these boxes without clearance, once on the items as they are, under all rules.
"""

import time
from dataclasses import replace
from functools import partial
from itertools import product
from math import inf
from pathlib import Path
from typing import Annotated

import typer

from benchmarks.outside import Outcome, litres, run_py3dbp
from benchmarks.plain import check, item_of, show, timed, warm_up
from benchmarks.scenery import SIZES, scenery
from benchmarks.solids_vs_boxes import as_boxes, planned
from packdown.geometry import bounds, volume
from packdown.model import Container, Packing, PackingProblem
from packdown.packing import pack

ENDLESS = 10**6

app = typer.Typer(add_completion=False)


def boxed(problem: PackingProblem) -> PackingProblem:
    """Return the problem with every item as its bounding box, any way up, without clearance."""
    return replace(
        problem,
        items=tuple(
            item_of(item.id, (bounds(item.cuboids_um),), item.weight_g) for item in problem.items
        ),
        containers=tuple(
            replace(container, clearance_um=0, sheet_um=0) for container in problem.containers
        ),
        rules=replace(problem.rules, keep_together=(), keep_apart=()),
    )


def run_packdown(
    problem: PackingProblem, *, effort: int, seed: int, seconds: float = inf
) -> Outcome:
    """Run our packer, for so long at most."""
    end = time.monotonic() + seconds
    packing, seconds = timed(
        partial(pack, problem, effort=effort, seed=seed, stop=lambda: time.monotonic() > end)
    )
    return Outcome(
        packed=len(problem.items) - len(packing.unpacked),
        containers=len(packing.fills),
        litres=litres(_used(problem, packing)),
        placed_um3=sum(volume(p.cuboids_um) for f in packing.fills for p in f.placements),
        faults=check(problem, packing),
        seconds=seconds,
    )


def _used(problem: PackingProblem, packing: Packing) -> list[Container]:
    used = {fill.container for fill in packing.fills}
    return [container for container in problem.containers if container.id in used]


def _problem(workspace: Path | None, loose: int, assemblies: int, seed: int) -> PackingProblem:
    """Return the items of a planned workspace, or generated scenery."""
    if workspace is None:
        return scenery(loose, assemblies, seed=seed, mixed=True)
    return planned(workspace, effort=16, seed=seed)[1]


@app.command()
def one(
    workspace: Annotated[Path | None, typer.Argument(help="Generated scenery if none.")] = None,
    loose: Annotated[int, typer.Option(help="Loose pieces of generated scenery.")] = 100,
    assemblies: Annotated[int, typer.Option(help="Its sub-assemblies.")] = 5,
    effort: Annotated[int, typer.Option(help="Effort of our packer.")] = 16,
    seed: int = 0,
) -> None:
    """Print one table: packed, containers, litres, faults and seconds of each."""
    problem = _problem(workspace, loose, assemblies, seed)
    plain = boxed(problem)
    warm_up()
    outcomes = {
        "py3dbp, smallest first": run_py3dbp(plain, bigger_first=False),
        "py3dbp, biggest first": run_py3dbp(plain, bigger_first=True),
        "Packdown, same boxes": run_packdown(plain, effort=effort, seed=seed),
        "Packdown, solids, all rules": run_packdown(problem, effort=effort, seed=seed),
    }
    show(
        f"{len(problem.items)} items, {len(problem.containers)} containers at hand",
        ("packer", "packed", "containers", "litres", "outside", "overlaps", "floating", "s"),
        [
            (
                name,
                f"{one.packed} of {len(problem.items)}",
                one.containers,
                f"{one.litres:.1f}",
                one.faults.outside,
                one.faults.overlaps,
                one.faults.floating,
                one.seconds,
            )
            for name, one in outcomes.items()
        ],
        f"py3dbp with distribute_items and 3 decimals; ours at effort {effort}, seed {seed}.\n"
        "Floating: less than 80 % of the base on the floor or on others.",
    )


@app.command()
def collections(
    seconds: Annotated[float, typer.Option(help="Time for each packing of ours.")] = 15.0,
    seeds: Annotated[int, typer.Option(help="Collections of each size, from seed 0 on.")] = 1,
    largest: Annotated[int, typer.Option(help="Leave out collections of more loose pieces.")] = 300,
) -> None:
    """Pack generated scenery as solids and as boxes under all rules, and with py3dbp without."""
    warm_up()
    rows: list[tuple[object, ...]] = []
    for (loose, assemblies), mixed, seed in product(SIZES, (False, True), range(seeds)):
        if loose > largest:
            continue
        problem = scenery(loose, assemblies, seed=seed, mixed=mixed)
        boxes = as_boxes(problem, careful=False)
        ours, ours_boxed = (
            run_packdown(asked, effort=ENDLESS, seed=seed, seconds=seconds)
            for asked in (problem, boxes)
        )
        plain = boxed(problem)
        theirs = min(
            (run_py3dbp(plain, bigger_first=first) for first in (True, False)),
            key=lambda outcome: (-outcome.packed, outcome.containers),
        )
        rows.append(
            (
                f"{loose} + {assemblies}, {'mixed' if mixed else 'alike'}, {seed}",
                ours.containers,
                ours_boxed.containers,
                ours.containers / ours_boxed.containers,
                theirs.containers,
                f"{ours.litres:.0f} / {ours_boxed.litres:.0f} / {theirs.litres:.0f}",
                sum(outcome.packed < len(problem.items) for outcome in (ours, ours_boxed, theirs)),
                f"{ours.faults.total} / {ours_boxed.faults.total} / {theirs.faults.total}",
                theirs.seconds,
            )
        )
    show(
        f"Scenery, {seconds:g} s for each packing of ours",
        (
            "collection", "solids", "boxes", "ratio", "py3dbp", "litres", "left out", "faults",
            "py3dbp s",
        ),
        rows,
        "Containers, litres and faults with true solids, with bounding boxes, and of py3dbp (the\n"
        "better of two orders, bounding boxes without any rule). Left out: how many of the three\n"
        "leave something out. Faults of py3dbp: items that float.",
    )  # fmt: skip


if __name__ == "__main__":
    app()
