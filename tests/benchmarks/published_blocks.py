"""The block engine on the published single-container set.

``cd tests && python -m benchmarks.published_blocks --support 0 --first 21 --last 30``

Support 0 is what the publications call free placement. Every fill is checked for boxes outside,
overlaps, too little support and boxes that there are not, by a look that knows nothing of blocks.
"""

import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from typing import Annotated

import numpy as np
import typer

from benchmarks.checking import Faults, faults
from benchmarks.outside import run_py3dbp
from benchmarks.plain import show
from benchmarks.published import UM, single_container
from benchmarks.published_sets import CONTAINER, BoxType, bischoff_ratcliff
from packdown.geometry import Cuboid
from packdown.packing.blocks import layout as at
from packdown.packing.blocks.beam import Beam
from packdown.packing.blocks.pool import Boxes, Lie, Stock, stock_of
from packdown.packing.kernels.block_types import Scene

PUBLISHED = {
    0: {1: 95.62, 2: 96.19, 3: 96.44, 4: 96.48, 5: 96.30, 6: 96.29, 7: 96.01},
    100: {1: 94.58, 2: 95.20, 3: 95.38, 4: 95.22, 5: 95.08, 6: 94.89, 7: 94.34},
}
"""Mean utilisation in % of all 100 instances, 30 s each: Araya, Guerrero, Nunez (2017)."""
VOLUME = CONTAINER[0] * CONTAINER[1] * CONTAINER[2]

app = typer.Typer(add_completion=False)


def boxes_of(types: tuple[BoxType, ...], support_percent: int) -> Boxes:
    """Return an instance: each type of box in every way it may stand, turned both ways."""
    lies = {
        (kind, *flat, size[up]): None
        for kind, (size, may_stand) in enumerate((one.size, one.may_stand) for one in types)
        for up in range(3)
        if may_stand[up]
        for flat in (_without(size, up), _without(size, up)[::-1])
        if all(a <= b for a, b in zip((*flat, size[up]), CONTAINER, strict=True))
    }
    return Boxes(
        inner=CONTAINER,
        lies=tuple(lies),
        counts=np.array([one.count for one in types], np.int64),
        support_percent=support_percent,
    )


def _without(size: tuple[int, int, int], up: int) -> tuple[int, int]:
    first, second = (size[axis] for axis in range(3) if axis != up)
    return first, second


def wrong_with(stock: Stock, best: Scene, asked: Boxes) -> int:
    """Count the faults of a fill."""
    lies: list[Lie] = []
    solids = []
    for put in best.placed.tolist():
        for lie, x, y, z in stock.boxes(put[at.PUT_BLOCK], *put[:3]):
            lies.append(asked.lies[lie])
            _, dx, dy, dz = asked.lies[lie]
            solids.append((Cuboid(x, y, z, x + dx, y + dy, z + dz),))
    found: Faults = faults(solids, CONTAINER, asked.support_percent)
    taken = Counter(lie[0] for lie in lies)
    too_many = sum(number > asked.counts[kind] for kind, number in taken.items())
    filled = sum(solid[0].volume for solid in solids)
    return found.total + int(too_many) + int(filled != best.used[at.FILLED])


def solved(asked: Boxes, seconds: float) -> tuple[float, int, float, float]:
    """Return per cent of the container filled, faults, and seconds by the clock and of work."""
    start, work = time.perf_counter(), time.process_time()
    with ThreadPoolExecutor(2) as threads:
        stock = stock_of(asked)
        best = Beam(stock, threads, lambda: time.perf_counter() - start > seconds).run(2**62)
    took, worked = time.perf_counter() - start, time.process_time() - work
    wrong = wrong_with(stock, best, asked)
    return 100 * int(best.used[at.FILLED]) / VOLUME, wrong, took, worked


@app.command()
def run(
    classes: Annotated[list[int] | None, typer.Option("--class", help="0 to 15; 1 to 7.")] = None,
    first: Annotated[int, typer.Option(help="First instance of each class.")] = 1,
    last: Annotated[int, typer.Option(help="Last instance of each class.")] = 3,
    seconds: Annotated[float, typer.Option(help="For each instance, on two cores.")] = 30.0,
    support: Annotated[int, typer.Option(help="Per cent of each base; 0 lets boxes float.")] = 100,
) -> None:
    """Print the mean utilisation of each class, and of all."""
    solved(boxes_of(bischoff_ratcliff(1, 1), support), 0.1)  # loads the compiled loops
    rows: list[tuple[object, ...]] = []
    means = []
    for number in classes or range(1, 8):
        found = [
            solved(boxes_of(bischoff_ratcliff(number, instance), support), seconds)
            for instance in range(first, last + 1)
        ]
        used, wrong, took, worked = zip(*found, strict=True)
        means.append(sum(used) / len(used))
        published = PUBLISHED.get(support, {}).get(number, "-")
        other = run_py3dbp(
            single_container(bischoff_ratcliff(number, first), support), bigger_first=True
        )
        least, each = min(used), len(used)
        rows.append(
            (
                f"BR{number}",
                means[-1],
                least,
                published,
                100 * other.placed_um3 / (VOLUME * UM**3),
                sum(wrong),
                sum(took) / each,
                sum(worked) / each,
            )
        )
    rows.append(("all", sum(means) / len(means), "", "", "", "", "", ""))
    show(
        f"Blocks in one container, instances {first} to {last}, support {support} %",
        (
            "class",
            "mean %",
            "least %",
            "published %",
            "py3dbp %",
            "faults",
            "s each",
            "work s each",
        ),
        rows,
        "Published: means of all 100 instances of a class, 30 s each. py3dbp: the first instance,\n"
        "any side up, biggest first, without support.",
    )


if __name__ == "__main__":
    app()
