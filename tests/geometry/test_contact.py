"""Contact, drop and sweep against cells moved step by step; hulls against general libraries."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from shapely import MultiPoint, Point, box, union_all

from packdown.geometry import (
    Cuboid,
    Direction,
    Rect,
    Solid,
    blocks,
    bounds,
    convex_hull,
    drop_height,
    face_contact,
    inside_hull,
    lowest_faces,
    meeting_face,
    overlap,
    plan_of,
    rests_on,
    translate,
)
from support.solids import cells, cuboids, moved, solids

slow = settings(max_examples=150, deadline=None)


@slow
@given(solids(reach=6), solids(reach=6))
def test_face_contact_counts_touching_cells(a: Solid, b: Solid) -> None:
    """The area of contact on each side is the number of cells of `b` beside cells of `a`."""
    assume(not overlap(a, b))
    counted = {way: len(moved(cells(a), way.vector) & cells(b)) for way in Direction}
    assert face_contact(a, b) == {way: area for way, area in counted.items() if area}


@slow
@given(solids(reach=6), solids(reach=6), st.integers(0, 3))
def test_rests_on_counts_cells_below(a: Solid, b: Solid, gap: int) -> None:
    """Lifted by a gap, a solid rests on as many cells as it touches without."""
    assume(not overlap(a, b))
    upper = translate(a, 0, 0, gap)
    area = sum(rect.area for rect in rests_on(upper, b, gap))
    assert area == face_contact(a, b).get(Direction.DOWN, 0)


@slow
@given(cuboids(), cuboids())
def test_rests_on_is_the_shared_rectangle(a: Cuboid, b: Cuboid) -> None:
    """Put on top of another, a cuboid rests on what plane geometry finds they share."""
    upper = a.moved(0, 0, b.z1 - a.z0)
    shared = box(*plan_of(a)).intersection(box(*plan_of(b)))
    rects = rests_on([upper], [b])
    assert [rect.area for rect in rects] == ([shared.area] if shared.area else [])
    assert [tuple(rect) for rect in rects] == ([shared.bounds] if shared.area else [])


@slow
@given(solids())
def test_lowest_faces_are_the_lowest_cells(solid: Solid) -> None:
    """The lowest faces cover the lowest cells of a solid and nothing else."""
    low = bounds(solid).z0
    faces = lowest_faces(solid)
    floor = {(x, y) for x, y, z in cells(solid) if z == low}
    assert sum(face.area for face in faces) == len(floor)
    assert union_all([box(*face) for face in faces]).area == len(floor)


@slow
@given(solids(reach=6), solids(reach=6), st.integers(0, 2), st.integers(0, 2))
def test_drop_height_is_where_stepping_stops(
    solid: Solid, below: Solid, clearance: int, gap: int
) -> None:
    """Lowered cell by cell from high above, a solid stops at the height it is said to rest at."""
    falling = cells(translate(solid, 0, 0, -bounds(solid).z0))
    kept = clearance
    there = cells(
        Cuboid(c.x0 - kept, c.y0 - kept, c.z0, c.x1 + kept, c.y1 + kept, c.z1 + gap) for c in below
    )
    height = 20
    while height > 0 and not moved(falling, (0, 0, height - 1)) & there:
        height -= 1
    lowered = translate(solid, 0, 0, -bounds(solid).z0)
    assert drop_height(lowered, below, clearance=clearance, gap=gap) == height


def test_drop_reaches_into_hollows() -> None:
    """A post comes to rest between two blocks that are far enough apart, on them if not."""
    blocks_there = [Cuboid(0, 0, 0, 10, 10, 10), Cuboid(20, 0, 0, 30, 10, 10)]
    post = [Cuboid(12, 0, 0, 18, 10, 40)]
    assert drop_height(post, blocks_there, clearance=2) == 0
    assert drop_height(post, blocks_there, clearance=3) == 10
    assert drop_height(post, blocks_there, clearance=3, gap=1) == 11


@slow
@given(solids(reach=6), solids(reach=6), st.sampled_from(Direction))
def test_blocks_is_what_stepping_meets(a: Solid, b: Solid, direction: Direction) -> None:
    """Something is in the way exactly if one meets it moving step by step."""
    x, y, z = direction.vector
    meets = any(moved(cells(a), (step * x, step * y, step * z)) & cells(b) for step in range(13))
    assert blocks(a, b, direction) == meets


@slow
@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=3, max_size=25))
def test_hull_is_that_of_the_libraries(points: list[tuple[int, int]]) -> None:
    """The hull has the area that two libraries find, turns left at each corner and keeps all in."""
    around = MultiPoint(points).convex_hull
    assume(around.area > 0)
    hull = convex_hull(points)
    assert around.area == pytest.approx(ConvexHull(np.array(points)).volume)
    assert set(hull) == {(int(x), int(y)) for x, y in around.exterior.coords} & set(hull)
    doubled = [
        ax * by - bx * ay for (ax, ay), (bx, by) in zip(hull, hull[1:] + hull[:1], strict=True)
    ]
    assert sum(doubled) == pytest.approx(2 * around.area)
    corners = zip(hull, hull[1:] + hull[:1], hull[2:] + hull[:2], strict=True)
    assert all((b[0] - a[0]) * (c[1] - b[1]) > (b[1] - a[1]) * (c[0] - b[0]) for a, b, c in corners)


def test_hull_of_a_line_is_its_ends() -> None:
    """Points in a line have no inside."""
    assert convex_hull([(0, 0), (1, 1), (2, 2)]) == ((0, 0), (2, 2))
    assert not inside_hull((1, 1), [])


rects = st.lists(cuboids(30).map(plan_of), min_size=1, max_size=4)


@slow
@given(rects, st.tuples(st.integers(0, 120), st.integers(0, 120)))
def test_inside_hull_is_covered_by_the_polygon(feet: list[Rect], quarters: tuple[int, int]) -> None:
    """A point is inside exactly if the library's hull covers it, its edge included."""
    x, y = Fraction(quarters[0], 4), Fraction(quarters[1], 4)
    hull = union_all([box(*foot) for foot in feet]).convex_hull
    assert inside_hull((x, y), feet) == hull.covers(Point(float(x), float(y)))


