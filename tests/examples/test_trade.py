"""Measurements every builder knows come out of the geometry (common practice, no source)."""

from packdown.geometry import (
    Cuboid,
    Solid,
    WayUp,
    contains,
    cover_disc,
    cover_triangle,
    drop_height,
    overlap,
    rotated,
    size,
    translate,
    volume,
)
from packdown.units import parse_length

INCH = parse_length("1 in")
MODULE = 2 * INCH
THICK = INCH // 2
FLOOR = Cuboid(0, 0, 0, MODULE, MODULE, THICK)
FULL = (FLOOR,)


def module_with(x0: int, x1: int) -> Solid:
    """Return a floor module that carries a wall or column 1 1/2 in high between two x."""
    return (FLOOR, Cuboid(x0, 0, THICK, x1, MODULE, MODULE))


def test_two_modules_stacked_are_four_inches_high() -> None:
    """A module is 2 in high over all, its wall 1 1/2 in above the floor; the next rests on it."""
    lower = module_with(0, THICK)
    assert size(lower) == (MODULE, MODULE, MODULE)
    height = drop_height(lower, lower)
    upper = translate(lower, 0, 0, height)
    assert size(lower + upper) == (MODULE, MODULE, 4 * INCH)


def test_the_clear_way_between_facing_columns() -> None:
    """Two modules side by side, each with a column 1 in deep on its far side: 2 in stay clear."""
    left = module_with(0, INCH)
    right = translate(module_with(INCH, MODULE), MODULE, 0, 0)

    def walker(width: int) -> Solid:
        return (Cuboid(INCH, 0, THICK, INCH + width, MODULE, MODULE),)

    assert not overlap(walker(2 * INCH), left + right)
    assert overlap(walker(2 * INCH + 1), left + right)


def test_two_diagonals_back_to_back_are_one_module() -> None:
    """Each is half of a module: what is certainly solid never meets, the covers leave no gap."""
    cover, core = cover_triangle(MODULE, MODULE, THICK, 4_000)
    other_cover, _ = rotated(cover, WayUp.UPRIGHT, 180)
    other_core, _ = rotated(core, WayUp.UPRIGHT, 180)
    corner = size(core)
    other_core = translate(other_core, MODULE - corner[0], MODULE - corner[1], 0)
    assert not overlap(core, other_core)
    assert contains(cover + other_cover, FULL)
    assert contains(FULL, cover + other_cover)
    assert 2 * volume(core) < volume(FULL) < 2 * volume(cover)


def test_two_bases_of_25_mm_stand_side_by_side_on_a_module() -> None:
    """25 + 25 mm is less than 2 in = 50.8 mm, even with the covers that are never too small."""
    cover, _ = cover_disc(25_000, 3_000, 1_000)
    pair = (cover, translate(cover, 25_000, 0, 0))
    assert not overlap(*pair)
    assert contains([Cuboid(0, 0, 0, MODULE, MODULE, 3_000)], pair[0] + pair[1])


def test_two_bases_of_32_mm_do_not_stand_on_a_module() -> None:
    """Neither side by side nor corner to corner: their cores, never too large, would meet.

    The largest two equal discs in a square of side 1 have a diameter of 2 / (2 + sqrt 2) = 0.586,
    29.8 mm on 50.8 mm.
    """
    _, core = cover_disc(32_000, 3_000, 1_000)
    room = MODULE - 32_000
    for across in (0, room // 2, room):
        assert overlap(core, translate(core, room, across, 0))
