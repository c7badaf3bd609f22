"""Solids against boxes: ``cd tests && python -m benchmarks.solids_vs_boxes whole-jobs DIR``."""

from dataclasses import dataclass, replace
from functools import partial
from itertools import product
from pathlib import Path
from typing import Annotated

import typer

from benchmarks.plain import check, show, timed, warm_up
from packdown.files import read_workspace
from packdown.geometry import bounds, rotated, volume
from packdown.model import Build, Item, Packing, PackingProblem, Plan
from packdown.packing import pack
from packdown.planning import DEFAULT_EFFORT, plan_workspace
from packdown.planning.job import Job, SubAssembly
from packdown.planning.pack_up import Search
from packdown.planning.state import State
from packdown.planning.whole_job import least_effort_split

app = typer.Typer(add_completion=False)


def planned(folder: Path, *, effort: int, seed: int) -> tuple[Plan, PackingProblem]:
    """Plan a workspace; return the plan and the packing problem of its items."""
    workspace = read_workspace(folder)
    plan = plan_workspace(workspace, effort=effort, seed=seed)
    return plan, PackingProblem(items=plan.items, containers=workspace.containers, rules=plan.rules)


def with_spares(problem: PackingProblem, times: int) -> PackingProblem:
    """Return the problem with copies of all containers, so that nothing need be left out."""
    copies = [
        replace(container, id=f"{container.id}-spare-{number}", stacked_on=None)
        for number in range(times)
        for container in problem.containers
    ]
    return replace(problem, containers=(*problem.containers, *copies))


def as_boxes(problem: PackingProblem, *, careful: bool) -> PackingProblem:
    """Return the problem with every item as its bounding box, all else unchanged.

    Parameters
    ----------
    problem
        Items as solids.
    careful
        Whether nothing may rest on a box that its solid fills by less than 80 %. Without, a box
        is tender only if all of its solid is.
    """
    return replace(problem, items=tuple(_as_box(item, careful=careful) for item in problem.items))


def _as_box(item: Item, *, careful: bool) -> Item:
    box = bounds(item.cuboids_um)
    hollow = careful and 100 * volume(item.cuboids_um) < 80 * box.volume
    tender = hollow or len(item.tender) == len(item.cuboids_um)
    return replace(item, cuboids_um=(box,), tender=(0,) if tender else ())


def in_truth(problem: PackingProblem, packing: Packing) -> Packing:
    """Return an answer for boxes with the true solids where the boxes are."""
    items = {item.id: item for item in problem.items}
    return replace(
        packing,
        fills=tuple(
            replace(
                fill,
                placements=tuple(
                    replace(
                        spot,
                        cuboids_um=rotated(
                            items[spot.item].cuboids_um, spot.way_up, spot.turn, spot.at_um
                        )[0],
                    )
                    for spot in fill.placements
                ),
            )
            for fill in packing.fills
        ),
    )


@dataclass(kw_only=True)
class BoxJob(Job):
    """A job that knows no more of anything than its bounding box.

    Parameters
    ----------
    careful
        Whether nothing may rest on a box that its solid fills by less than 80 %.
    """

    careful: bool = False

    def __post_init__(self) -> None:
        """Box what is loose."""
        super().__post_init__()
        self.loose = tuple(_as_box(item, careful=self.careful) for item in self.loose)

    def item(self, build: Build, pieces: SubAssembly) -> Item | None:
        """Return the box of a sub-assembly, or None if it does not hold together."""
        item = super().item(build, pieces)
        return item and _as_box(item, careful=self.careful)


def searched(job: Job, *, effort: int, seed: int) -> State:
    """Search a job as the planner does, and return the best state."""
    search = Search(
        job=job,
        prefer=job.settings.prefer,
        seed=seed,
        effort=effort,
        stop=lambda: False,
        progress=lambda _share, _words: None,
    )
    return search.run(least_effort_split(job))


@app.command()
def whole_jobs(
    workspace: Annotated[Path, typer.Argument(help="Folder of the workspace.")],
    effort: Annotated[int, typer.Option(help="Effort of the planner.")] = DEFAULT_EFFORT,
    seeds: Annotated[int, typer.Option(help="How many seeds, from 0 on.")] = 3,
) -> None:
    """Plan the same workspace with true solids and with bounding boxes only; print both."""
    warm_up()
    read = read_workspace(workspace)
    containers = read.containers
    truth = Job(workspace=read, containers=containers)
    jobs = {
        "true solids": truth,
        "bounding boxes": BoxJob(workspace=read, containers=containers),
        "boxes, none on hollow ones": BoxJob(workspace=read, containers=containers, careful=True),
    }
    rows: list[tuple[object, ...]] = []
    volumes = {container.id: container.volume_um3 for container in containers}
    for name, seed in product(jobs, range(seeds)):
        state, took = timed(partial(searched, jobs[name], effort=effort, seed=seed))
        true = check(
            truth.problem(state.partition), in_truth(truth.problem(state.partition), state.packing)
        )
        rows.append(
            (
                name,
                seed,
                len(state.items) - len(state.packing.unpacked),
                len(state.packing.fills),
                f"{sum(volumes[fill.container] for fill in state.packing.fills) / 10**15:.1f}",
                truth.cost_s(state.partition),
                true.floating,
                took,
            )
        )
    show(
        f"{read.name}: whole jobs at effort {effort}",
        ("planned with", "seed", "packed", "containers", "litres", "effort s", "floating", "s"),
        rows,
        "Floating: items that in truth have less than the wanted share of their lowest faces on\n"
        "the floor or on others: no plan to load.",
    )


@app.command()
def compare(
    workspace: Annotated[Path, typer.Argument(help="Folder of the workspace.")],
    effort: Annotated[int, typer.Option(help="Effort of planner and packer.")] = 16,
    seed: int = 0,
    spares: Annotated[int, typer.Option(help="Copies of each container for the items.")] = 1,
) -> None:
    """Print litres and containers of the plan, of its items packed alone, and of their boxes."""
    warm_up()
    (plan, problem), seconds = timed(lambda: planned(workspace, effort=effort, seed=seed))
    rows: list[tuple[object, ...]] = [
        (
            "whole plan",
            len(plan.items) - len(plan.not_packed),
            plan.objective.containers,
            f"{plan.objective.volume_um3 / 10**15:.1f}",
            "-",
            "-",
            seconds,
        )
    ]
    problem = with_spares(problem, spares)
    volumes = {container.id: container.volume_um3 for container in problem.containers}
    for name, one in (
        ("its items as solids", problem),
        ("its items as boxes", as_boxes(problem, careful=False)),
        ("boxes, none on hollow ones", as_boxes(problem, careful=True)),
    ):
        packing, took = timed(partial(pack, one, effort=effort, seed=seed))
        own, true = check(one, packing), check(problem, in_truth(problem, packing))
        rows.append(
            (
                name,
                len(one.items) - len(packing.unpacked),
                len(packing.fills),
                f"{sum(volumes[fill.container] for fill in packing.fills) / 10**15:.1f}",
                own.total,
                true.floating,
                took,
            )
        )
    show(
        f"{plan.workspace}: {len(plan.items)} items, effort {effort}, seed {seed}",
        ("packed as", "packed", "containers", "litres", "faults", "floating in truth", "s"),
        rows,
        "Floating in truth: with the true solids where the boxes were put, items with less than\n"
        "the wanted share of their lowest faces on the floor or on others: no plan to load.",
    )


if __name__ == "__main__":
    app()
