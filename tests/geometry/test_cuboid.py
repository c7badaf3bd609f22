"""Cuboids and solids against meshes, cells and the plane geometry of general libraries."""

import math
from fractions import Fraction
from itertools import combinations, product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box, union_all

from packdown.geometry import (
    Cuboid,
    Solid,
    bounds,
    contains,
    cover_disc,
    cover_triangle,
    difference,
    disjoint_union,
    footprint_overlap,
    overlap,
    size,
    translate,
    volume,
)
from support.solids import cells, cuboids, heaps, mesh, solids

slow = settings(max_examples=150, deadline=None)


@slow
@given(heaps(), st.randoms(use_true_random=False))
def test_union_is_the_same_solid(heap: list[Cuboid], random: Random) -> None:
    """A disjoint union has the volume of the mesh, no overlaps, and does not know any order."""
    union = disjoint_union(heap)
    assert volume(union) == pytest.approx(mesh(heap).volume())
    assert not any(a.overlaps(b) for a, b in combinations(union, 2))
    assert cells(union) == cells(heap)
    random.shuffle(heap)
    assert disjoint_union(heap) == union


@slow
@given(solids(), heaps())
def test_difference_is_what_is_left(solid: Solid, holes: list[Cuboid]) -> None:
    """A difference has the volume of the mesh and touches no hole."""
    left = difference(solid, holes)
    assert volume(left) == pytest.approx((mesh(solid) - mesh(holes)).volume())
    assert cells(left) == cells(solid) - cells(holes)
    assert not overlap(left, holes)


@slow
@given(heaps(reach=4), heaps(reach=3, most=2))
def test_contains_means_nothing_sticks_out(outer: list[Cuboid], inner: list[Cuboid]) -> None:
    """One solid contains another exactly if the mesh of the rest is empty."""
    assert contains(outer, inner) == ((mesh(inner) - mesh(outer)).volume() < 0.5)
    assert contains(outer, inner) == (cells(inner) <= cells(outer))


@slow
@given(solids(), solids())
def test_overlap_means_shared_volume(one: Solid, two: Solid) -> None:
    """Solids overlap exactly if the intersection of their meshes has volume."""
    assert overlap(one, two) == ((mesh(one) ^ mesh(two)).volume() > 0.5)


@slow
@given(cuboids(), cuboids())
def test_footprint_overlap_is_the_shared_area(a: Cuboid, b: Cuboid) -> None:
    """The shared footprint has the area that plane geometry finds."""
    seen = box(a.x0, a.y0, a.x1, a.y1).intersection(box(b.x0, b.y0, b.x1, b.y1))
    assert footprint_overlap(a, b) == seen.area


@slow
@given(solids(), st.tuples(*[st.integers(-50, 50)] * 3))
def test_moving_keeps_the_solid(solid: Solid, shift: tuple[int, int, int]) -> None:
    """A moved solid keeps its volume and size, and its bounds move with it."""
    there = translate(solid, *shift)
    assert volume(there) == volume(solid)
    assert size(there) == size(solid)
    assert bounds(there) == bounds(solid).moved(*shift)
    assert bounds(solid)[3:] == tuple(max(cell[a] for cell in cells(solid)) + 1 for a in range(3))


def test_union_merges_what_was_cut() -> None:
    """A cube cut into eight becomes one cuboid again."""
    eight = [Cuboid(x, y, z, x + 5, y + 5, z + 5) for x, y, z in product((0, 5), repeat=3)]
    assert disjoint_union(eight) == (Cuboid(0, 0, 0, 10, 10, 10),)


def test_union_refuses_flat_cuboids() -> None:
    """A cuboid without volume is misuse, not a solid."""
    with pytest.raises(ValueError, match="positive size"):
        disjoint_union([Cuboid(0, 0, 0, 5, 5, 0)])


