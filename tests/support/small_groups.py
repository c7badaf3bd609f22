"""Small random groups of items for a few containers, with rules that a proof can follow."""

import random
from dataclasses import replace

from packdown.geometry import Vector, WayUp
from packdown.model import Container, Item, PackingProblem
from support.packing_problems import block, crate, problem, solid_item

__all__ = ["small_group"]

SIDES = (WayUp.UPRIGHT, WayUp.ON_LEFT, WayUp.ON_FRONT)


def small_group(seed: int, most_items: int = 10) -> PackingProblem:
    """Draw four to ten items, boxes and solids shaped like an L or a U, and their containers.

    There are two to four containers of mixed sizes, with clearance and limits of weight in some
    cases. Nothing need be supported, so that the packer and a proof solve the same problem.
    """
    draw = random.Random(seed)
    containers = _containers(draw)
    side = max(max(container.inner_um) for container in containers) // 1_000
    items: list[Item] = []
    for number in range(draw.randint(4, most_items)):
        item = _item(draw, f"item-{number}", side)
        if items and draw.random() < 0.25:
            twin = draw.choice(items)
            item = replace(twin, id=f"item-{number}", pieces=(f"item-{number}",))
        items.append(item)
    names = [item.id for item in items]
    apart = (tuple(draw.sample(names, 2)),) if draw.random() < 0.15 else ()
    together = (tuple(draw.sample(names, 2)),) if draw.random() < 0.15 else ()
    return problem(items, containers, support_percent=0, keep_apart=apart, keep_together=together)


def _containers(draw: random.Random) -> list[Container]:
    clearance = draw.choice((0, 0, 1_000, 2_000))
    payload = draw.choice((10_000, 10_000, 900, 600))
    sizes: list[Vector] = []
    for _ in range(draw.randint(2, 4)):
        if sizes and draw.random() < 0.4:
            sizes.append(draw.choice(sizes))
        else:
            sizes.append((draw.randint(60, 120), draw.randint(50, 100), draw.randint(40, 80)))
    return [
        crate(f"crate-{number}", size, clearance_um=clearance, payload_g=payload)
        for number, size in enumerate(sizes)
    ]


def _item(draw: random.Random, name: str, side: int) -> Item:
    length, width, height = (draw.randint(side // 6, side * 3 // 5) for _ in range(3))
    ways = draw.choice((tuple(WayUp), SIDES, (WayUp.UPRIGHT,)))
    weight = draw.randint(20, 300)
    if draw.random() < 0.6:
        return block(name, (length, width, height), weight, allowed_ways_up=ways)
    thick = max(4, height // 4)
    wall = max(4, length // 5)
    cuboids = [
        (0, 0, 0, length, width, thick),
        (0, 0, thick, wall, width, height),
    ]
    if draw.random() < 0.5:
        cuboids.append((length - wall, 0, thick, length, width, height))
    return solid_item(name, cuboids, weight, allowed_ways_up=ways)
