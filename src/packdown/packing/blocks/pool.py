"""The pool of blocks for one container, and how a block comes apart again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd

import numpy as np
from numpy.typing import NDArray

from packdown.packing.blocks import layout as at
from packdown.packing.kernels.block_pool import copies, joins
from packdown.packing.kernels.block_types import Pool, Task

__all__ = ["MOST_BLOCKS", "Boxes", "Lie", "Stock", "stock_of"]

MOST_BLOCKS = 10_000
"""Joins are made until the pool has this many blocks; single boxes and copies always go in."""
LEAST_FILLED = 0.98
"""Share of a join that must be filled."""
FINEST = 1_024
"""Units along the longest side in which sums of sides are told apart, at most."""
FEW_BOXES = 0.2
"""Exponent by which many boxes lower the worth of a block."""

Ints = NDArray[np.int64]
Lie = tuple[int, int, int, int]
"""A kind of box, and its length, width and height in one way it may lie."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxes:
    """What is to be packed into one container.

    Parameters
    ----------
    inner
        Length, width and height of the container.
    lies
        The ways in which kinds of boxes may lie.
    counts
        How many boxes there are of each kind.
    support_percent
        Least support of each base; 0 lets boxes float, 100 lays blocks on full tops only.
    across
        Whether a box may lie across neighbours of equal height.
    """

    inner: tuple[int, int, int]
    lies: Sequence[Lie]
    counts: Ints
    support_percent: int
    across: bool = True


@dataclass(frozen=True, slots=True)
class Stock:
    """Boxes made ready for the compiled loops: the container, all blocks, and their parts."""

    task: Task
    pool: Pool
    counts: Ints
    parts: Ints
    place: Ints

    def boxes(self, block: int, x: int, y: int, z: int) -> Iterator[tuple[int, int, int, int]]:
        """Yield the way of lying, x, y and z of each box of a block at a place."""
        stack = [(int(self.place[block]), x, y, z)]
        while stack:
            row, x, y, z = stack.pop()
            first, second, *shift = (int(number) for number in self.parts[row])
            if first >= 0:
                stack.append((second, x + shift[0], y + shift[1], z + shift[2]))
                stack.append((first, x, y, z))
                continue
            lie = -1 - first
            size = self.task.lies[lie, 1:]
            for index in np.ndindex(*shift):
                dx, dy, dz = (int(number) for number in size * index)
                yield lie, x + dx, y + dy, z + dz


def stock_of(boxes: Boxes, most: int = MOST_BLOCKS) -> Stock:
    """Return the pool of blocks for some boxes and a container."""
    task = _task(boxes)
    blocks, counts, parts = _grown(task, boxes, most)
    worth = blocks[:, at.VOLUME] * blocks[:, at.BOXES] ** -FEW_BOXES
    place = np.argsort(-worth, kind="stable")
    block, kind = counts[place].nonzero()
    first_need = np.searchsorted(block, np.arange(len(place) + 1)).astype(np.int64)
    needs = np.stack((kind, counts[place[block], kind]), axis=1).astype(np.int64)
    stands = _feet(task, parts) if 0 < boxes.support_percent < 100 else [[]] * len(blocks)
    first_foot, feet = _ragged([np.array(stands[row], np.int64).reshape(-1, 4) for row in place], 4)
    pool = Pool(
        np.ascontiguousarray(blocks[place]), worth[place], first_need, needs, first_foot, feet
    )
    return Stock(task, pool, boxes.counts, parts, place)


def _task(boxes: Boxes) -> Task:
    longest = max(boxes.inner)
    unit = gcd(*boxes.inner, *(side for lie in boxes.lies for side in lie[1:]))
    unit = max(unit, -(-longest // FINEST))
    sides = sorted(
        {(axis, lie[0], -(-lie[axis + 1] // unit)) for lie in boxes.lies for axis in range(3)}
    )
    return Task(
        np.array([*boxes.inner, boxes.support_percent, boxes.across, unit, 1, 1, 1], np.int64),
        np.array(boxes.lies, np.int64).reshape(-1, at.LIE_COLUMNS),
        np.array(sides, np.int64).reshape(-1, at.SIDE_COLUMNS),
        np.zeros(at.WEIGHTS),
    )


def _grown(task: Task, boxes: Boxes, most: int) -> tuple[Ints, Ints, Ints]:
    """Make single boxes, then copies, then joins until the pool is full or nothing is new."""
    lies = len(boxes.lies)
    quota = max(1, most // (2 * max(1, lies)))
    size = most + lies
    while True:
        blocks = np.zeros((size, at.BLOCK_COLUMNS), np.int64)
        counts = np.zeros((size, len(boxes.counts)), np.int64)
        parts = np.zeros((size, at.PART_COLUMNS), np.int64)
        table = np.full(4 * size, -1, np.int64)
        lie = task.lies
        blocks[:lies, at.SIZE_X : at.SIZE_Z + 1] = lie[:, at.LIE_LENGTH :]
        blocks[:lies, at.TOP_X1], blocks[:lies, at.TOP_Y1] = lie[:, 1], lie[:, 2]
        blocks[:lies, at.VOLUME] = lie[:, 1] * lie[:, 2] * lie[:, 3]
        blocks[:lies, at.BOXES] = 1
        counts[np.arange(lies), lie[:, at.LIE_KIND]] = 1
        parts[:lies] = [[-1 - row, -1, 1, 1, 1] for row in range(lies)]
        end = lies
        for row in range(lies):
            end = copies(task, boxes.counts, blocks, counts, parts, table, row, end, quota)
            if end == at.NO_ROOM:
                break
        if end != at.NO_ROOM:
            break
        size *= 2
    newest = 0
    while newest < end < size:
        newest, end = (
            end,
            joins(task, boxes.counts, blocks, counts, parts, table, newest, end, LEAST_FILLED),
        )
    return blocks[:end], counts[:end], parts[:end]


def _ragged(rows: Sequence[Ints], columns: int) -> tuple[Ints, Ints]:
    """Return the first row of each part, one more, and all rows in one array."""
    first = np.cumsum([0, *(len(own) for own in rows)])
    return first.astype(np.int64), np.concatenate([np.zeros((0, columns), np.int64), *rows])


def _feet(task: Task, parts: Ints) -> list[list[tuple[int, int, int, int]]]:
    """Return the rectangles on which each block stands."""
    feet: list[list[tuple[int, int, int, int]]] = []
    for first, second, x, y, z in parts.tolist():
        if first < 0:
            _, dx, dy, _ = task.lies[-1 - first].tolist()
            feet.append(
                [(i * dx, j * dy, (i + 1) * dx, (j + 1) * dy) for i in range(x) for j in range(y)]
            )
        elif z > 0:
            feet.append(feet[first])
        else:
            feet.append(
                [
                    *feet[first],
                    *((x0 + x, y0 + y, x1 + x, y1 + y) for x0, y0, x1, y1 in feet[second]),
                ]
            )
    return feet
