"""In which order cuboids are painted so that what is nearer covers what is behind it."""

import heapq
from collections.abc import Sequence
from itertools import product
from typing import NamedTuple

import networkx as nx
import numpy as np

from packdown.geometry import Cuboid
from packdown.report.projection import Camera

__all__ = ["Chunk", "back_to_front"]

_ANGLES = np.arange(12) * np.pi / 12
_ACROSS = np.stack([np.cos(_ANGLES), np.sin(_ANGLES)])
"""Directions on the drawing in which things are looked at for a gap between them."""


class Chunk(NamedTuple):
    """A cuboid of the scene, or what a cut left of one, and which one it was."""

    source: int
    cuboid: Cuboid


def back_to_front(cuboids: Sequence[Cuboid], camera: Camera) -> tuple[Chunk, ...]:
    """Order disjoint cuboids for painting, cutting some where each would cover the next.

    Between two disjoint cuboids lies a plane square to an axis. The one on the far side of that
    plane, as seen from the eye, cannot hide the other and is painted first. Three or more
    cuboids can hide each other in a ring; one of the ring is then cut along a side of another.
    As long as a ring is left such a side exists, so this ends.

    Parameters
    ----------
    cuboids
        Cuboids that share no volume; they may touch.
    camera
        Whence they are seen; the eye lies in none of them.

    Returns
    -------
    tuple of Chunk
        Furthest first.

    Raises
    ------
    ValueError
        If two cuboids share volume.

    References
    ----------
    Newell, M. E., Newell, R. G., Sancha, T. L. (1972), A solution to the hidden surface problem,
    Proceedings of the ACM annual conference, 443-450 (ordering, with splitting of rings).
    """
    return tuple(_ordered([Chunk(source, cuboid) for source, cuboid in enumerate(cuboids)], camera))


def _ordered(chunks: list[Chunk], camera: Camera) -> list[Chunk]:
    """Order chunks; those that hide each other in rings are cut and ordered among themselves.

    What a cut leaves hides no more than the whole did, so the rest need not be looked at again.
    """
    before = _painted_before([chunk.cuboid for chunk in chunks], camera)
    order = _topological(before)
    if len(order) == len(chunks):
        return [chunks[index] for index in order]
    found: list[Chunk] = []
    for group in _knots(before):
        knot = [chunks[index] for index in group]
        if len(group) > 1:
            ring = _ring(before[np.ix_(group, group)])
            knot = _ordered(_cut(knot, ring), camera)
        found.extend(knot)
    return found


def _painted_before(cuboids: Sequence[Cuboid], camera: Camera) -> np.ndarray:
    """Return a matrix that is true where the row must be painted before the column."""
    if not cuboids:
        return np.zeros((0, 0), dtype=bool)
    ends = np.asarray(cuboids, dtype=np.int64)
    eye = np.asarray(camera.eye, dtype=np.int64)
    cannot_hide = np.zeros((len(ends), len(ends)), dtype=bool)
    for axis in range(3):
        low, high = ends[:, axis], ends[:, axis + 3]
        apart = high[:, None] <= low[None, :]
        cannot_hide |= apart & (eye[axis] >= high)[:, None]
        cannot_hide |= apart.T & (eye[axis] <= low)[:, None]
    np.fill_diagonal(cannot_hide, val=True)
    if not (cannot_hide | cannot_hide.T).all():
        one, two = np.argwhere(~(cannot_hide | cannot_hide.T))[0]
        raise ValueError(f"cuboids {one} and {two} share volume")
    before: np.ndarray = ~cannot_hide.T & _drawings_meet(ends, camera)
    return before


def _drawings_meet(ends: np.ndarray, camera: Camera) -> np.ndarray:
    """Return a matrix of the pairs that no line in one of a few directions keeps apart."""
    picks = [[x, y, z] for x, y, z in product((0, 3), (1, 4), (2, 5))]
    flat = camera.project(ends[:, picks].reshape(-1, 3)) @ _ACROSS
    reach = flat.reshape(len(ends), len(picks), -1)
    low, high = reach.min(axis=1), reach.max(axis=1)
    meet = (low[:, None] <= high[None, :]).all(axis=2)
    both: np.ndarray = meet & meet.T
    return both


def _topological(before: np.ndarray) -> list[int]:
    """Return an order that keeps to the matrix, without what lies on or behind a ring."""
    waiting = before.sum(axis=0)
    ready = [int(index) for index in np.flatnonzero(waiting == 0)]
    order = []
    while ready:
        index = heapq.heappop(ready)
        order.append(index)
        after = np.flatnonzero(before[index])
        waiting[after] -= 1
        for other in after[waiting[after] == 0]:
            heapq.heappush(ready, int(other))
    return order


def _knots(before: np.ndarray) -> list[list[int]]:
    """Return the groups in which all hide each other round about, in painting order."""
    graph = nx.DiGraph()
    graph.add_nodes_from(range(len(before)))
    graph.add_edges_from(np.argwhere(before).tolist())
    knots = nx.condensation(graph)
    groups = {knot: sorted(knots.nodes[knot]["members"]) for knot in knots}
    return [groups[knot] for knot in nx.lexicographical_topological_sort(knots, key=groups.get)]


def _ring(before: np.ndarray) -> list[int]:
    """Return the members of one ring where each waits for another."""
    path, seen = [0], {0: 0}
    while True:
        index = int(np.flatnonzero(before[:, path[-1]])[0])
        if index in seen:
            return path[seen[index] :]
        seen[index] = len(path)
        path.append(index)


def _cut(chunks: list[Chunk], ring: list[int]) -> list[Chunk]:
    """Cut one member of a ring along a side of another."""
    for index, other in product(ring, ring):
        source, whole = chunks[index]
        for side, plane in enumerate(chunks[other].cuboid):
            axis = side % 3
            if whole[axis] < plane < whole[axis + 3]:
                low, high = list(whole), list(whole)
                low[axis + 3] = high[axis] = plane
                halves = [Chunk(source, Cuboid(*low)), Chunk(source, Cuboid(*high))]
                return [*chunks[:index], *halves, *chunks[index + 1 :]]
    raise AssertionError("a ring of disjoint cuboids always has a side to cut along")
