"""Solids in perspective: faces and edges in painting order, ready to be drawn."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import product
from typing import NamedTuple

import numpy as np

from packdown.geometry import Cuboid, Direction, Solid, Vector, bounds, difference, translate
from packdown.report.creases import Crease, as_array, creases, touched
from packdown.report.depth import Chunk, back_to_front
from packdown.report.projection import Camera
from packdown.report.svg import Line, Sheet, Spot

__all__ = ["Part", "Patch", "Thing", "corners", "parts_of"]

_SIDES = (
    (Direction.LEFT, Direction.RIGHT),
    (Direction.FRONT, Direction.BACK),
    (Direction.DOWN, Direction.UP),
)
"""For each axis the side at its lower end, and the one at its upper end."""
_CORNERS = tuple(product((0, 3), (1, 4), (2, 5)))
"""For each corner of a cuboid the fields that hold its coordinates."""


class Thing(NamedTuple):
    """A solid to be drawn.

    Parameters
    ----------
    cuboids
        Where it is.
    owner
        What its number names; where things of different owners touch, the edge is a seam.
    tone
        Hatching of its faces.
    """

    cuboids: Solid
    owner: int
    tone: int = 0


class Patch(NamedTuple):
    """A visible side of a cuboid: the axis it looks along, and its corners in turn."""

    axis: int
    outline: tuple[Spot, ...]


class Part(NamedTuple):
    """A cuboid of a thing, possibly cut: what is drawn of it.

    Parameters
    ----------
    thing
        Index of its thing.
    patches
        Its sides towards the eye; those that other cuboids of the thing cover are left out.
    edges, seams
        Edges of the thing, and those at which things of different owners touch.
    """

    thing: int
    patches: tuple[Patch, ...]
    edges: tuple[Line, ...]
    seams: tuple[Line, ...]


def parts_of(
    things: Sequence[Thing], camera: Camera, sheet: Sheet, *, seams: bool = False
) -> tuple[Part, ...]:
    """Return what to draw so that what is nearer covers what is behind it, furthest first.

    Things may be left out of a drawing without any change to the order of the others.

    Parameters
    ----------
    things
        What is drawn. Where two share volume the later one is cut back.
    camera, sheet
        Whence it is seen, and where it falls on the drawing.
    seams
        Whether edges at which different owners touch are told apart.
    """
    chunks, owners = _in_order(things, camera)
    if not chunks:
        return ()
    finals: dict[int, list[Cuboid]] = {}
    for chunk in chunks:
        finals.setdefault(owners[chunk.source], []).append(chunk.cuboid)
    solids = {thing: tuple(sorted(found)) for thing, found in finals.items()}
    bends = {thing: _creases(solid) for thing, solid in solids.items()}
    around = _others(things, solids) if seams else {}
    ends = np.asarray([chunk.cuboid for chunk in chunks], dtype=np.int64)
    spots = sheet.spots(camera.project(ends[:, _CORNERS].reshape(-1, 3)))
    pen = _Pen(camera, sheet)
    drafts = []
    for index, chunk in enumerate(chunks):
        thing = owners[chunk.source]
        shown = _toward(chunk.cuboid, camera.eye)
        own = spots[8 * index : 8 * index + 8]
        patches = tuple(
            Patch(axis, tuple(own[corner] for corner in _ring(axis, high=high)))
            for axis, high in shown
            if not _covered(chunk.cuboid, axis, solids[thing], high=high)
        )
        sides = {_SIDES[axis][high] for axis, high in shown}
        edges = [edge for edge in bends[thing][chunk.cuboid] if edge.sides & sides]
        drafts.append((thing, patches, *pen.note(edges, around.get(things[thing].owner))))
    lines = pen.lines()
    return tuple(
        Part(thing, patches, lines[first:second], lines[second:third])
        for thing, patches, first, second, third in drafts
    )


class _Pen:
    """Collects edges, so that all of them are projected at once."""

    def __init__(self, camera: Camera, sheet: Sheet) -> None:
        self.camera, self.sheet = camera, sheet
        self.points: list[Vector] = []

    def note(self, edges: list[Crease], others: np.ndarray | None) -> tuple[int, int, int]:
        """Note edges, then what of them others touch; return where both begin, and the end."""
        cut = [touched(edge, others) if others is not None else ([edge], []) for edge in edges]
        first = len(self.points) // 2
        self.points += [p for free, _ in cut for edge in free for p in (edge.start, edge.end)]
        second = len(self.points) // 2
        self.points += [p for _, shared in cut for edge in shared for p in (edge.start, edge.end)]
        return first, second, len(self.points) // 2

    def lines(self) -> tuple[Line, ...]:
        """Return where all of them fall on the drawing."""
        if not self.points:
            return ()
        spots = self.sheet.spots(self.camera.project(self.points))
        return tuple(zip(spots[::2], spots[1::2], strict=True))


def _in_order(things: Sequence[Thing], camera: Camera) -> tuple[tuple[Chunk, ...], list[int]]:
    """Return the cuboids in painting order, and the index of the thing of each source."""
    solids = _apart([thing.cuboids for thing in things])
    owners = [index for index, solid in enumerate(solids) for _ in solid]
    return back_to_front([cuboid for solid in solids for cuboid in solid], camera), owners


def _apart(solids: Sequence[Solid]) -> list[Solid]:
    """Cut back what shares volume with an earlier solid: covers are a little too large."""
    if not solids:
        return []
    boxes = as_array([bounds(solid) for solid in solids])
    kept: list[Solid] = []
    for index, solid in enumerate(solids):
        own = boxes[index]
        near = np.flatnonzero(
            (boxes[:index, :3] < own[3:]).all(axis=1) & (own[:3] < boxes[:index, 3:]).all(axis=1)
        )
        hits = [c for n in near for c in kept[n] if any(c.overlaps(one) for one in solid)]
        kept.append(difference(solid, hits) if hits else solid)
    return kept


def _others(things: Sequence[Thing], solids: dict[int, Solid]) -> dict[int, np.ndarray]:
    """Return, for each owner, the cuboids of all other owners."""
    return {
        owner: as_array([c for n, s in solids.items() if things[n].owner != owner for c in s])
        for owner in {thing.owner for thing in things}
    }


def _toward(cuboid: Cuboid, eye: Vector) -> list[tuple[int, bool]]:
    """Return the sides that look at the eye: the axis of each, and whether it is the upper."""
    low = [(axis, False) for axis in range(3) if eye[axis] < cuboid[axis]]
    return low + [(axis, True) for axis in range(3) if eye[axis] > cuboid[axis + 3]]


@lru_cache(maxsize=6)
def _ring(axis: int, *, high: bool) -> tuple[int, ...]:
    """Return the corners of a side in turn."""
    u, v = (other for other in range(3) if other != axis)
    found = []
    for far_u, far_v in ((0, 0), (1, 0), (1, 1), (0, 1)):
        field = [0, 0, 0]
        field[axis], field[u], field[v] = axis + 3 * high, u + 3 * far_u, v + 3 * far_v
        found.append(_CORNERS.index((field[0], field[1], field[2])))
    return tuple(found)


def _covered(cuboid: Cuboid, axis: int, solid: Solid, *, high: bool) -> bool:
    """Whether another cuboid of the same solid covers a whole side."""
    plane, back = cuboid[axis + 3 * high], axis + 3 * (not high)
    u, v = (other for other in range(3) if other != axis)
    return any(
        other[back] == plane
        and other[u] <= cuboid[u]
        and other[v] <= cuboid[v]
        and other[u + 3] >= cuboid[u + 3]
        and other[v + 3] >= cuboid[v + 3]
        for other in solid
    )


def _creases(solid: Solid) -> dict[Cuboid, list[Crease]]:
    """Return the creases by cuboid; solids that differ only in place share the work."""
    x, y, z = (min(c[axis] for c in solid) for axis in range(3))
    return {
        cuboid: [
            Crease(
                (edge.start[0] + x, edge.start[1] + y, edge.start[2] + z),
                (edge.end[0] + x, edge.end[1] + y, edge.end[2] + z),
                edge.sides,
            )
            for edge in edges
        ]
        for cuboid, edges in zip(solid, creases(translate(solid, -x, -y, -z)), strict=True)
    }


def corners(box: Cuboid) -> Iterable[Vector]:
    """Return the eight corners of a box."""
    return ((x, y, z) for x in box[::3] for y in box[1::3] for z in box[2::3])
