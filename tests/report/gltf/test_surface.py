"""Surfaces of solids are closed, whole and the right way round: checked by trimesh."""

import random

import pytest
import trimesh

from packdown.geometry import Cuboid, Solid, bounds, volume
from packdown.report.gltf.surface import surface
from support.saltworks import example
from support.scenes import hooked

EDGE = (Cuboid(0, 0, 0, 1, 1, 1), Cuboid(1, 1, 0, 2, 2, 1))
CORNER = (Cuboid(0, 0, 0, 1, 1, 1), Cuboid(1, 1, 1, 2, 2, 2))
WINDOW = (Cuboid(0, 0, 2, 2, 2, 3), Cuboid(0, 0, 0, 2, 2, 1), CORNER[0].moved(0, 0, 1), CORNER[1])
"""Two slabs with two blocks between them that touch along an upright edge."""


def _checked(solid: Solid) -> int:
    """Insist that the surface encloses exactly the solid; return its number of triangles."""
    mesh = surface(solid)
    read = trimesh.Trimesh(mesh.points, mesh.triangles, process=False)
    assert read.is_watertight
    assert read.is_winding_consistent
    assert read.is_volume
    assert read.volume == pytest.approx(volume(solid), rel=1e-9)
    assert tuple(read.bounds.ravel()) == tuple(map(float, bounds(solid)))
    return len(mesh.triangles)


def test_a_cuboid_has_twelve_triangles() -> None:
    """Two for each of its six sides."""
    assert _checked((Cuboid(-3, 4, 5, 7, 9, 11),)) == 12


def test_what_lies_between_cuboids_is_left_out() -> None:
    """Two cubes side by side have ten squares outside: 20 triangles, not 24."""
    assert _checked((Cuboid(0, 0, 0, 1, 1, 1), Cuboid(1, 0, 0, 2, 1, 1))) == 20


@pytest.mark.parametrize("solid", [EDGE, CORNER])
def test_cubes_that_touch_along_an_edge_or_at_a_corner_stay_apart(solid: Solid) -> None:
    """Both keep their twelve triangles, with points of their own where they touch."""
    assert _checked(solid) == 24
    assert len(surface(solid).points) == 16


def test_an_edge_that_is_joined_at_both_ends_is_parted_in_its_middle() -> None:
    """The blocks in the window touch along an edge whose ends belong to one part each."""
    assert _checked(WINDOW) > 48


def test_a_hole_through_a_solid_stays_open() -> None:
    """A frame has the topology of a ring: its Euler number is 0 (that of a ball is 2)."""
    frame = (
        Cuboid(0, 0, 0, 3, 1, 1), Cuboid(0, 2, 0, 3, 3, 1),
        Cuboid(0, 1, 0, 1, 2, 1), Cuboid(2, 1, 0, 3, 2, 1),
    )  # fmt: skip
    _checked(frame)
    mesh = surface(frame)
    assert trimesh.Trimesh(mesh.points, mesh.triangles, process=False).euler_number == 0


@pytest.mark.parametrize("seed", range(5))
def test_many_shapes_at_once(seed: int) -> None:
    """Hooked pairs of L shapes, some touching."""
    _checked(tuple(hooked(random.Random(seed))))


def test_every_piece_of_the_example() -> None:
    """Walls with doors and windows, stepped covers of triangles, mills."""
    pieces = [*example().loose, *(piece for build in example().builds for piece in build.pieces)]
    for solid in {tuple(sorted(piece.cuboids_um)) for piece in pieces}:
        _checked(solid)
