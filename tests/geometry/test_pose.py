"""Poses against matrices and the rotation group of the cube."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from packdown.geometry import (
    ON_SIDE,
    TURNS,
    Direction,
    Solid,
    WayUp,
    bounds,
    direction_of,
    rotate_cuboid,
    rotate_vector,
    rotated,
    volume,
    ways_in_frame,
)
from support.solids import solids

UNITS = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
POSES = tuple(product(WayUp, TURNS))
Matrix = tuple[tuple[int, ...], ...]
LOWERED = {
    WayUp.UPRIGHT: (0, 0, -1),
    WayUp.UPSIDE_DOWN: (0, 0, 1),
    WayUp.ON_LEFT: (-1, 0, 0),
    WayUp.ON_RIGHT: (1, 0, 0),
    WayUp.ON_FRONT: (0, -1, 0),
    WayUp.ON_BACK: (0, 1, 0),
}


def _matrix(way_up: WayUp, turn: int) -> NDArray[np.int64]:
    columns = [rotate_vector(unit, way_up, turn) for unit in UNITS]
    return np.array(columns, dtype=np.int64).T


def _rows(matrix: NDArray[np.int64]) -> Matrix:
    return tuple(tuple(int(part) for part in row) for row in matrix)


def test_poses_are_the_rotations_of_the_cube() -> None:
    """The 24 poses are the 24 rotations that a general library gives for the cube."""
    poses = {_rows(_matrix(*pose)) for pose in POSES}
    group = Rotation.create_group("O").as_matrix()
    assert poses == {_rows(np.rint(matrix).astype(np.int64)) for matrix in group}
    assert len(poses) == 24


def test_poses_are_a_group_of_rotations() -> None:
    """No pose mirrors, and one pose after another is a pose."""
    matrices = [_matrix(*pose) for pose in POSES]
    assert all(round(float(np.linalg.det(matrix))) == 1 for matrix in matrices)
    poses = {_rows(matrix) for matrix in matrices}
    assert {_rows(a @ b) for a, b in product(matrices, matrices)} == poses


@pytest.mark.parametrize(("way_up", "turn"), POSES)
def test_named_side_is_down(way_up: WayUp, turn: int) -> None:
    """The side that gives a way up its name looks down, however it is turned."""
    assert rotate_vector(LOWERED[way_up], way_up, turn) == (0, 0, -1)


def test_turns_are_anticlockwise() -> None:
    """Seen from above, a turn by 90 degrees takes right to back and back to left."""
    assert rotate_vector((1, 0, 0), WayUp.UPRIGHT, 90) == (0, 1, 0)
    assert rotate_vector((0, 1, 0), WayUp.UPRIGHT, 90) == (-1, 0, 0)
    assert rotate_vector((1, 0, 0), WayUp.UPRIGHT, 270) == (0, -1, 0)


@pytest.mark.parametrize("way_up", ON_SIDE)
def test_on_side_swaps_height(way_up: WayUp) -> None:
    """On each of the four sides, the height no longer points up."""
    assert rotate_vector((0, 0, 1), way_up, 0)[2] == 0


@settings(max_examples=100, deadline=None)
@given(solids(), st.sampled_from(POSES), st.tuples(*[st.integers(-20, 20)] * 3))
def test_turned_solid_keeps_its_shape(
    solid: Solid, pose: tuple[WayUp, int], at: tuple[int, int, int]
) -> None:
    """A turned solid keeps volume and order, stands where it is put, and says how it got there."""
    placed, shift = rotated(solid, *pose, at)
    assert volume(placed) == volume(solid)
    assert bounds(placed)[:3] == at
    assert bounds(rotated(solid, *pose)[0])[:3] == (0, 0, 0)
    assert [c.volume for c in placed] == [c.volume for c in solid]
    assert list(placed) == [rotate_cuboid(c, *pose).moved(*shift) for c in solid]
    corners = _matrix(*pose) @ np.array([solid[0][:3], solid[0][3:]]).T + np.array([shift]).T
    assert tuple(int(low) for low in corners.min(axis=1)) == placed[0][:3]


@pytest.mark.parametrize(("way_up", "turn"), POSES)
def test_ways_are_said_in_the_new_frame(way_up: WayUp, turn: int) -> None:
    """A way of the new frame is allowed exactly if both turns together put an allowed side down."""
    for allowed in (WayUp.UPRIGHT, WayUp.ON_LEFT, WayUp.ON_BACK):
        known = ways_in_frame((allowed,), way_up, turn)
        for way in WayUp:
            both = _matrix(way, 0) @ _matrix(way_up, turn)
            lowered = tuple(int(part) for part in both @ np.array(LOWERED[allowed]))
            assert (way in known) == (lowered == (0, 0, -1))


def test_other_turns_are_refused() -> None:
    """Only quarter turns keep axes parallel."""
    with pytest.raises(ValueError, match="turn must be one of"):
        rotate_vector((1, 0, 0), WayUp.UPRIGHT, 45)


@pytest.mark.parametrize("direction", Direction)
def test_directions_are_unit_vectors(direction: Direction) -> None:
    """A direction is known by its vector, lies on its axis and has an opposite."""
    assert direction_of(direction.vector) is direction
    assert abs(direction.vector[direction.axis]) == 1
    assert sum(map(abs, direction.vector)) == 1
    assert direction.opposite.opposite is direction
    assert np.dot(direction.vector, direction.opposite.vector) == -1
