"""The perspective against what holds for every central projection."""

import numpy as np
import pytest

from packdown.geometry import Cuboid, Direction
from packdown.report.projection import Camera, faces_away, faces_toward

BOX = Cuboid(0, 0, 0, 400_000, 300_000, 200_000)


def test_the_middle_of_the_box_is_the_middle_of_the_drawing() -> None:
    """The camera looks at the middle of what it is given."""
    camera = Camera.looking_at(BOX)
    np.testing.assert_allclose(camera.project([(200_000, 150_000, 100_000)]), [[0, 0]], atol=1e-5)


def test_the_eye_stands_in_front_to_the_left_and_above() -> None:
    """By default one looks as one would standing at the front left corner."""
    x, y, z = Camera.looking_at(BOX).eye
    assert x < 0
    assert y < 0
    assert z > BOX.z1


def test_up_is_up_and_right_is_right() -> None:
    """Drawings have their y axis pointing down."""
    camera = Camera.looking_at(BOX, azimuth=0)
    low, high, right = camera.project([(200_000, 0, 0), (200_000, 0, 200_000), (300_000, 0, 0)])
    assert high[1] < low[1]
    assert right[0] > low[0]


def test_twice_as_far_is_half_as_large() -> None:
    """A segment square to the line of sight shrinks with distance (Euclid, Optics)."""
    camera = Camera(eye=(0, 0, 0), axes=((1, 0, 0), (0, 0, -1), (0, 1, 0)))
    near = camera.project([(0, 1_000, 0), (10, 1_000, 0)])
    far = camera.project([(0, 2_000, 0), (10, 2_000, 0)])
    assert near[1][0] - near[0][0] == pytest.approx(2 * (far[1][0] - far[0][0]))


def test_parallel_lines_meet_in_one_point() -> None:
    """Far along parallel lines all drawings of them come together."""
    camera = Camera.looking_at(BOX, elevation=10)
    far = 10**15
    starts = [(0, 0, 0), (300_000, 0, 0), (0, 0, 150_000)]
    ends = camera.project([(x, y + far, z) for x, y, z in starts])
    np.testing.assert_allclose(ends, np.repeat(ends[:1], 3, axis=0), atol=1e-8)


def test_faces_split_into_those_that_look_at_the_eye_and_the_rest() -> None:
    """From the front left above, three faces are seen and three are not."""
    eye = Camera.looking_at(BOX).eye
    toward = {face.side for face in faces_toward(BOX, eye)}
    away = {face.side for face in faces_away(BOX, eye)}
    assert toward == {Direction.FRONT, Direction.LEFT, Direction.UP}
    assert away == {Direction.BACK, Direction.RIGHT, Direction.DOWN}


def test_the_eye_must_be_outside() -> None:
    """A camera inside the box is refused, and so are points behind the eye."""
    with pytest.raises(ValueError, match="away"):
        Camera.looking_at(BOX, away=0.4)
    camera = Camera.looking_at(BOX)
    behind = tuple(2 * value for value in camera.eye)
    with pytest.raises(ValueError, match="behind"):
        camera.project([(behind[0], behind[1], behind[2])])


def test_rays_go_through_what_they_are_projected_from() -> None:
    """A point on a ray falls where the ray pierces the drawing."""
    camera = Camera.looking_at(Cuboid(0, 0, 0, 300, 200, 100), azimuth=40, elevation=25)
    pixels = np.array([[0.0, 0.0], [0.1, -0.05], [-0.2, 0.15]])
    points = camera.eye + 700 * camera.rays(pixels)
    np.testing.assert_allclose(camera.project(points), pixels, atol=1e-12)