def test_union_is_exact_at_full_scale() -> None:
    """A sliver of one micrometre on a metre is neither lost nor rounded."""
    board = Cuboid(0, 0, 0, 10**6, 10**6, 10**6)
    sliver = Cuboid(10**6, 0, 0, 10**6 + 1, 10**6, 10**6)
    assert volume(disjoint_union([board, sliver])) == 10**18 + 10**12
    assert not contains([board], [sliver])
    assert contains([board, sliver], [Cuboid(5, 5, 5, 10**6 + 1, 10**6, 10**6)])


def test_bounds_of_nothing_is_misuse() -> None:
    """There is no smallest cuboid around nothing."""
    with pytest.raises(ValueError, match="unpack"):
        bounds([])


def _plan(solid: Solid) -> Polygon:
    return union_all([box(c.x0, c.y0, c.x1, c.y1) for c in solid])


@slow
@given(st.integers(2, 400), st.integers(2, 400), st.integers(1, 50), st.integers(1, 120))
def test_triangle_lies_between_core_and_cover(
    length: int, width: int, height: int, step: int
) -> None:
    """The prism lies inside its cover and its core inside the prism, as plane geometry sees it."""
    cover, core = cover_triangle(length, width, height, step)
    triangle = Polygon([(0, 0), (length, 0), (0, width)])
    assert triangle.difference(_plan(cover)).area == pytest.approx(0, abs=1e-6)
    assert _plan(core).difference(triangle).area == pytest.approx(0, abs=1e-6)
    assert {c.z0 for c in cover + core} == {0}
    assert {c.z1 for c in cover + core} == {height}
    # A staircase over n steps exceeds the triangle by at most one step, and a unit of rounding.
    assert _plan(cover).area - triangle.area <= step * width + length
    assert triangle.area - _plan(core).area <= step * width + length


@slow
@given(st.integers(1, 10**6), st.integers(1, 10**6), st.integers(1_000, 10**6))
def test_triangle_cover_is_exact(length: int, width: int, step: int) -> None:
    """No corner of the cover is a micrometre too low, none of the core too high."""
    cover, core = cover_triangle(length, width, 1, step)
    for c in cover:
        assert c.y1 >= Fraction(width * (length - c.x0), length)
    for c in core:
        assert c.y1 <= Fraction(width * (length - c.x1), length)
    assert bounds(cover) == Cuboid(0, 0, 0, length, width, 1)


def test_triangle_of_one_step_has_no_core() -> None:
    """A triangle covered in one step is its box, and certain of nothing."""
    assert cover_triangle(10, 10, 2, 10) == ((Cuboid(0, 0, 0, 10, 10, 2),), ())


@slow
@given(st.integers(4, 300), st.integers(1, 50), st.integers(1, 100))
def test_disc_lies_between_core_and_cover(diameter: int, height: int, step: int) -> None:
    """The cylinder lies inside its cover and its core inside the cylinder."""
    step = min(step, diameter // 2)
    cover, core = cover_disc(diameter, height, step)
    # The library's disc has corners on the true circle, so it lies inside the true disc.
    disc = Point(diameter / 2, diameter / 2).buffer(diameter / 2, quad_segs=64)
    assert disc.difference(_plan(cover)).area == pytest.approx(0, abs=1e-6)
    for c in cover:
        for x in range(c.x0, c.x1 + 1):
            assert (2 * c.y0 - diameter) ** 2 >= diameter**2 - (2 * x - diameter) ** 2
    for c in core:
        for x, y in product((c.x0, c.x1), (c.y0, c.y1)):
            assert (2 * x - diameter) ** 2 + (2 * y - diameter) ** 2 <= diameter**2
    assert bounds(cover) == Cuboid(0, 0, 0, diameter, diameter, height)
    assert {c.z0 for c in core} <= {0}
    assert {c.z1 for c in core} <= {height}


def test_disc_grows_round_with_small_steps() -> None:
    """With steps of a hundredth, cover and core are within two hundredths of the circle's area."""
    cover, core = cover_disc(1_000, 1, 10)
    area = math.pi * 500**2
    assert area < _plan(cover).area < 1.02 * area
    assert 0.98 * area < _plan(core).area < area
