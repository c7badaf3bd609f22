"""A small honest packer: the lowest, then foremost place that holds each item up."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from packdown.geometry import (
    Cuboid,
    Solid,
    WayUp,
    bounds,
    drop_height,
    lowest_faces,
    overlap,
    rests_on,
    rotated,
    size,
    volume,
)
from packdown.model import Item, Lining, PackedContainer, Placement

__all__ = ["packed"]

MM = 1_000


def _place(item: Item, container: PackedContainer, fill: Sequence[Placement]) -> Placement | None:
    """The lowest, then foremost place that holds the item up; an honest small packer."""
    gap = container.clearance_um
    length, width, height = container.inner_um
    lying = [(p, bounds(p.cuboids_um)) for p in fill]
    below = [c for p in fill for c in p.cuboids_um]
    steps = [gap + 16 * MM * n for n in range(40)]
    xs = sorted({gap, *(box.x1 + gap for _, box in lying), *steps})
    ys = sorted({gap, *(box.y1 + gap for _, box in lying), *steps})
    best: tuple[tuple[int, int, int], WayUp, int] | None = None
    for way, turn in product(item.allowed_ways_up, (0, 90)):
        flat, _ = rotated(item.cuboids_um, way, turn)
        own = size(flat)
        for x, y in product(xs, ys):
            if x + own[0] + gap > length or y + own[1] + gap > width:
                continue
            moved = tuple(c.moved(x, y, 0) for c in flat)
            z = drop_height(moved, below, clearance=gap)
            if z + own[2] > height or (best and (z, y, x) >= best[0]):
                continue
            if z == 0 or _support(tuple(c.moved(0, 0, z) for c in moved), below) >= 0.8:
                best = ((z, y, x), way, turn)
    if best is None:
        return None
    (z, y, x), way, turn = best
    solid, _ = rotated(item.cuboids_um, way, turn, (x, y, z))
    under = [p.layer for p in fill if rests_on(solid, p.cuboids_um)]
    return Placement(
        item=item.id,
        at_um=(x, y, z),
        way_up=way,
        turn=turn,
        cuboids_um=solid,
        support=1.0 if z == 0 else _support(solid, below),
        layer=1 + max(under, default=0),
    )


def _support(solid: Solid, below: Sequence[Cuboid]) -> float:
    faces = lowest_faces(solid)
    low = bounds(solid).z0
    held = rests_on([c for c in solid if c.z0 == low], below)
    return sum(rect.area for rect in held) / sum(rect.area for rect in faces)


def packed(
    items: Sequence[Item], containers: Sequence[PackedContainer]
) -> tuple[list[PackedContainer], list[str]]:
    fills: list[list[Placement]] = [[] for _ in containers]
    left = []
    for n, item in enumerate(sorted(items, key=lambda i: (-volume(i.cuboids_um), i.id))):
        pairs = list(zip(containers, fills, strict=True))
        for container, fill in pairs[n % 2 :] + pairs[: n % 2]:
            if item.magnets != (container.lining is Lining.STEEL):
                continue
            placement = _place(item, container, fill)
            if placement:
                assert not any(overlap(placement.cuboids_um, p.cuboids_um) for p in fill)
                fill.append(placement)
                break
        else:
            left.append(item.id)
    return [replace(c, fill=tuple(f)) for c, f in zip(containers, fills, strict=True)], left
