"""The surface of a solid as a closed mesh of triangles."""

from functools import cache
from itertools import product
from typing import NamedTuple

import numpy as np

from packdown.geometry import Solid

__all__ = ["Mesh", "surface"]

_CORNERS = tuple(product((0, 1), repeat=3))
"""Cells around a point of the grid, and corners of a cell: below or above along each axis."""


class Mesh(NamedTuple):
    """Triangles that turn anticlockwise as seen from outside.

    Parameters
    ----------
    points
        Shape (n, 3), in micrometres.
    triangles
        Indices of points, shape (m, 3).
    """

    points: np.ndarray
    triangles: np.ndarray


def surface(solid: Solid) -> Mesh:
    """Return the surface of a solid: what lies between its cuboids is left out.

    All faces are cut along the planes of all cuboids, so that edges meet end to end. Every edge
    belongs to two triangles, also where parts of the solid touch along an edge or at a corner
    only: there each part has points of its own.
    """
    planes = [
        np.unique([cuboid[side] for cuboid in solid for side in (axis, axis + 3)])
        for axis in range(3)
    ]
    mesh = _skin(solid, planes)
    if _is_manifold(mesh.triangles):
        return mesh
    return _skin(solid, [_with_middles(values) for values in planes])


def _skin(solid: Solid, planes: list[np.ndarray]) -> Mesh:
    filled = _filled(solid, planes)
    quads = np.concatenate(
        [_quads(filled, axis, outward) for axis in range(3) for outward in (0, 1)]
    )
    ids, points = np.unique(quads.reshape(-1, 4), axis=0, return_inverse=True)
    corners = points.reshape(-1, 4)
    triangles = np.concatenate([corners[:, [0, 1, 2]], corners[:, [0, 2, 3]]])
    at = np.stack([planes[axis][ids[:, axis]] for axis in range(3)], axis=1)
    return Mesh(at, triangles)


def _filled(solid: Solid, planes: list[np.ndarray]) -> np.ndarray:
    """Return which cells between the planes belong to the solid, with an empty rim around."""
    filled = np.zeros([len(values) + 1 for values in planes], dtype=bool)
    for cuboid in solid:
        x, y, z = (
            slice(*(np.searchsorted(planes[axis], cuboid[axis::3]) + 1)) for axis in range(3)
        )
        filled[x, y, z] = True
    return filled


def _quads(filled: np.ndarray, axis: int, outward: int) -> np.ndarray:
    """Return the four points of each face that looks one way along an axis.

    Returns
    -------
    numpy.ndarray
        Shape (n, 4, 4): for each point its place on the grid, and which of the parts that meet
        there it belongs to.
    """
    beyond = np.roll(filled, 1 - 2 * outward, axis=axis)
    cells = np.argwhere(filled & ~beyond)
    u, v = (axis + 1) % 3, (axis + 2) % 3
    turn = ((0, 0), (1, 0), (1, 1), (0, 1)) if outward else ((0, 0), (0, 1), (1, 1), (1, 0))
    points = []
    for at_u, at_v in turn:
        corner = np.zeros(3, dtype=np.int64)
        corner[[axis, u, v]] = outward, at_u, at_v
        points.append(_points(filled, cells, corner))
    return np.stack(points, axis=1)


def _points(filled: np.ndarray, cells: np.ndarray, corner: np.ndarray) -> np.ndarray:
    """Return one corner of some cells: its place, and the number of its part there."""
    place = cells + corner  # of the cell above it along all axes
    mask = sum(
        filled[tuple((place - 1 + np.asarray(other)).T)].astype(np.int64) << bit
        for bit, other in enumerate(_CORNERS)
    )
    own = _CORNERS.index((1 - int(corner[0]), 1 - int(corner[1]), 1 - int(corner[2])))
    part = _parts()[mask, own]
    return np.column_stack([place - 1, part])


@cache
def _parts() -> np.ndarray:
    """Return for each way to fill the eight cells around a point which cells hang together.

    Returns
    -------
    numpy.ndarray
        Shape (256, 8): the lowest number of a cell that is reached through faces.
    """
    table = np.tile(np.arange(8), (256, 1))
    for mask in range(256):
        held = [cell for cell in range(8) if mask >> cell & 1]
        for _ in held:
            for one, other in product(held, held):
                if (one ^ other).bit_count() == 1:
                    table[mask, one] = min(table[mask, one], table[mask, other])
    return table


def _is_manifold(triangles: np.ndarray) -> bool:
    """Whether every edge is passed once each way."""
    edges = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    return len(np.unique(edges, axis=0)) == len(edges)


def _with_middles(values: np.ndarray) -> np.ndarray:
    """Add a plane between every two: parts that touch along an edge come apart in its middle."""
    between: np.ndarray = np.union1d(values, (values[:-1] + values[1:]) / 2)
    return between
