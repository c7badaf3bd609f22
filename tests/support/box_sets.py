"""Boxes with copies at random, for the block engine."""

import random
from concurrent.futures import ThreadPoolExecutor

import numpy as np

from packdown.geometry import Cuboid
from packdown.packing.blocks import layout as at
from packdown.packing.blocks.beam import Beam
from packdown.packing.blocks.pool import Boxes, Stock, stock_of
from packdown.packing.kernels.block_types import Scene

Fill = tuple[list[tuple[int, Cuboid]], int]
"""The way of lying and the place of each box, and their volume."""


def random_boxes(seed: int, support_percent: int, most_copies: int = 6) -> Boxes:
    """Draw two to four kinds of box for a container of 30 x 20 x 18."""
    draw = random.Random(seed)
    lies = []
    kinds = draw.randint(2, 4)
    for kind in range(kinds):
        x, y, z = (draw.randint(4, 12) for _ in range(3))
        ways = {(x, y, z), (y, x, z)} | ({(x, z, y), (z, x, y)} if draw.random() < 0.5 else set())
        lies += [(kind, *way) for way in sorted(ways)]
    counts = np.array([draw.randint(1, most_copies) for _ in range(kinds)], np.int64)
    return Boxes(inner=(30, 20, 18), lies=lies, counts=counts, support_percent=support_percent)


def filled(boxes: Boxes, *, effort: int, most: int, threads: int = 2, rows: int = 1_024) -> Fill:
    """Search for a fill; return its boxes with their ways of lying, and the volume."""
    stock = stock_of(boxes, most)
    with ThreadPoolExecutor(threads) as pool:
        best = Beam(stock, pool, lambda: False, rows=rows).run(effort)
    return placed(stock, best), int(best.used[at.FILLED])


def placed(stock: Stock, scene: Scene) -> list[tuple[int, Cuboid]]:
    """Return the way of lying and the place of each box of a scene."""
    return [
        (lie, cuboid)
        for put in scene.placed.tolist()
        for lie, cuboid in _boxes(stock, put[at.PUT_BLOCK], put[:3])
    ]


def boxes_of(stock: Stock, block: int) -> list[tuple[int, Cuboid]]:
    """Return the way of lying and the place of each box of a block that begins at 0, 0, 0."""
    return _boxes(stock, block, [0, 0, 0])


def _boxes(stock: Stock, block: int, where: list[int]) -> list[tuple[int, Cuboid]]:
    x, y, z = where
    found = []
    for lie, x0, y0, z0 in stock.boxes(block, x, y, z):
        _, dx, dy, dz = stock.task.lies[lie].tolist()
        found.append((lie, Cuboid(x0, y0, z0, x0 + dx, y0 + dy, z0 + dz)))
    return found
