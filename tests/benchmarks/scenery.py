"""Seeded collections of scenery to pack: ``cd tests && python -m benchmarks.scenery anytime``.

``first`` only times the first packing, ``run`` packs at a fixed effort, ``anytime`` at deadlines.
"""

import random
import resource
import time
from functools import partial
from itertools import product
from math import log
from typing import Annotated

import typer

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
from packdown.geometry import Cuboid, Solid, WayUp, bounds, volume
from packdown.model import Container, Item, ItemKind, PackingProblem, Piece
from packdown.packing import pack
from packdown.packing.bounds import container_bounds
from support.packing_problems import violations

MM = 1_000
SQUARE = 32 * MM
THICK = 8 * MM  # of floors and walls
STOREY = 60 * MM
STANDING = (WayUp.UPRIGHT, WayUp.UPSIDE_DOWN)
BOXES = {
    "large": ((544, 364, 242), 2_900),
    "flat": ((544, 364, 109), 1_900),
    "small": ((346, 265, 174), 1_500),
}
SIZES = ((100, 5), (300, 20), (1_000, 40), (10_000, 200))
PATIENCE = {300: (15, 45), 1_000: (60, 120)}
"""Seconds after which a collection of so many loose pieces is looked at again."""
ENDLESS = 10**6

app = typer.Typer(add_completion=False)


def scenery(loose: int, assemblies: int, *, seed: int, mixed: bool) -> PackingProblem:
    """Return a collection of loose pieces and rooms with boxes enough for them.

    Parameters
    ----------
    loose
        Number of loose pieces, of eight parts.
    assemblies
        Number of sub-assemblies: floors with walls on some sides, some of two storeys.
    seed
        The same seed gives the same collection.
    mixed
        Whether boxes of three sizes are at hand or small ones alone.
    """
    rng = random.Random(seed)
    items = [_room(f"room-{number}", rng) for number in range(assemblies)]
    items += [_loose(number, rng) for number in range(loose)]
    return PackingProblem(
        items=tuple(items),
        containers=_boxes(items, mixed=mixed),
        rules=open_rules(support_percent=80, weight_limit_g=15_000),
    )


def _boxes(items: list[Item], *, mixed: bool) -> tuple[Container, ...]:
    """Return boxes with three times the volume of the bounding boxes of the items."""
    wanted = 3 * sum(bounds(item.cuboids_um).volume for item in items)
    names = tuple(BOXES) if mixed else ("small",)
    boxes: list[Container] = []
    while sum(box.volume_um3 for box in boxes) < wanted or len(boxes) < len(names):
        name = names[len(boxes) % len(names)]
        (length, width, height), tare = BOXES[name]
        inner = (length * MM, width * MM, height * MM)
        boxes.append(
            plain_container(
                f"{name}-{len(boxes)}", inner, tare_g=tare, payload_g=20_000, clearance_um=2 * MM
            )
        )
    return tuple(boxes)


