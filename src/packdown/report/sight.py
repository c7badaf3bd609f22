"""How much of a thing can be seen past what stands around it, by rays from the eye."""

from collections.abc import Sequence
from itertools import product

import numpy as np

from packdown.geometry import Cuboid, Solid
from packdown.report.projection import Camera

__all__ = ["seen_share"]

GRID = 32
"""Rays along each side of the rectangle that a thing takes up on the drawing."""


def seen_share(thing: Solid, around: Sequence[Cuboid], camera: Camera) -> float:
    """Return the share of a thing on the drawing that nothing around it hides, from 0 to 1.

    A grid of rays is laid over the rectangle that the thing takes up on the drawing, so that a
    small thing is looked at as closely as a large one. Rays that meet the thing count; of these,
    those that meet nothing else before it are seen.

    Parameters
    ----------
    thing
        What is to be seen; what of it hides other parts of itself is no loss.
    around
        What may hide it.
    camera
        Whence it is looked at.

    Returns
    -------
    float
        0 where no ray meets the thing at all.

    References
    ----------
    Kay, T. L., Kajiya, J. T. (1986), Ray tracing complex scenes, SIGGRAPH 86, 269-278 (a ray
    and a box: between the planes of each pair of sides).
    """
    corners = _drawn(thing, camera)
    low, high = corners.min(axis=(0, 1)), corners.max(axis=(0, 1))
    steps = (np.arange(GRID) + 0.5) / GRID
    across, down = (low[a] + steps * (high[a] - low[a]) for a in range(2))
    pixels = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    rays = camera.rays(pixels)
    reach = _first_met(np.asarray(thing, dtype=np.float64), rays, camera)
    met = np.isfinite(reach)
    if not met.any():
        return 0.0
    if not around:
        return 1.0
    others = _drawn(around, camera)
    near = (others.min(axis=1) <= high).all(axis=1) & (others.max(axis=1) >= low).all(axis=1)
    hiding = np.asarray(around, dtype=np.float64)[near]
    free = reach[met] <= _first_met(hiding, rays[met], camera)
    return float(free.mean())


def _drawn(cuboids: Sequence[Cuboid], camera: Camera) -> np.ndarray:
    """Return where the corners of cuboids fall on the drawing, shape (n, 8, 2)."""
    ends = np.asarray(cuboids, dtype=np.int64)
    picks = [[x, y, z] for x, y, z in product((0, 3), (1, 4), (2, 5))]
    return camera.project(ends[:, picks].reshape(-1, 3)).reshape(len(ends), 8, 2)


def _first_met(ends: np.ndarray, rays: np.ndarray, camera: Camera) -> np.ndarray:
    """Return for each ray how far it goes until it enters one of some cuboids; infinite if never.

    Parameters
    ----------
    ends
        Cuboids, shape (n, 6).
    rays
        Directions from the eye, shape (m, 3).
    camera
        Its eye.
    """
    if not len(ends):
        return np.full(len(rays), np.inf)
    enter = np.full((len(rays), len(ends)), -np.inf)
    leave = np.full((len(rays), len(ends)), np.inf)
    for axis, eye in enumerate(camera.eye):
        with np.errstate(divide="ignore", invalid="ignore"):
            to_low = (ends[:, axis] - eye) / rays[:, axis, None]
            to_high = (ends[:, axis + 3] - eye) / rays[:, axis, None]
        np.maximum(enter, np.minimum(to_low, to_high), out=enter)
        np.minimum(leave, np.maximum(to_low, to_high), out=leave)
    nearest: np.ndarray = np.where(enter < leave, enter, np.inf).min(axis=1)
    return nearest
