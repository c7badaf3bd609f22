"""Round and slanted shapes are covered from outside and filled from inside."""

from math import cos, pi, radians, sin
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

from packdown.errors import Problem
from packdown.files.parts import read_parts
from packdown.files.spots import posed
from packdown.geometry import (
    TURNS,
    Cuboid,
    Solid,
    WayUp,
    bounds,
    contains,
    cover_disc,
    cover_triangle,
    volume,
)
from packdown.model import Part

DIAMETERS = st.integers(1_000, 300_000)
COUNTS = st.integers(2, 40)


def plan(solid: Solid) -> Polygon:
    """Return the outline of a prism as seen from above."""
    return unary_union([box(c.x0, c.y0, c.x1, c.y1) for c in solid])


def circle(diameter: int) -> Polygon:
    """Return a polygon of 1,440 corners on the circle, inside it but for its corners."""
    radius = diameter / 2
    corners = (radians(k / 4) for k in range(1_440))
    return Polygon([(radius + radius * cos(a), radius + radius * sin(a)) for a in corners])


@settings(deadline=None)
@given(DIAMETERS, COUNTS)
def test_a_disc_lies_between_core_and_cover(diameter: int, count: int) -> None:
    """Shapely: the cover holds the circle, and every corner of the core lies on it or inside."""
    cover, core = cover_disc(diameter, 5_000, -(-diameter // count))
    assert plan(cover).buffer(1e-3).covers(circle(diameter))
    centre = Point(diameter / 2, diameter / 2)
    for c in core:
        for corner in ((c.x0, c.y0), (c.x0, c.y1), (c.x1, c.y0), (c.x1, c.y1)):
            assert centre.distance(Point(corner)) <= diameter / 2 + 1e-6
    assert bounds(cover) == Cuboid(0, 0, 0, diameter, diameter, 5_000)


@pytest.mark.parametrize("count", [10, 50, 200])
def test_finer_steps_come_closer_to_the_circle(count: int) -> None:
    """A circle of 100 mm has pi 50^2 mm2; cover and core differ by two diameters times a step."""
    area, step = pi * 50_000**2, 100_000 // count
    cover, core = cover_disc(100_000, 1, step)
    assert volume(core) < area < volume(cover)
    # On either side of the middle the chords of the columns add up to one diameter; rounding to
    # whole micrometres adds at most four a column.
    assert volume(cover) - volume(core) <= 2 * 100_000 * step + 4 * 100_000


def test_a_disc_in_four_steps() -> None:
    """By hand: a diameter of 100 in steps of 25; the half chord at 25 is sqrt(50^2 - 25^2)."""
    cover, core = cover_disc(100, 10, 25)
    # The half chord is 43.3. From 25 to 75 the cover is the full 100; outside it is 50 - 44 = 6
    # to 94, and the core has only its two middle steps, 7 to 93.
    assert set(cover) == {
        Cuboid(0, 6, 0, 25, 94, 10),
        Cuboid(25, 0, 0, 75, 100, 10),
        Cuboid(75, 6, 0, 100, 94, 10),
    }
    assert core == (Cuboid(25, 7, 0, 75, 93, 10),)


@given(st.sampled_from(WayUp), st.sampled_from(TURNS), COUNTS)
def test_cover_and_core_turn_together(way_up: WayUp, turn: int, count: int) -> None:
    """However a triangle is turned, its core stays inside its cover."""
    cover, core = cover_triangle(40_000, 30_000, 20_000, -(-40_000 // count))
    part = Part(id="heap", name="Heap", cover_um=cover, core_um=core, weight_g=1)
    turned, inside, _, _ = posed(part, way_up, turn)
    assert bounds(turned)[:3] == (0, 0, 0)
    assert contains(turned, inside)
    assert volume(inside) == volume(core)


@pytest.mark.parametrize("count", [2, 3, 7])
def test_a_disc_that_does_not_divide_evenly(count: int) -> None:
    """Steps of a prime diameter differ by a micrometre and still cover it."""
    cover, core = cover_disc(10_007, 1, -(-10_007 // count))
    assert volume(core) < pi * 10_007**2 / 4 < volume(cover)


def part_with(text: str, folder: Path) -> tuple[Part | None, list[str]]:
    """Read one part of cuboids; return it, and what is wrong with it."""
    (folder / "parts.toml").write_text(f'[parts.p]\nweight = "1 g"\n{text}\n', encoding="utf-8")
    found: list[Problem] = []
    part = read_parts(folder, found).by_id["p"]
    return part, [str(problem) for problem in found]


COVER = 'cuboids = [{ from = ["1 mm", "0 mm", "0 mm"], to = ["9 mm", "8 mm", "8 mm"] }]'


def test_cuboids_may_have_a_core_of_their_own(tmp_path: Path) -> None:
    """The core lies in the cover and moves with it to the origin; it may be empty."""
    core = 'core = [{ from = ["2 mm", "1 mm", "1 mm"], to = ["8 mm", "7 mm", "7 mm"] }]'
    part, found = part_with(f"{COVER}\n{core}", tmp_path)
    assert not found
    assert part is not None
    assert part.core_um == (Cuboid(1_000, 1_000, 1_000, 7_000, 7_000, 7_000),)
    assert part.cover_um == (Cuboid(0, 0, 0, 8_000, 8_000, 8_000),)
    part, found = part_with(f"{COVER}\ncore = []", tmp_path)
    assert part is not None
    assert part.core_um == ()


def test_a_core_that_is_wrong_is_reported(tmp_path: Path) -> None:
    """A core reaches nowhere out of the cover, and only cuboids have one."""
    core = 'core = [{ from = ["0 mm", "1 mm", "1 mm"], to = ["8 mm", "7 mm", "7 mm"] }]'
    part, found = part_with(f"{COVER}\n{core}", tmp_path)
    assert part is None
    assert found == ["parts.toml: parts.p.core: reaches out of the cuboids"]
    _, found = part_with('size = ["8 mm", "8 mm", "8 mm"]\ncore = []', tmp_path)
    assert found == ["parts.toml: parts.p.core: only cuboids can have a core of their own"]
