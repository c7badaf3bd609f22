"""Painting order against an independent cast of rays."""

import random
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from packdown.geometry import Cuboid
from packdown.report.depth import Chunk, back_to_front
from packdown.report.projection import Camera, faces_toward
from support.scenes import SCENE, SCENES

Scene = Callable[[random.Random], list[Cuboid]]


def _random_camera(rng: random.Random) -> Camera:
    return Camera.looking_at(
        SCENE,
        azimuth=rng.uniform(-180, 180),
        elevation=rng.uniform(-85, 85),
        away=rng.uniform(0.9, 3),
    )


def _first_hit(cuboids: list[Cuboid], camera: Camera, pixels: np.ndarray) -> np.ndarray:
    """Cast a ray through each pixel: the face it meets first, as `_face` numbers it."""
    right, down, forward = np.asarray(camera.axes)
    rays = pixels[:, :1] * right + pixels[:, 1:] * down + forward
    ends = np.asarray(cuboids, dtype=float)
    eye = np.asarray(camera.eye, dtype=float)
    to_low = (ends[None, :, :3] - eye) / rays[:, None, :]
    to_high = (ends[None, :, 3:] - eye) / rays[:, None, :]
    sides = np.minimum(to_low, to_high)
    enter, leave = sides.max(axis=2), np.maximum(to_low, to_high).min(axis=2)
    enter[enter >= leave] = np.inf
    first = enter.argmin(axis=1)
    each = np.arange(len(rays))
    axis = sides[each, first].argmax(axis=1)
    is_high = rays[each, axis] < 0
    return np.where(np.isfinite(enter.min(axis=1)), _face(first, axis, is_high), -1)


def _face(source: Any, axis: Any, is_high: Any) -> Any:  # noqa: ANN401 - whole numbers, or arrays
    """Number the faces of all cuboids; -1 stands for none."""
    return 6 * source + 2 * axis + is_high


def _last_painted(chunks: tuple[Chunk, ...], camera: Camera, pixels: np.ndarray) -> np.ndarray:
    """Paint every face in order onto the pixels."""
    seen = np.full(len(pixels), -1)
    for chunk in chunks:
        for face in faces_toward(chunk.cuboid, camera.eye):
            corners = camera.project(face.corners)
            after = np.roll(corners, -1, axis=0)
            along, to = after - corners, pixels[:, None, :] - corners
            turns = along[:, 0] * to[..., 1] - along[:, 1] * to[..., 0]
            inside = (turns > 0).all(axis=1) | (turns < 0).all(axis=1)
            seen[inside] = _face(chunk.source, face.side.axis, sum(face.side.vector) > 0)
    return seen


def _pixels(rng: random.Random, camera: Camera, number: int) -> np.ndarray:
    """Random pixels where the scene is; odd decimals keep them off the edges."""
    edge = camera.project([(x, y, z) for x in (0, 1_000) for y in (0, 1_000) for z in (0, 1_000)])
    low, high = edge.min(axis=0), edge.max(axis=0)
    return np.array(
        [[rng.uniform(low[a], high[a]) for a in range(2)] for _ in range(number)], dtype=float
    )


@pytest.mark.parametrize("scene", SCENES, ids=lambda scene: str(scene.__name__))
@pytest.mark.parametrize("seed", range(100))
def test_the_top_most_polygon_is_what_a_ray_hits_first(scene: Scene, seed: int) -> None:
    """Whatever is painted last at a pixel is the nearest face on its line of sight.

    500 scenes with 300 pixels each; the rays are cast by the slab method (Kay, T. L., Kajiya,
    J. T. (1986), Ray tracing complex scenes, SIGGRAPH 86, 269-278), which knows no order.
    """
    rng = random.Random(seed)
    cuboids, camera = scene(rng), _random_camera(rng)
    assert len(cuboids) > 3
    pixels = _pixels(rng, camera, 300)
    hit = _first_hit(cuboids, camera, pixels)
    assert (hit >= 0).any()
    painted = _last_painted(back_to_front(cuboids, camera), camera, pixels)
    np.testing.assert_array_equal(painted, hit)


RING = [
    # Three rods, each passing in front of the next as seen along the diagonal.
    Cuboid(0, 400, 600, 1_000, 600, 800),
    Cuboid(600, 0, 400, 800, 1_000, 600),
    Cuboid(400, 600, 0, 600, 800, 1_000),
]


def test_a_ring_is_cut() -> None:
    """Rods that hide each other in a ring are cut, and then painted right."""
    rng = random.Random(7)
    camera = Camera.looking_at(SCENE, azimuth=135, elevation=35)
    chunks = back_to_front(RING, camera)
    assert len(chunks) > 3
    assert sum(chunk.cuboid.volume for chunk in chunks) == sum(rod.volume for rod in RING)
    pixels = _pixels(rng, camera, 4_000)
    painted = _last_painted(chunks, camera, pixels)
    np.testing.assert_array_equal(painted, _first_hit(RING, camera, pixels))


def test_touching_cuboids_are_not_cut() -> None:
    """Cuboids that fill a block without gaps stay whole."""
    blocks = [
        Cuboid(x, y, z, x + 10, y + 10, z + 10)
        for x in (0, 10, 20)
        for y in (0, 10, 20)
        for z in (0, 10)
    ]
    chunks = back_to_front(blocks, Camera.looking_at(Cuboid(0, 0, 0, 30, 30, 20)))
    assert sorted(chunk.cuboid for chunk in chunks) == sorted(blocks)


def test_what_shares_volume_has_no_order() -> None:
    """Overlapping cuboids are refused rather than painted wrong."""
    one, two = Cuboid(0, 0, 0, 10, 10, 10), Cuboid(5, 5, 5, 15, 15, 15)
    with pytest.raises(ValueError, match="share volume"):
        back_to_front([one, two], Camera.looking_at(SCENE))


def test_nothing_is_painted_in_no_order() -> None:
    """An empty scene is no special case."""
    assert back_to_front([], Camera.looking_at(SCENE)) == ()