def _weight(solid: Solid) -> int:
    """Grams at 0.6 g/cm3: hollow prints and foam cores."""
    return max(1, volume(solid) * 6 // 10**13)


def _loose(number: int, rng: random.Random) -> Item:
    parts: dict[str, Solid] = {
        "floor": as_box((2 * SQUARE, 2 * SQUARE, THICK)),
        "plaza": as_box((4 * SQUARE, 4 * SQUARE, THICK)),
        "hill": (
            Cuboid(0, 0, 0, 4 * SQUARE, 3 * SQUARE, 2 * THICK),
            Cuboid(SQUARE, SQUARE // 2, 2 * THICK, 3 * SQUARE, 2 * SQUARE, 5 * THICK),
        ),
        "wall": as_box((2 * SQUARE, THICK, STOREY)),
        "post": as_box((THICK, THICK, STOREY)),
        "corner": (
            Cuboid(0, 0, 0, SQUARE, THICK, STOREY),
            Cuboid(0, THICK, 0, THICK, SQUARE, STOREY),
        ),
        "stair": tuple(
            Cuboid(step * SQUARE // 2, 0, 0, (step + 1) * SQUARE // 2, SQUARE, (step + 1) * 15 * MM)
            for step in range(4)
        ),
        "tree": (
            Cuboid(0, 0, 0, SQUARE, SQUARE, 3 * MM),
            Cuboid(12 * MM, 12 * MM, 3 * MM, 20 * MM, 20 * MM, 40 * MM),
            Cuboid(0, 0, 40 * MM, SQUARE, SQUARE, 80 * MM),
        ),
    }
    name = rng.choices(tuple(parts), weights=(30, 10, 5, 25, 10, 8, 7, 5))[0]
    tender = name == "tree"
    return item_of(
        f"{name}#{number}",
        parts[name],
        _weight(parts[name]),
        ways_up=(WayUp.UPRIGHT,) if tender else tuple(WayUp),
        carry_limit_g=0 if tender else 3_000,
    )


def _room(name: str, rng: random.Random) -> Item:
    """Return a floor with walls on two to four sides and, now and then, a second storey."""
    length, width = rng.randint(3, 7) * SQUARE, rng.randint(3, 6) * SQUARE
    sides = rng.sample(range(4), rng.randint(2, 4))
    solid = [Cuboid(0, 0, 0, length, width, THICK)]
    for storey in range(1 + (rng.random() < 0.25)):
        foot = THICK + storey * (STOREY + THICK)
        if storey:
            solid.append(Cuboid(0, 0, foot - THICK, length, width, foot))
        solid += _walls(length, width, foot, sides)
    return item_of(
        name,
        tuple(solid),
        _weight(tuple(solid)),
        ways_up=STANDING,
        kind=ItemKind.SUB_ASSEMBLY,
        carry_limit_g=6_000,
    )


def _walls(length: int, width: int, foot: int, sides: list[int]) -> list[Cuboid]:
    """Return walls along the sides: front and back over the whole length, the others between."""
    near, far = THICK * (0 in sides), width - THICK * (1 in sides)
    top = foot + STOREY
    walls = (
        Cuboid(0, 0, foot, length, THICK, top),
        Cuboid(0, width - THICK, foot, length, width, top),
        Cuboid(0, near, foot, THICK, far, top),
        Cuboid(length - THICK, near, foot, length, far, top),
    )
    return [walls[side] for side in sorted(sides)]


def as_piece(item: Item) -> Piece:
    """Return an item as one loose piece, for the bounds."""
    return Piece(
        id=item.id,
        part=item.id,
        name=item.name,
        build=None,
        weight_g=item.weight_g,
        cuboids_um=item.cuboids_um,
        core_um=item.cuboids_um,
        ways_up=item.allowed_ways_up,
    )


@app.command()
def first(
    seed: int = 0,
    largest: Annotated[int, typer.Option(help="Leave out collections of more loose pieces.")] = (
        10_000
    ),
) -> None:
    """Time the first complete packing of each collection, all rules kept, then stop."""
    warm_up()
    rows = []
    for loose, assemblies in SIZES:
        for mixed in (False, True):
            if loose > largest:
                continue
            problem = scenery(loose, assemblies, seed=seed, mixed=mixed)
            packing, seconds = timed(partial(pack, problem, effort=1, seed=seed, stop=lambda: True))
            rows.append(
                (
                    f"{loose} + {assemblies}, {'mixed' if mixed else 'alike'}",
                    len(packing.fills),
                    len(packing.unpacked),
                    check(problem, packing).total,
                    seconds,
                    resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024,
                )
            )
    show(
        f"First packing, seed {seed}",
        ("collection", "boxes", "left", "faults", "s", "MiB at most so far"),
        rows,
        "Loose pieces + sub-assemblies; faults by an independent check, which is not timed.",
    )


@app.command()
def anytime(
    seed: int = 0,
    largest: Annotated[int, typer.Option(help="Leave out collections of more loose pieces.")] = (
        10_000
    ),
) -> None:
    """Time the first verified packing, then see whether ever more time saves a container."""
    warm_up()
    rows, firsts = [], {}
    for (loose, assemblies), mixed in product(SIZES, (False, True)):
        if loose > largest:
            continue
        problem = scenery(loose, assemblies, seed=seed, mixed=mixed)
        packing, packed = timed(partial(pack, problem, effort=1, seed=seed, stop=lambda: True))
        broken, verified = timed(partial(violations, problem, packing))
        firsts[loose, mixed] = packed
        boxes = [len(packing.fills)]
        for seconds in PATIENCE.get(loose, ()):
            end = time.monotonic() + seconds
            later = pack(
                problem,
                effort=ENDLESS,
                seed=seed,
                stop=lambda: time.monotonic() > end,  # noqa: B023
            )
            boxes.append(len(later.fills))
        rows.append(
            (
                f"{loose} + {assemblies}, {'mixed' if mixed else 'alike'}",
                packed,
                packed + verified,
                len(broken),
                " -> ".join(str(number) for number in boxes),
                ", ".join(f"{seconds} s" for seconds in PATIENCE.get(loose, ())),
                resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024,
            )
        )
    growth = [
        f"{'mixed' if mixed else 'alike'} n^{_exponent(firsts, mixed=mixed):.2f}"
        for mixed in (False, True)
        if (10_000, mixed) in firsts
    ]
    show(
        f"Scenery as time goes by, seed {seed}",
        ("collection", "first s", "verified s", "broken", "boxes", "then after", "MiB at most"),
        rows,
        "Loose pieces + sub-assemblies; all rules of packing verified. Growth of the time to the\n"
        f"first packing from 300 to 10,000 pieces: {', '.join(growth) or 'not measured'}.",
    )


def _exponent(firsts: dict[tuple[int, bool], float], *, mixed: bool) -> float:
    """Return the power of the number of items that the time to the first packing grows with."""
    small, large = (sum(size) for size in (SIZES[1], SIZES[3]))
    return log(firsts[10_000, mixed] / firsts[300, mixed]) / log(large / small)


@app.command()
def run(
    effort: Annotated[int, typer.Option(help="Effort of the packer.")] = 16,
    seed: int = 0,
    largest: Annotated[int, typer.Option(help="Leave out collections of more loose pieces.")] = 300,
) -> None:
    """Pack collections of several sizes into boxes alike and mixed."""
    warm_up()
    rows = []
    for loose, assemblies in SIZES:
        for mixed in (False, True):
            if loose > largest:
                continue
            problem = scenery(loose, assemblies, seed=seed, mixed=mixed)
            packing, seconds = timed(partial(pack, problem, effort=effort, seed=seed))
            least = container_bounds(
                [as_piece(item) for item in problem.items],
                problem.containers,
                problem.rules,
                bagged=(),
            )
            found = check(problem, packing)
            inner = {box.id: box.volume_um3 for box in problem.containers}
            used = sum(inner[fill.container] for fill in packing.fills)
            inside = sum(volume(p.cuboids_um) for f in packing.fills for p in f.placements)
            rows.append(
                (
                    f"{loose} + {assemblies}, {'mixed' if mixed else 'alike'}",
                    len(packing.fills),
                    least.containers,
                    f"{used / 10**15:.1f}",
                    f"{least.volume_um3 / 10**15:.1f}",
                    f"{100 * inside / used:.1f}",
                    len(packing.unpacked),
                    found.total,
                    seconds,
                )
            )
    show(
        f"Scenery, effort {effort}, seed {seed}",
        ("collection", "boxes", "bound", "litres", "bound", "% full", "left", "faults", "s"),
        rows,
        "Loose pieces + sub-assemblies; bounds by counting; faults by an independent check.",
    )


if __name__ == "__main__":
    app()
