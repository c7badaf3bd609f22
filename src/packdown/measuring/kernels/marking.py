"""Which cells triangles meet.

A triangle and a box overlap unless one of 13 axes parts them (Akenine-Moller, Fast 3D
triangle-box overlap testing, Journal of Graphics Tools 6(1), 2001): the three axes of the grid,
the normal of the triangle, and nine products of edges with axes. The nine are the edge tests of
the triangle's three projections, as in Schwarz and Seidel, Fast parallel surface and solid
voxelization on GPUs, ACM Transactions on Graphics 29(6), 2010.
"""

import numpy as np
from numba import float64, int64, uint8, void

from packdown.measuring.kernels.compiled import (
    Cells,
    CellsType,
    CornersType,
    Floats,
    LineType,
    TrianglesType,
    compiled,
    first_cell,
    last_cell,
)

__all__ = ["describe", "mark_faces", "mark_triangles"]

SHALLOW_UM = 1e-4
"""Depth of an overlap that is less than any atom, and more than rounding can feign."""


@compiled(uint8(float64, float64, float64, float64))
def on_line(low: float, high: float, before: float, after: float) -> bool:
    """Whether an extent is flat and lies on one of the two planes of a cell."""
    return low == high and (low in (before, after))


@compiled(uint8(CornersType, int64, int64, float64, float64, float64, float64))
def apart(corners: Floats, a: int, b: int, a0: float, a1: float, b0: float, b1: float) -> bool:
    """Whether an edge of a triangle parts it from a rectangle, both seen along the third axis."""
    for k in range(3):
        p, q, r = corners[k], corners[(k + 1) % 3], corners[(k + 2) % 3]
        na, nb = q[b] - p[b], p[a] - q[a]
        slack = (abs(na) + abs(nb)) * SHALLOW_UM
        if slack == 0.0:
            continue
        side = na * (r[a] - p[a]) + nb * (r[b] - p[b])
        if side < 0.0:
            na, nb, side = -na, -nb, -side
        one, two = na * (a0 - p[a]), na * (a1 - p[a])
        three, four = nb * (b0 - p[b]), nb * (b1 - p[b])
        if max(one, two) + max(three, four) <= slack:
            return True
        if min(one, two) + min(three, four) >= side - slack:
            return True
    return False


@compiled(uint8(CornersType, LineType, LineType, LineType))
def off_plane(corners: Floats, normal: Floats, before: Floats, after: Floats) -> bool:
    """Whether the plane of a triangle passes a box by."""
    most = least = size = 0.0
    for a in range(3):
        one = normal[a] * (before[a] - corners[0, a])
        two = normal[a] * (after[a] - corners[0, a])
        most += max(one, two)
        least += min(one, two)
        size += abs(normal[a])
    return most <= size * SHALLOW_UM or least >= -size * SHALLOW_UM


@compiled(float64(CornersType, LineType, LineType, LineType))
def describe(corners: Floats, low: Floats, high: Floats, normal: Floats) -> float:
    """Fill in extent and normal of a triangle; return a measure of its area."""
    for a in range(3):
        low[a] = min(corners[0, a], corners[1, a], corners[2, a])
        high[a] = max(corners[0, a], corners[1, a], corners[2, a])
        b, c = (a + 1) % 3, (a + 2) % 3
        normal[a] = (corners[1, b] - corners[0, b]) * (corners[2, c] - corners[0, c]) - (
            corners[1, c] - corners[0, c]
        ) * (corners[2, b] - corners[0, b])
    return float(abs(normal[0]) + abs(normal[1]) + abs(normal[2]))


@compiled(void(TrianglesType, LineType, LineType, LineType, CellsType))
def mark_triangles(triangles: Floats, xs: Floats, ys: Floats, zs: Floats, cells: Cells) -> None:
    """Mark every cell whose inside a triangle meets."""
    low, high, normal = np.empty(3), np.empty(3), np.empty(3)
    before, after = np.empty(3), np.empty(3)
    for t in range(len(triangles)):
        corners = triangles[t]
        if describe(corners, low, high, normal) == 0.0:
            continue
        j0, j1 = first_cell(ys, low[1], high[1]), last_cell(ys, high[1])
        k0, k1 = first_cell(zs, low[2], high[2]), last_cell(zs, high[2])
        for i in range(first_cell(xs, low[0], high[0]), last_cell(xs, high[0]) + 1):
            before[0], after[0] = xs[i], xs[i + 1]
            if on_line(low[0], high[0], xs[i], xs[i + 1]):
                continue
            for j in range(j0, j1 + 1):
                before[1], after[1] = ys[j], ys[j + 1]
                if on_line(low[1], high[1], ys[j], ys[j + 1]):
                    continue
                if apart(corners, 0, 1, xs[i], xs[i + 1], ys[j], ys[j + 1]):
                    continue
                for k in range(k0, k1 + 1):
                    if cells[i, j, k] or on_line(low[2], high[2], zs[k], zs[k + 1]):
                        continue
                    before[2], after[2] = zs[k], zs[k + 1]
                    if off_plane(corners, normal, before, after):
                        continue
                    if apart(corners, 1, 2, ys[j], ys[j + 1], zs[k], zs[k + 1]):
                        continue
                    if not apart(corners, 2, 0, zs[k], zs[k + 1], xs[i], xs[i + 1]):
                        cells[i, j, k] = 1


@compiled(void(TrianglesType, LineType, LineType, LineType, CellsType))
def mark_faces(triangles: Floats, xs: Floats, ys: Floats, zs: Floats, cells: Cells) -> None:
    """Where a triangle lies on a plane of the grid, mark the cell behind if neither is marked."""
    low, high, normal = np.empty(3), np.empty(3), np.empty(3)
    at = np.empty(3, np.int64)
    lines = (xs, ys, zs)
    for t in range(len(triangles)):
        corners = triangles[t]
        if describe(corners, low, high, normal) == 0.0:
            continue
        for a in range(3):
            if low[a] != high[a]:
                continue
            b, c = (a + 1) % 3, (a + 2) % 3
            line, other, third = lines[a], lines[b], lines[c]
            plane = last_cell(line, low[a]) + 1
            if line[plane] != low[a]:
                continue
            behind = plane - 1 if normal[a] > 0.0 else plane
            behind = min(max(behind, 0), len(line) - 2)
            for j in range(first_cell(other, low[b], high[b]), last_cell(other, high[b]) + 1):
                for k in range(first_cell(third, low[c], high[c]), last_cell(third, high[c]) + 1):
                    if apart(corners, b, c, other[j], other[j + 1], third[k], third[k + 1]):
                        continue
                    at[b], at[c] = j, k
                    marked = False
                    for side in range(max(plane - 1, 0), min(plane + 1, len(line) - 1)):
                        at[a] = side
                        marked = marked or cells[at[0], at[1], at[2]] > 0
                    at[a] = behind
                    if not marked:
                        cells[at[0], at[1], at[2]] = 1
