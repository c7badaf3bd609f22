"""Plain boxes, containers and rules for the benchmarks, and their tables."""

import time
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from rich.console import Console
from rich.table import Table

from benchmarks.checking import Faults, faults
from packdown.geometry import Cuboid, Solid, Vector, WayUp, bounds, volume
from packdown.model import (
    Container,
    Item,
    ItemKind,
    Packing,
    PackingProblem,
    Rules,
)
from packdown.packing import pack

__all__ = [
    "as_box",
    "check",
    "item_of",
    "open_rules",
    "plain_container",
    "show",
    "timed",
    "warm_up",
]

MUCH_G = 10**9
T = TypeVar("T")


def open_rules(*, support_percent: int, weight_limit_g: int = MUCH_G) -> Rules:
    """Return rules without groups, for problems of nothing but items and containers."""
    return Rules(
        support_percent=support_percent,
        shock_factor=1,
        joint_tolerance_um=0,
        weight_limit_g=weight_limit_g,
        place_s=0,
        effort_low=1.0,
        effort_high=1.0,
        key_weight_g=0,
    )


def item_of(
    name: str,
    solid: Solid,
    weight_g: int,
    *,
    ways_up: Iterable[WayUp] = tuple(WayUp),
    kind: ItemKind = ItemKind.LOOSE,
    carry_limit_g: int | None = None,
) -> Item:
    """Return an item of even density; its solid has the lower corner at the origin."""
    total = volume(solid)
    x, y, z = (
        sum(c.volume * (c[axis] + c[axis + 3]) for c in solid) // (2 * total) for axis in range(3)
    )
    return Item(
        id=name,
        name=name,
        kind=kind,
        build=None,
        pieces=(name,),
        keys=0,
        weight_g=weight_g,
        cuboids_um=solid,
        tender=tuple(range(len(solid))) if carry_limit_g == 0 else (),
        centre_um=(x, y, z),
        allowed_ways_up=tuple(ways_up),
        carry_limit_g=carry_limit_g or None,
        magnets=False,
    )


def as_box(size: Vector) -> Solid:
    """Return a box with its lower corner at the origin."""
    return (Cuboid(0, 0, 0, *size),)


def plain_container(
    name: str,
    inner_um: Vector,
    *,
    tare_g: int = 0,
    payload_g: int = MUCH_G,
    clearance_um: int = 0,
) -> Container:
    """Return a container without walls."""
    return Container(
        id=name,
        name=name,
        type="box",
        inner_um=inner_um,
        outer_um=inner_um,
        tare_g=tare_g,
        payload_g=payload_g,
        clearance_um=clearance_um,
    )


def check(problem: PackingProblem, packing: Packing) -> Faults:
    """Count the faults of an answer, container by container.

    Raises
    ------
    ValueError
        If an item is lost, there twice, or of another size than it was given.
    """
    sizes = {item.id: sorted(bounds(item.cuboids_um).size) for item in problem.items}
    for placement in (placement for fill in packing.fills for placement in fill.placements):
        if sorted(bounds(placement.cuboids_um).size) != sizes[placement.item]:
            raise ValueError(f"{placement.item} changed its size when it was turned")
    placed = [placement.item for fill in packing.fills for placement in fill.placements]
    if sorted([*placed, *packing.unpacked]) != sorted(item.id for item in problem.items):
        raise ValueError("the answer does not account for every item exactly once")
    inner = {container.id: container.inner_um for container in problem.containers}
    return sum(
        (
            faults(
                [placement.cuboids_um for placement in fill.placements],
                inner[fill.container],
                problem.rules.support_percent,
            )
            for fill in packing.fills
        ),
        Faults(),
    )


def warm_up() -> None:
    """Pack one box, so that loading the compiled loops is not counted."""
    cube = as_box((1_000, 1_000, 1_000))
    pack(
        PackingProblem(
            items=(item_of("cube", cube, 1),),
            containers=(plain_container("box", (2_000, 2_000, 2_000)),),
            rules=open_rules(support_percent=80),
        ),
        effort=1,
        seed=0,
    )


def timed(work: Callable[[], T]) -> tuple[T, float]:
    """Return what some work gives, and the seconds it took."""
    start = time.perf_counter()
    result = work()
    return result, time.perf_counter() - start


def show(title: str, head: Sequence[str], rows: Iterable[Sequence[object]], note: str = "") -> None:
    """Print one table and a note below it; numbers go to the right."""
    table = Table(title=title, title_justify="left")
    for index, name in enumerate(head):
        table.add_column(name, justify="left" if index == 0 else "right")
    for row in rows:
        table.add_row(*(f"{cell:.2f}" if isinstance(cell, float) else str(cell) for cell in row))
    console = Console(width=118, highlight=False)
    console.print(table)
    if note:
        console.print(note)
