"""Covers contain the shape, wherever it is looked at, and are exact where they can be."""

from pathlib import Path

import numpy as np
import pytest

from packdown.geometry import Cuboid, contains, disjoint_union, overlap, volume
from packdown.measuring import Measured, measure_file
from support.meshes import CUBOID_SHAPES, Shape, generated, how, outside, spilt_um3, write_stl

SHAPES = {shape.name: shape for shape in generated()}


def measured(shape: Shape, folder: Path, resolution_um: int = 2_000, most: int = 200) -> Measured:
    """Write a shape and measure it."""
    path = folder / "shape.stl"
    write_stl(shape.triangles, path)
    return measure_file(path, how(resolution_um, most))


def test_there_are_enough_shapes() -> None:
    """At least forty meshes are tried."""
    assert len(SHAPES) >= 40


@pytest.mark.parametrize("name", SHAPES)
def test_a_cover_contains_every_sampled_point(name: str, tmp_path: Path) -> None:
    """No point of the surface lies outside, whether many cuboids are allowed or few."""
    shape = SHAPES[name]
    for resolution_um, most in ((2_000, 200), (4_000, 12), (7_300, 1)):
        one = measured(shape, tmp_path, resolution_um, most)
        assert len(one.cover_um) <= most
        assert outside(shape.triangles, one.cover_um, seed=most) == 0
        assert volume(one.cover_um) >= one.fine_um3
        assert one.fine_um3 * 1.000_001 >= one.volume_um3
        assert min(min(cuboid[:3]) for cuboid in one.cover_um) == 0


@pytest.mark.parametrize("name", ["ball", "torus turned", "round arch", "bowl", "hull 3", "cone"])
def test_nothing_of_a_body_spills_out_of_its_cover(name: str, tmp_path: Path) -> None:
    """What an outside library of exact booleans leaves of the body without its cover is nothing."""
    shape = SHAPES[name]
    one = measured(shape, tmp_path)
    assert spilt_um3(shape.triangles, one.cover_um) <= 1e-7 * one.volume_um3


@pytest.mark.parametrize("name", CUBOID_SHAPES)
@pytest.mark.parametrize("resolution_um", [1_000, 2_000, 5_000])
def test_shapes_of_cuboids_come_back_exactly(name: str, resolution_um: int, tmp_path: Path) -> None:
    """Boxes, L-shapes, arches and rings are met without any air, by few cuboids."""
    if resolution_um == 5_000 and name == "table":
        resolution_um = 4_000  # its legs are thinner than a coarser grid can tell apart
    true = [Cuboid(*(1_000 * at for at in cuboid)) for cuboid in CUBOID_SHAPES[name]]
    one = measured(SHAPES[name], tmp_path, resolution_um)
    assert contains(true, one.cover_um)
    assert contains(one.cover_um, true)
    assert contains(one.core_um, true)
    assert one.air_percent == pytest.approx(0, abs=1e-6)
    assert len(one.cover_um) <= len(disjoint_union(true)) + 2


@pytest.mark.parametrize("name", ["ball", "bowl", "l-shape turned", "tower"])
def test_a_core_lies_inside(name: str, tmp_path: Path) -> None:
    """No sampled point of the surface lies in the inside of a cuboid of the core."""
    shape = SHAPES[name]
    one = measured(shape, tmp_path, 1_000)
    assert one.core_um
    assert contains(one.cover_um, one.core_um)
    shrunk = tuple(
        Cuboid(c.x0 + 1, c.y0 + 1, c.z0 + 1, c.x1 - 1, c.y1 - 1, c.z1 - 1) for c in one.core_um
    )
    assert outside(shape.triangles, shrunk, seed=5, count=5_000) == 15_000 - max(
        0, 10_000 - 3 * len(shape.triangles)
    )


def test_a_cover_is_of_disjoint_cuboids(tmp_path: Path) -> None:
    """Cuboids of a cover share no volume, and those of a core do not either."""
    one = measured(SHAPES["torus turned"], tmp_path)
    for solid in (one.cover_um, one.core_um):
        assert not any(overlap([a], solid[:i]) for i, a in enumerate(solid))


def test_finer_grids_hold_less_air(tmp_path: Path) -> None:
    """The cells that a ball meets come nearer to it as they get smaller."""
    fine = [measured(SHAPES["ball"], tmp_path, um).fine_um3 for um in (4_000, 2_000, 1_000)]
    assert fine == sorted(fine, reverse=True)
    assert fine[2] < 1.1 * 4 / 3 * np.pi * 25_000**3


def test_the_same_file_gives_the_same_cover(tmp_path: Path) -> None:
    """Measuring twice gives the same, and so does the same shape with its triangles shuffled."""
    shape = SHAPES["hull 2"]
    order = np.random.default_rng(0).permutation(len(shape.triangles))
    first = measured(shape, tmp_path)
    again = measured(Shape("shuffled", shape.triangles[order]), tmp_path)
    assert again.cover_um == first.cover_um
    assert again.weight_g == first.weight_g


def test_a_sheet_on_a_plane_of_the_grid_is_covered(tmp_path: Path) -> None:
    """Two triangles back to back on a plane of the grid enclose nothing and are still covered."""
    square = np.array([[(30, 0, 10), (40, 0, 10), (40, 10, 10)]], np.float64)
    fin = np.concatenate([square, square[:, ::-1]])
    shape = Shape("fin", np.concatenate([SHAPES["box"].triangles, fin + np.array([20, 10, 0])]))
    one = measured(shape, tmp_path)
    assert outside(shape.triangles, one.cover_um, seed=1) == 0
