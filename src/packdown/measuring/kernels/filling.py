"""Which cells lie inside, and the boxes that they fill."""

import numpy as np
from numba import float64, int64, uint8, void
from numpy.typing import NDArray

from packdown.measuring.kernels.compiled import (
    BoxesType,
    BoxType,
    Cells,
    CellsType,
    Floats,
    Ints,
    LineType,
    TrianglesType,
    TurnsType,
    compiled,
    last_cell,
)
from packdown.measuring.kernels.marking import describe

__all__ = ["count_windings", "fill_voids", "take_boxes"]


@compiled(uint8(float64, float64, float64, float64, float64, float64))
def left_of(px: float, py: float, qx: float, qy: float, x: float, y: float) -> bool:
    """Whether a point lies left of an edge; two triangles that share an edge always agree."""
    if (px, py) < (qx, qy):
        return (qx - px) * (y - py) - (qy - py) * (x - px) >= 0.0
    return (px - qx) * (y - qy) - (py - qy) * (x - qx) < 0.0


@compiled(void(TrianglesType, LineType, LineType, LineType, TurnsType))
def count_windings(
    triangles: Floats, xs: Floats, ys: Floats, zs: Floats, turns: NDArray[np.int16]
) -> None:
    """Count for every cell how often the surface goes round its middle, by rays upwards.

    ``xs``, ``ys`` and ``zs`` are middles of cells here, so that only cells which no triangle meets
    are sure of their number; ``turns`` starts as zeros.
    """
    low, high, normal = np.empty(3), np.empty(3), np.empty(3)
    for t in range(len(triangles)):
        corners = triangles[t]
        if describe(corners, low, high, normal) == 0.0 or normal[2] == 0.0:
            continue
        for i in range(last_cell(xs, low[0]) + 1, last_cell(xs, high[0]) + 1):
            for j in range(last_cell(ys, low[1]) + 1, last_cell(ys, high[1]) + 1):
                left = 0
                for e in range(3):
                    p, q = corners[e], corners[(e + 1) % 3]
                    left += left_of(p[0], p[1], q[0], q[1], xs[i], ys[j])
                if left not in (0, 3):
                    continue
                slope = normal[0] * (xs[i] - corners[0, 0]) + normal[1] * (ys[j] - corners[0, 1])
                z = min(max(corners[0, 2] - slope / normal[2], low[2]), high[2])
                top = last_cell(zs, z)
                if top >= 0:
                    turns[i, j, top] += 1 if left == 3 else -1
    for i in range(turns.shape[0]):
        for j in range(turns.shape[1]):
            for k in range(turns.shape[2] - 2, -1, -1):
                turns[i, j, k] += turns[i, j, k + 1]


@compiled(int64(CellsType))
def fill_voids(cells: Cells) -> int:
    """Mark all cells that nothing can reach from outside; return how many they are."""
    nx, ny, nz = cells.shape
    stack = np.empty(nx * ny * nz, np.int64)
    end = 0
    for i in range(nx):
        for j in range(ny):
            for k in range(nz):
                edge = i in (0, nx - 1) or j in (0, ny - 1) or k in (0, nz - 1)
                if edge and cells[i, j, k] == 0:
                    cells[i, j, k] = 2
                    stack[end] = (i * ny + j) * nz + k
                    end += 1
    while end > 0:
        end -= 1
        i, j, k = stack[end] // (ny * nz), stack[end] // nz % ny, stack[end] % nz
        for a in range(3):
            for step in (-1, 1):
                x, y, z = i + step * (a == 0), j + step * (a == 1), k + step * (a == 2)
                if 0 <= x < nx and 0 <= y < ny and 0 <= z < nz and cells[x, y, z] == 0:
                    cells[x, y, z] = 2
                    stack[end] = (x * ny + y) * nz + z
                    end += 1
    filled = 0
    for i in range(nx):
        for j in range(ny):
            for k in range(nz):
                if cells[i, j, k] == 0:
                    filled += 1
                cells[i, j, k] = cells[i, j, k] != 2
    return filled


@compiled(uint8(CellsType, BoxType))
def all_left(cells: Cells, box: Ints) -> bool:
    """Whether all cells of a box are there to be taken."""
    for i in range(box[0], box[3]):
        for j in range(box[1], box[4]):
            for k in range(box[2], box[5]):
                if cells[i, j, k] != 1:
                    return False
    return True


@compiled(void(CellsType, BoxType, int64, BoxType))
def grow(cells: Cells, box: Ints, order: int, slab: Ints) -> None:
    """Grow a box as far as it goes along the three axes in one of their six orders."""
    first = order // 2
    second = (first + 1 + order % 2) % 3
    for a in (first, second, 3 - first - second):
        slab[:] = box
        while box[a + 3] < cells.shape[a]:
            slab[a], slab[a + 3] = box[a + 3], box[a + 3] + 1
            if not all_left(cells, slab):
                break
            box[a + 3] += 1


@compiled(int64(CellsType, LineType, LineType, LineType, BoxesType))
def take_boxes(cells: Cells, xs: Floats, ys: Floats, zs: Floats, boxes: Ints) -> int:
    """Take cells in boxes, at each first cell the largest that grows from it.

    Returns the number of boxes, and leaves unmarked what they took; -1 if there is no room in
    ``boxes`` for all.
    """
    best, box, slab = np.empty(6, np.int64), np.empty(6, np.int64), np.empty(6, np.int64)
    count = 0
    for k in range(cells.shape[2]):
        for j in range(cells.shape[1]):
            for i in range(cells.shape[0]):
                if cells[i, j, k] != 1:
                    continue
                if count == len(boxes):
                    return -1
                largest = 0.0
                for order in range(6):
                    box[0], box[1], box[2] = i, j, k
                    box[3], box[4], box[5] = i + 1, j + 1, k + 1
                    grow(cells, box, order, slab)
                    room = (
                        (xs[box[3]] - xs[box[0]])
                        * (ys[box[4]] - ys[box[1]])
                        * (zs[box[5]] - zs[box[2]])
                    )
                    if room > largest:
                        largest = room
                        best[:] = box
                boxes[count] = best
                count += 1
                cells[best[0] : best[3], best[1] : best[4], best[2] : best[5]] = 0
    return count