@slow
@given(rects, st.tuples(st.integers(0, 30), st.integers(0, 30)), st.integers(1, 10))
def test_margin_is_the_distance_to_the_edge(
    feet: list[Rect], point: tuple[int, int], margin: int
) -> None:
    """With a margin, a point must be that far from the edge of the library's hull."""
    hull = union_all([box(*foot) for foot in feet]).convex_hull
    distance = hull.exterior.distance(Point(point))
    assume(abs(distance - margin) > 1e-6)
    expected = hull.covers(Point(point)) and distance > margin
    assert inside_hull(point, feet, margin) == expected


def test_inside_hull_is_exact() -> None:
    """A point on a slanted edge is inside; a billionth of a micrometre further out it is not."""
    feet = [Rect(0, 0, 1, 1), Rect(999_999, 333_332, 1_000_000, 333_333)]
    # The lower edge runs from (1, 0) to (1 000 000, 333 332).
    on_edge = (Fraction(1) + Fraction(999_999, 7), Fraction(333_332, 7))
    assert inside_hull(on_edge, feet)
    assert not inside_hull((on_edge[0], on_edge[1] - Fraction(1, 10**9)), feet)


def test_meeting_face_is_the_box_of_all_contacts() -> None:
    """A wall touches a stepped side at two heights in one plane; between them is air."""
    stepped = (Cuboid(0, 0, 0, 10, 8, 2), Cuboid(0, 0, 2, 6, 8, 5), Cuboid(0, 0, 5, 10, 8, 9))
    wall = (Cuboid(10, 3, 1, 12, 20, 7),)
    assert meeting_face(stepped, wall, 0) == Cuboid(10, 3, 1, 10, 8, 7)
    assert meeting_face(wall, stepped, 0) == Cuboid(10, 3, 1, 10, 8, 7)


def test_meeting_face_of_covers_that_overlap() -> None:
    """Where nothing touches, it is flat in the middle of what the boxes share, or of the gap."""
    one, two = (Cuboid(0, 0, 0, 10, 10, 10),), (Cuboid(6, 2, 0, 20, 8, 10),)
    assert meeting_face(one, two, 0) == Cuboid(8, 2, 0, 8, 8, 10)
    assert meeting_face(one, (Cuboid(14, 2, 0, 20, 8, 10),), 0) == Cuboid(12, 2, 0, 12, 8, 10)
