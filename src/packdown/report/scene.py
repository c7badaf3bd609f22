"""Solids in perspective: faces and edges in painting order, ready to be drawn."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from packdown.geometry import Cuboid, Solid, Vector, difference, overlap
from packdown.report.creases import Crease, as_array, creases, touched
from packdown.report.depth import back_to_front
from packdown.report.labels import Region
from packdown.report.projection import Camera, faces_toward
from packdown.report.svg import Sheet, outline, path, segments
from packdown.report.tones import hatching

__all__ = ["Thing", "paint"]

SHADES = {0: "s", 1: "f", 2: "t"}
"""Suffix of a fill by the axis a face looks along: side, front or top."""


class Thing(NamedTuple):
    """A solid to be drawn.

    Parameters
    ----------
    cuboids
        Where it is.
    fill, line
        Classes of its faces (a suffix for the side is added) and of its edges.
    owner
        What its number names; where things of different owners touch, the edge is a seam.
    tone
        Hatching of its faces.
    """

    cuboids: Solid
    fill: str
    line: str
    owner: int
    tone: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """A cuboid, possibly cut, in painting order."""

    thing: int
    cuboid: Cuboid
    edges: tuple[Crease, ...]


def paint(
    things: Sequence[Thing], camera: Camera, sheet: Sheet, *, seams: bool = False
) -> tuple[str, list[Region]]:
    """Draw solids so that what is nearer covers what is behind it.

    Parameters
    ----------
    things
        What is drawn. Where two share volume the later one is cut back.
    camera, sheet
        Whence it is seen, and where it falls on the drawing.
    seams
        Whether edges at which different owners touch are drawn as seams.

    Returns
    -------
    body, regions
        SVG elements, and the patches of the drawing for the placing of numbers.
    """
    parts = _in_order(things, camera)
    around = _others(things) if seams else {}
    none = as_array([])
    body, regions = [], []
    for part in parts:
        thing = things[part.thing]
        faces = faces_toward(part.cuboid, camera.eye)
        shown = {face.side for face in faces}
        for face in faces:
            points = [sheet.at(p) for p in camera.project(face.corners)]
            body.append(path(thing.fill + SHADES[face.side.axis], outline(points)))
            body.append(hatching(thing.tone, points))
            regions.append(Region(thing.owner, face.side.axis, points))
        plain, marked = [], []
        for crease in part.edges:
            if shown & crease.sides:
                free, shared = touched(crease, around.get(thing.owner, none))
                plain += free
                marked += shared
        body.append(path(thing.line, _lines(plain, camera, sheet)))
        body.append(path("seam", _lines(marked, camera, sheet)))
    return "".join(body), regions


def _in_order(things: Sequence[Thing], camera: Camera) -> list[_Part]:
    solids = _apart([thing.cuboids for thing in things])
    owners = [index for index, solid in enumerate(solids) for _ in solid]
    chunks = back_to_front([cuboid for solid in solids for cuboid in solid], camera)
    final: dict[int, list[Cuboid]] = {index: [] for index in range(len(things))}
    for chunk in chunks:
        final[owners[chunk.source]].append(chunk.cuboid)
    edges = {}
    for index, cuboids in final.items():
        solid = tuple(sorted(cuboids))
        edges.update({(index, c): e for c, e in zip(solid, creases(solid), strict=True)})
    return [
        _Part(
            thing=owners[chunk.source],
            cuboid=chunk.cuboid,
            edges=edges[owners[chunk.source], chunk.cuboid],
        )
        for chunk in chunks
    ]


def _apart(solids: Sequence[Solid]) -> list[Solid]:
    """Cut back what shares volume with an earlier solid: covers are a little too large."""
    kept: list[Solid] = []
    for solid in solids:
        hits = [other for other in kept if overlap(solid, other)]
        kept.append(difference(solid, [c for other in hits for c in other]) if hits else solid)
    return kept


def _others(things: Sequence[Thing]) -> dict[int, np.ndarray]:
    """Return, for each owner, the cuboids of all other owners."""
    owners = {thing.owner for thing in things}
    return {
        owner: as_array([c for t in things if t.owner != owner for c in t.cuboids])
        for owner in owners
    }


def _lines(edges: Sequence[Crease], camera: Camera, sheet: Sheet) -> str:
    if not edges:
        return ""
    ends: list[Vector] = [point for edge in edges for point in (edge.start, edge.end)]
    points = [sheet.at(point) for point in camera.project(ends)]
    return segments(zip(points[::2], points[1::2], strict=True))


def corners(box: Cuboid) -> Iterable[Vector]:
    """Return the eight corners of a box."""
    return ((x, y, z) for x in box[::3] for y in box[1::3] for z in box[2::3])
