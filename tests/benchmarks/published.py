"""The packer on both published problem sets: ``cd tests && python -m benchmarks.published``.

The packer keeps an item's centre of gravity inside its support, so that in the first set even the
least support asked for is more than "free" placement. In the second set items keep their published
orientation and need no support, but are still lowered from above.
"""

import time
from dataclasses import dataclass
from functools import partial
from typing import Annotated

import typer

from benchmarks.outside import run_py3dbp
from benchmarks.plain import (
    as_box,
    check,
    item_of,
    open_rules,
    plain_container,
    show,
    timed,
    warm_up,
)
from benchmarks.published_sets import (
    CONTAINER,
    BoxType,
    Size,
    bin_side,
    bischoff_ratcliff,
    martello_pisinger_vigo,
    volume_bound,
)
from packdown.geometry import Vector, WayUp, volume
from packdown.model import Packing, PackingProblem
from packdown.packing import layout, pack
from packdown.packing.kinds import kinds_of
from packdown.packing.placements import fills_of
from packdown.packing.search import Search

ENDLESS = 10**6
UM = 1_000  # one unit of length of the sets becomes one millimetre
FULL_BEST = {
    1: 94.74, 2: 95.38, 3: 95.65, 4: 95.48, 5: 95.33, 6: 95.23, 7: 94.66,
    8: 93.73, 10: 92.65, 12: 91.35, 15: 89.83,
}  # fmt: skip
"""Mean utilisation in %, full support, 150 s each: Araya, Guerrero, Nuñez (2017)."""
FEWEST_BINS = {
    (1, 50): 13.4, (1, 100): 26.6, (1, 150): 36.4, (1, 200): 50.9,
    (4, 50): 29.4, (4, 100): 58.9, (4, 150): 86.8, (4, 200): 118.8,
    (5, 50): 8.3, (5, 100): 15.0, (5, 150): 20.1, (5, 200): 27.1,
    (6, 50): 9.8, (6, 100): 19.0, (6, 150): 29.2, (6, 200): 37.4,
    (7, 50): 7.4, (7, 100): 12.3, (7, 150): 15.8, (7, 200): 23.5,
    (8, 50): 9.2, (8, 100): 18.8, (8, 150): 23.9, (8, 200): 29.8,
}  # fmt: skip
"""Best of the published mean numbers of bins over ten instances, fixed orientation; from memory."""

app = typer.Typer(add_completion=False)


def single_container(types: tuple[BoxType, ...], support_percent: int) -> PackingProblem:
    """Return an instance of the first set: one container, more boxes than may fit."""
    items = [
        item_of(
            f"type-{number}#{copy}",
            as_box(_um(kind.size)),
            1,
            ways_up=_ways_up(kind),
        )
        for number, kind in enumerate(types)
        for copy in range(kind.count)
    ]
    return PackingProblem(
        items=tuple(items),
        containers=(plain_container("container", _um(CONTAINER)),),
        rules=open_rules(support_percent=support_percent),
    )


def _ways_up(kind: BoxType) -> tuple[WayUp, ...]:
    """One way up for each side of a box that may stand upright."""
    sides = (WayUp.ON_LEFT, WayUp.ON_FRONT, WayUp.UPRIGHT)
    return tuple(way for way, may in zip(sides, kind.may_stand, strict=True) if may)


def identical_bins(sizes: tuple[Size, ...], side: int) -> PackingProblem:
    """Return an instance of the second set, with twice the bins of the lower bound."""
    items = [
        item_of(f"item-{number}", as_box(_um((w, d, h))), 1, ways_up=(WayUp.UPRIGHT,))
        for number, (w, h, d) in enumerate(sizes)
    ]
    bins = min(len(sizes), 2 * volume_bound(sizes, side))
    return PackingProblem(
        items=tuple(items),
        containers=tuple(
            plain_container(f"bin-{index}", _um((side, side, side))) for index in range(bins)
        ),
        rules=open_rules(support_percent=0),
    )


def packed_unturned(problem: PackingProblem, *, seconds: float, seed: int) -> Packing:
    """Pack items that keep the first of their poses, until the time is up."""
    end = time.monotonic() + seconds
    kinds = kinds_of(problem)
    kinds.kind_rows[:, layout.KIND_END] = kinds.kind_rows[:, layout.KIND_FIRST] + 1
    state = Search(kinds, seed, lambda: time.monotonic() > end).run(ENDLESS, lambda _: None)
    fills = fills_of(kinds, state.rows)
    packed = {placement.item for fill in fills for placement in fill.placements}
    return Packing(
        fills=fills, unpacked=tuple(item.id for item in problem.items if item.id not in packed)
    )


