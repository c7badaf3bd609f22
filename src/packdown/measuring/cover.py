"""Cuboids around a mesh and inside it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import Solid
from packdown.measuring.kernels import (
    count_windings,
    fill_voids,
    mark_faces,
    mark_triangles,
)
from packdown.measuring.merging import boxes_of, with_fewer_planes
from packdown.measuring.mesh import Indices, Mesh

__all__ = ["Covered", "cover"]

Cells = NDArray[np.uint8]
Lines = tuple[Indices, Indices, Indices]


@dataclass(frozen=True, eq=False, kw_only=True)
class Covered:
    """A mesh on its grid.

    Parameters
    ----------
    cover_um
        Disjoint cuboids that contain every point of the shape.
    core_um
        Disjoint cuboids that lie inside it; may be empty.
    fine_um3
        Volume of the cover before it was made of fewer cuboids.
    core_um3
        Volume of all cells that lie inside.
    sealed
        Whether it has a hollow that nothing can reach; the cover fills it.
    plain
        Whether the surface goes round everything inside just once: bodies neither overlap nor
        are inside out, so that the volume of the mesh is that of the shape.
    """

    cover_um: Solid
    core_um: Solid
    fine_um3: int
    core_um3: int
    sealed: bool
    plain: bool


def cover(mesh: Mesh, lines: Lines, most_cuboids: int) -> Covered:
    """Cover a closed mesh by at most so many cuboids.

    Parameters
    ----------
    mesh
        Its surface must be closed.
    lines
        The planes of the grid.
    most_cuboids
        Planes of the grid are given up, those that add least air first, until this is kept.
    """
    xs, ys, zs = (line.astype(np.float64) for line in lines)
    shape = (len(xs) - 1, len(ys) - 1, len(zs) - 1)
    touched = np.zeros(shape, np.uint8)
    mark_triangles(mesh.triangles, xs, ys, zs, touched)
    turns = np.zeros(shape, np.int16)
    x, y, z = ((line[:-1] + line[1:]) / 2 for line in (xs, ys, zs))
    count_windings(mesh.triangles, x, y, z, turns)
    inside = (turns != 0) & (touched == 0)
    cells = (inside | (touched == 1)).astype(np.uint8)
    mark_faces(mesh.triangles, xs, ys, zs, cells)
    sealed = fill_voids(cells) > 0
    core = inside.astype(np.uint8)
    return Covered(
        cover_um=with_fewer_planes(cells, lines, most_cuboids),
        core_um=_largest(core, lines, most_cuboids),
        fine_um3=_volume(cells, lines),
        core_um3=_volume(core, lines),
        sealed=sealed,
        plain=bool((turns[inside] == 1).all()),
    )


def _volume(cells: Cells, lines: Lines) -> int:
    widths = [np.diff(line).astype(np.float64) for line in lines]
    return round(float(np.einsum("ijk,i,j,k->", cells.astype(np.float64), *widths, optimize=True)))


def _largest(cells: Cells, lines: Lines, most: int) -> Solid:
    """Return the largest cuboids of those that fill the cells."""
    boxes = boxes_of(cells, lines, int(cells.sum()))
    kept = sorted(boxes or (), key=lambda cuboid: (-cuboid.volume, cuboid))[:most]
    return tuple(sorted(kept))
