"""Few cuboids for many cells."""

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import Cuboid, Solid
from packdown.measuring.kernels import take_boxes
from packdown.measuring.mesh import Indices

__all__ = ["boxes_of", "with_fewer_planes"]

Cells = NDArray[np.uint8]
Lines = tuple[Indices, ...]
ROUNDS = 24
"""In each round at most one in so many planes is given up."""


def boxes_of(cells: Cells, lines: Lines, most: int) -> Solid | None:
    """Fill the marked cells with disjoint cuboids; None if it takes more than so many."""
    boxes = np.zeros((most, 6), np.int64)
    xs, ys, zs = (line.astype(np.float64) for line in lines)
    count = take_boxes(np.ascontiguousarray(cells).copy(), xs, ys, zs, boxes)
    if count < 0:
        return None
    found = [[int(lines[a % 3][row[a]]) for a in range(6)] for row in boxes[:count]]
    return tuple(sorted(Cuboid(*row) for row in found))


def with_fewer_planes(cells: Cells, lines: Lines, most: int) -> Solid:
    """Fill the marked cells with at most so many disjoint cuboids, and with as little air.

    Where they take more, planes of the grid are given up: two layers become one that is marked
    where either was. The planes that add the least air go first.
    """
    while True:
        solid = boxes_of(cells, lines, most)
        if solid is not None:
            return solid
        cells, lines = _drop(cells, lines)


def _drop(cells: Cells, lines: Lines) -> tuple[Cells, Lines]:
    """Give up the planes that cost the least air: all that cost none, or a few."""
    costs = sorted(
        (cost, axis, plane)
        for axis in range(3)
        for plane, cost in enumerate(_costs(cells, lines, axis), start=1)
    )
    free = sum(cost == 0 for cost, _, _ in costs)
    chosen: list[tuple[int, int]] = []
    for _, axis, plane in costs[: free or max(1, len(costs) // ROUNDS)]:
        if (axis, plane - 1) not in chosen and (axis, plane + 1) not in chosen:
            chosen.append((axis, plane))
    for axis in range(3):
        gone = sorted(plane for a, plane in chosen if a == axis)
        if gone:
            cells = _join(cells, axis, gone)
            lines = tuple(
                np.delete(line, gone) if a == axis else line for a, line in enumerate(lines)
            )
    return cells, lines


def _costs(cells: Cells, lines: Lines, axis: int) -> list[int]:
    """Return for each inner plane across an axis the air that giving it up adds."""
    turned = np.moveaxis(cells, axis, 0)
    wide, *others = (np.diff(lines[a]).astype(np.float64) for a in _turn(axis))
    before, after = turned[:-1], turned[1:]
    only_after = ((after > before) @ others[1]) @ others[0]
    only_before = ((before > after) @ others[1]) @ others[0]
    return [round(cost) for cost in only_after * wide[:-1] + only_before * wide[1:]]


def _turn(axis: int) -> tuple[int, ...]:
    """Return the axes in the order that `moveaxis` leaves them in."""
    return (axis, *(a for a in range(3) if a != axis))


def _join(cells: Cells, axis: int, planes: list[int]) -> Cells:
    """Join the layers before and after each of some planes, no two of which are neighbours."""
    turned = np.moveaxis(cells, axis, 0).copy()
    for plane in planes:
        turned[plane - 1] |= turned[plane]
    return np.ascontiguousarray(np.moveaxis(np.delete(turned, planes, axis=0), 0, axis))
