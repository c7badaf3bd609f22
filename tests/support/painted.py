"""What a drawing shows, read back from its polygons: the last one painted at a pixel is seen."""

from collections.abc import Sequence

import numpy as np

from packdown.geometry import Cuboid, Solid
from packdown.report.projection import Camera
from packdown.report.scene import Part, Thing, corners, parts_of
from packdown.report.svg import Sheet

__all__ = ["painted_share"]

SPACING = 8
"""Drawing units between two pixels that are looked at; a drawing is 1,600 wide."""


def painted_share(thing: Solid, around: Solid, camera: Camera, box: Cuboid) -> float:
    """Return the share of a thing's own drawing that is left when what is around it is drawn too.

    Parameters
    ----------
    thing, around
        What is looked for, and what may hide it.
    camera, box
        Whence it is seen, and what the drawing shows.
    """
    sheet = Sheet.around(camera.project(list(corners(box))).tolist())
    own = Thing(thing, 1)
    alone = parts_of([own], camera, sheet)
    together = parts_of([own, Thing(around, 2)] if around else [own], camera, sheet)
    before = _seen(alone) == 1
    return float((_seen(together)[before] == 1).mean())


def _seen(parts: Sequence[Part]) -> np.ndarray:
    """Return the owner seen at each pixel, 1 for the first thing; 0 is none."""
    middles = np.arange(SPACING / 2 + 0.17, 1_700, SPACING)  # off the whole numbers of corners
    seen = np.zeros((len(middles), len(middles)), dtype=np.int64)
    for owner, outline in (
        (part.thing + 1, np.asarray(patch.outline, dtype=float))
        for part in parts
        for patch in part.patches
    ):
        x, y = (
            np.flatnonzero((middles >= outline[:, a].min()) & (middles <= outline[:, a].max()))
            for a in range(2)
        )
        turns = [
            (b[0] - a[0]) * (middles[y, None] - a[1]) - (b[1] - a[1]) * (middles[x] - a[0])
            for a, b in zip(outline, np.roll(outline, -1, axis=0), strict=True)
        ]
        inside = np.all([t > 0 for t in turns], axis=0) | np.all([t < 0 for t in turns], axis=0)
        seen[np.ix_(y, x)] = np.where(inside, owner, seen[np.ix_(y, x)])
    return seen
