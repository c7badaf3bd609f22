"""Where the planes of the grid lie: on the shape's own flat faces first, then evenly between."""

from itertools import pairwise

import numpy as np

from packdown.measuring.mesh import Indices, Mesh, Points

__all__ = ["count_cells", "planes"]


def planes(mesh: Mesh, resolution_um: int) -> tuple[Indices, Indices, Indices]:
    """Return the planes along x, y and z in whole micrometres.

    Faces that are parallel to an axis get a plane of their own, large ones first, unless one is
    nearer than half the resolution. What lies between is cut evenly, so that no cell is wider
    than the resolution. Shapes made of cuboids are thus met exactly.
    """
    normals, ends = mesh.normals, np.ceil(mesh.size_um).astype(np.int64)
    lines = []
    for axis in range(3):
        places = mesh.triangles[:, :, axis]
        flat = (places.max(axis=1) == places.min(axis=1)) & (normals[:, axis] != 0)
        outward = normals[flat, axis]
        at = np.where(outward > 0, np.ceil(places[flat, 0]), np.floor(places[flat, 0]))
        own = _largest_first(at.astype(np.int64), np.abs(outward))
        lines.append(_line(int(ends[axis]), own, resolution_um))
    return lines[0], lines[1], lines[2]


def count_cells(lines: tuple[Indices, ...]) -> int:
    """Return how many cells the planes make."""
    return int(np.prod([len(line) - 1 for line in lines]))


def _largest_first(at: Indices, areas: Points) -> list[int]:
    places, index = np.unique(at, return_inverse=True)
    sums = np.bincount(index, weights=areas, minlength=len(places))
    order = np.lexsort((places, -np.round(sums)))
    return [int(place) for place in places[order]]


def _line(end: int, own: list[int], resolution_um: int) -> Indices:
    """Choose planes from 0 to the end."""
    kept = np.array([0, max(end, 1)], np.int64)
    for place in own:
        after = int(np.searchsorted(kept, place))
        if 0 < after < len(kept):
            gap = min(place - kept[after - 1], kept[after] - place)
            if 2 * gap >= resolution_um:
                kept = np.insert(kept, after, place)
    line = [0]
    for low, high in pairwise(kept.tolist()):
        parts = -(-(high - low) // resolution_um)
        line.extend(low + (high - low) * part // parts for part in range(1, parts + 1))
    return np.array(line, np.int64)
