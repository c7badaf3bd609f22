"""Items of sub-assemblies."""

from dataclasses import replace

import pytest

from packdown.geometry import WayUp, contains, size, volume
from packdown.model import Build, Item, JointKind
from packdown.teardown import assemble
from support.teardown_builds import KEY_G, SETTINGS, build_of, hall, joint, mm, piece, row


def assembled(build: Build, *names: str) -> Item:
    """Return the item of some pieces, which must be one."""
    ids = [f"b/{name}" for name in names] or [piece.id for piece in build.pieces]
    item = assemble(build, ids, SETTINGS, KEY_G)
    assert item is not None
    return item


def test_a_row_of_three_tiles() -> None:
    """Three tiles of 40 g with two keys of 1 g, grown by 0.2 mm at each of two seams."""
    item = assembled(row(5), "t1", "t2", "t3")
    assert item.weight_g == 3 * 40 + 2
    assert size(item.cuboids_um) == (90_400, 30_000, 6_000)
    assert item.centre_um == (45_000, 15_000, 3_000)
    assert item.allowed_ways_up == tuple(WayUp)
    assert item.pieces == ("b/t1", "b/t2", "b/t3")
    assert item.id == "b:t1+2"
    assert item.name == "Test hall, 3 around t2"


def test_a_piece_alone_keeps_its_id() -> None:
    """A single piece has the piece's id and its own size."""
    item = assembled(row(2), "t1")
    assert (item.id, item.name) == ("b/t1", "Test hall, t1")
    assert size(item.cuboids_um) == (30_000, 30_000, 6_000)


def test_the_whole_build_has_its_name() -> None:
    """All pieces together are called by the name of the build."""
    assert assembled(row(4)).name == "Test hall"


def test_pieces_without_joints_between_them_are_no_sub_assembly() -> None:
    """The two ends of a row do not hold together."""
    assert assemble(row(3), ["b/t0", "b/t2"], SETTINGS, KEY_G) is None


def test_a_stacked_joint_allows_upright_only() -> None:
    """A room with walls that are merely stacked on its floors may not be turned."""
    assert assembled(hall(2, 2)).allowed_ways_up == (WayUp.UPRIGHT,)


def test_ways_up_are_those_all_pieces_share() -> None:
    """A tile that may lie upright or on a side, with one that may not lie on its left side."""
    build = row(2)
    a = replace(build.pieces[0], ways_up=(WayUp.UPRIGHT, WayUp.ON_LEFT, WayUp.ON_BACK))
    b = replace(build.pieces[1], ways_up=(WayUp.UPRIGHT, WayUp.ON_BACK))
    item = assembled(build_of([a, b], build.joints))
    assert item.allowed_ways_up == (WayUp.UPRIGHT, WayUp.ON_BACK)


def test_a_sub_assembly_without_a_way_up_is_none() -> None:
    """Two pieces of which one must stand upright and one upside down cannot stay joined."""
    build = row(2)
    a = replace(build.pieces[0], ways_up=(WayUp.UPRIGHT,))
    b = replace(build.pieces[1], ways_up=(WayUp.UPSIDE_DOWN,))
    assert assemble(build_of([a, b], build.joints), ["b/t0", "b/t1"], SETTINGS, KEY_G) is None


def overhanging(arm_g: int) -> Build:
    """Return a post of 100 g, 30 mm wide, with an arm of 60 mm from its top to the right."""
    return build_of(
        [
            piece("post", mm(0, 0, 0, 30, 30, 60), weight_g=100),
            piece("arm", mm(30, 0, 50, 90, 30, 60), weight_g=arm_g),
        ],
        [joint("post", "arm")],
    )


def test_what_would_tip_may_not_lie_that_way() -> None:
    """The centre of gravity is over the post's edge at 30 mm once the arm weighs over 50 g.

    It lies at (100 x 15 + arm x 60) / (100 + arm) mm, so 50 g is the limit.
    """
    assert WayUp.UPRIGHT in assembled(overhanging(50)).allowed_ways_up
    tipping = assembled(overhanging(52)).allowed_ways_up
    assert WayUp.UPRIGHT not in tipping
    assert WayUp.UPSIDE_DOWN in tipping


def test_what_would_come_off_may_not_lie_that_way() -> None:
    """An arm of 401 g asks 1,203 g of a joint that holds 1,200 g, however well the post stands."""
    build = overhanging(401)
    post = replace(build.pieces[0], weight_g=9_000)
    ways = assembled(replace(build, pieces=(post, build.pieces[1]))).allowed_ways_up
    assert WayUp.UPRIGHT not in ways
    assert WayUp.UPSIDE_DOWN in ways


def test_a_single_piece_is_an_item_even_where_it_tips() -> None:
    """A piece that can be split no further is left to the packer's own rules."""
    arm = piece("t", mm(0, 0, 0, 10, 30, 60), mm(10, 0, 50, 90, 30, 60), ways_up=(WayUp.UPRIGHT,))
    assert assembled(build_of([arm])).allowed_ways_up == (WayUp.UPRIGHT,)


def test_tender_pieces_mark_cuboids_and_leave_the_limit_to_the_others() -> None:
    """Nothing may rest on the tender tile's cuboid; the others carry the least of their limits."""
    build = row(3)
    a, b, c = build.pieces
    pieces = [replace(a, carry_limit_g=0), replace(b, carry_limit_g=900), c]
    item = assembled(build_of(pieces, build.joints))
    assert item.carry_limit_g == 900
    assert [item.cuboids_um[i].x0 for i in item.tender] == [0]
    assert assembled(build).carry_limit_g is None


def test_only_magnets_at_the_lowest_level_count() -> None:
    """Magnets under an upper piece are covered by the one below."""
    build = build_of(
        [piece("low", mm(0, 0, 0, 30, 30, 10)), piece("top", mm(0, 0, 10, 30, 30, 20), magnets=2)],
        [joint("low", "top", 2)],
    )
    assert not assembled(build).magnets
    assert assembled(build, "top").magnets


def test_a_glued_joint_does_not_open() -> None:
    """Two glued tiles have the size they are drawn with."""
    build = row(2)
    glued = joint("t0", "t1", kind=JointKind.GLUED, holds_g=None, fixed=True)
    assert size(assembled(replace(build, joints=(glued,))).cuboids_um)[0] == 60_000


def test_the_solid_contains_every_piece_and_little_else() -> None:
    """A room's item covers each piece as drawn, and is larger by its open joints alone."""
    build = hall(2, 2)
    item = assembled(build)
    for part in build.pieces:
        assert contains(item.cuboids_um, part.cuboids_um)
    drawn = sum(volume(part.cuboids_um) for part in build.pieces)
    assert drawn < volume(item.cuboids_um) < drawn * 1.05


def test_no_pieces_are_an_error() -> None:
    """An empty sub-assembly is a mistake of the caller."""
    with pytest.raises(ValueError, match="at least one piece"):
        assemble(row(2), [], SETTINGS, KEY_G)