def _um(size: Size) -> Vector:
    length, width, height = size
    return (length * UM, width * UM, height * UM)


@app.command()
def single(
    classes: Annotated[list[int] | None, typer.Option("--class", help="0 to 15; 1, 4, 7.")] = None,
    instances: Annotated[int, typer.Option(help="The first so many of each class.")] = 3,
    effort: Annotated[int, typer.Option(help="Effort of the packer.")] = 16,
    support: Annotated[int, typer.Option(help="Per cent of each base.")] = 100,
    seed: int = 0,
) -> None:
    """Bischoff and Ratcliff: mean volume utilisation of one container."""
    warm_up()
    rows = []
    for number in classes or [1, 4, 7]:
        used, seconds, wrong = [], 0.0, 0
        for instance in range(1, instances + 1):
            problem = single_container(bischoff_ratcliff(number, instance), support)
            packing, took = timed(partial(pack, problem, effort=effort, seed=seed))
            found = check(problem, packing)
            wrong += found.total
            placed = sum(volume(p.cuboids_um) for f in packing.fills for p in f.placements)
            used.append(100 * placed / problem.containers[0].volume_um3)
            seconds += took
        mean = sum(used) / len(used)
        rows.append(
            (
                f"BR{number}",
                instances,
                mean,
                min(used),
                FULL_BEST.get(number, "-"),
                wrong,
                seconds / instances,
            )
        )
    show(
        f"One container, support {support} %, effort {effort}, seed {seed}",
        ("class", "instances", "mean %", "least %", "published full %", "faults", "s each"),
        rows,
        "Published: means of all 100 instances of a class, 150 s each, every base fully supported.",
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """What came of the instances of one class and number of items."""

    used: int
    least: int
    first: str
    left: int
    wrong: int
    took: float


def cell(number: int, items: int, instances: int, *, seconds: float, seed: int) -> Cell:
    """Pack the first instances of a class; the very first one with py3dbp as well."""
    used, least, took, left, wrong = [], 0, 0.0, 0, 0
    for instance in range(1, instances + 1):
        sizes = martello_pisinger_vigo(number, items, instance)
        problem = identical_bins(sizes, bin_side(number))
        packing, lasted = timed(partial(packed_unturned, problem, seconds=seconds, seed=seed))
        wrong += check(problem, packing).total
        used.append(len(packing.fills))
        least += volume_bound(sizes, bin_side(number))
        left += len(packing.unpacked)
        took += lasted
    first = identical_bins(martello_pisinger_vigo(number, items, 1), bin_side(number))
    beside = f"{used[0]} / {run_py3dbp(first, bigger_first=True).containers}"
    return Cell(sum(used), least, beside, left, wrong, took / instances)


@app.command()
def bins(
    classes: Annotated[list[int] | None, typer.Option("--class", help="1 to 8; all.")] = None,
    items: Annotated[list[int] | None, typer.Option(help="50, 100, 150, 200; all.")] = None,
    instances: Annotated[int, typer.Option(help="The first so many of each class.")] = 3,
    seconds: Annotated[float, typer.Option(help="Time for each instance.")] = 12.0,
    seed: int = 0,
) -> None:
    """Martello, Pisinger and Vigo: bins of fixed orientation, without support, over the bound."""
    warm_up()
    cells = {
        (number, size): cell(number, size, instances, seconds=seconds, seed=seed)
        for number in classes or range(1, 9)
        for size in items or (50, 100, 150, 200)
    }
    used, least = (sum(getattr(one, name) for one in cells.values()) for name in ("used", "least"))
    show(
        f"Identical bins, instances 1 to {instances}, {seconds:g} s each, seed {seed}",
        ("class, items", "bins", "L2", "ratio", "published", "ours / other", "left", "faults", "s"),
        [
            (
                f"{number}, {size}",
                one.used / instances,
                one.least / instances,
                one.used / one.least,
                FEWEST_BINS.get((number, size), "-"),
                one.first,
                one.left,
                one.wrong,
                one.took,
            )
            for (number, size), one in cells.items()
        ],
        f"All: {used} bins, {used / least:.4f} times L2 of the same instances. Published: means\n"
        "of all ten instances. Other: py3dbp on the first instance, turned freely, biggest first.",
    )


if __name__ == "__main__":
    app()
