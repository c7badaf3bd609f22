"""A closed surface of triangles, and what follows from it exactly."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

__all__ = ["Indices", "Mesh", "Points", "tidy"]

Points = NDArray[np.float64]
Indices = NDArray[np.int64]

FILE_BITS = 22
"""Most files hold 24 bits of a coordinate; the last two are noise."""
LEAST_NOISE_UM = 1e-3
MOST_NOISE_UM = 0.5
_FACTORS = (73_856_093, 19_349_663_011, 83_492_791_777_777)
"""Odd numbers that make one key of three; points that share a key by chance are told apart."""


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles in micrometres; the lower corner of all is the origin.

    Parameters
    ----------
    points
        Corners, n x 3, each once.
    faces
        Indices of three corners each, m x 3, anticlockwise as seen from outside.
    """

    points: Points
    faces: Indices

    @cached_property
    def triangles(self) -> Points:
        """Corners of every triangle, m x 3 x 3."""
        return np.ascontiguousarray(self.points[self.faces])

    @cached_property
    def normals(self) -> Points:
        """Outward normal of every triangle, twice as long as its area."""
        one, two, three = self.triangles.transpose(1, 0, 2)
        return np.cross(two - one, three - one)

    @cached_property
    def areas_um2(self) -> Points:
        """Area of every triangle in square micrometres."""
        lengths: Points = np.linalg.norm(self.normals, axis=1) / 2
        return lengths

    @cached_property
    def parts_um3(self) -> Points:
        """Signed volume between every triangle and the origin."""
        parts: Points = np.einsum("ij,ij->i", self.triangles[:, 0], self.normals) / 6
        return parts

    @property
    def volume_um3(self) -> float:
        """Volume by the divergence theorem; negative if the surface is inside out."""
        return float(self.parts_um3.sum())

    @property
    def centre_um(self) -> Points:
        """Centre of the volume."""
        centres = self.triangles.sum(axis=1) / 4
        middle: Points = self.parts_um3 @ centres / self.volume_um3
        return middle

    @property
    def size_um(self) -> Points:
        """Extent along x, y and z."""
        extent: Points = self.triangles.max(axis=(0, 1))
        return extent

    def open_edges(self) -> Indices:
        """Return the edges, k x 2, that do not run as often one way as the other.

        Where there are none the surface is closed: it winds a whole number of times round every
        point beside it.
        """
        edges = self.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
        count = len(self.points)
        there = np.sort(edges[:, 0] * count + edges[:, 1])
        back = np.sort(edges[:, 1] * count + edges[:, 0])
        if np.array_equal(there, back):
            return np.zeros((0, 2), np.int64)
        keys, sums = np.unique(there, return_counts=True)
        others, counts = np.unique(back, return_counts=True)
        both = np.union1d(keys, others)
        balance = np.zeros(len(both), np.int64)
        balance[np.searchsorted(both, keys)] += sums
        balance[np.searchsorted(both, others)] -= counts
        odd = both[balance > 0]
        return np.stack([odd // count, odd % count], axis=1)

    def turned_inside_out(self) -> "Mesh":
        """Return the same surface, seen from the other side."""
        return Mesh(self.points, np.ascontiguousarray(self.faces[:, ::-1]))


def tidy(points_um: Points, faces: Indices) -> Mesh:
    """Shift triangles to the origin and join corners at the same place.

    Lengths that differ from whole micrometres by no more than the noise of the file are taken as
    whole. Triangles with two corners at one place are left out.
    """
    near = points_um[faces.reshape(-1)]
    noise = max(-near.min(initial=0.0), near.max(initial=0.0)) * 2.0**-FILE_BITS
    noise = min(max(noise, LEAST_NOISE_UM), MOST_NOISE_UM)
    near -= near.min(axis=0)
    for axis in range(3):
        whole = np.rint(near[:, axis])
        np.copyto(near[:, axis], whole, where=np.abs(near[:, axis] - whole) <= noise)
    first, index = _same(near)
    corners = index.reshape(-1, 3)
    proper = (
        (corners[:, 0] != corners[:, 1])
        & (corners[:, 1] != corners[:, 2])
        & (corners[:, 2] != corners[:, 0])
    )
    return Mesh(near[first], np.ascontiguousarray(corners[proper]))


def _same(points: Points) -> tuple[Indices, Indices]:
    """Return the first of each group of points at one place, and for each point its group."""
    columns = [np.rint(points[:, axis] / LEAST_NOISE_UM).astype(np.int64) for axis in range(3)]
    keys = np.zeros(len(points), np.int64)
    for column, factor in zip(columns, _FACTORS, strict=True):
        keys += column * factor
    _, first, index = np.unique(keys, return_index=True, return_inverse=True)
    if all(np.array_equal(column[first][index], column) for column in columns):
        return first, index
    rows = np.stack(columns, axis=1)
    _, first, index = np.unique(rows, axis=0, return_index=True, return_inverse=True)
    return first, index.reshape(-1)
