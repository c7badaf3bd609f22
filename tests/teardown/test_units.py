"""Units and how far they reach."""

from dataclasses import replace

from packdown.geometry import WayUp
from packdown.teardown.graph import graph_of
from packdown.teardown.units import Units
from support.teardown_builds import build_of, hall, joint, mm, piece, row


def test_a_tile_behind_two_seams_reaches_further() -> None:
    """In a sub-assembly of the first and the third tile two joints may stand open."""
    units = Units(graph_of(row(4)), 200)
    assert units.grown_end(0, 2, 0) == 90_000 + 2 * 200
    assert units.grown_end(2, 0, 0) == 30_000


def test_a_way_around_a_seam_leaves_it_out_of_account() -> None:
    """Two tiles on one plate need no joint between them to be in one sub-assembly."""
    tiles = [piece(f"t{i}", mm(30 * i, 0, 6, 30 * i + 30, 30, 12)) for i in range(2)]
    plate = piece("plate", mm(0, 0, 0, 60, 30, 6))
    joints = [joint("plate", "t0", 2), joint("plate", "t1", 2), joint("t0", "t1")]
    units = Units(graph_of(build_of([*tiles, plate], joints)), 200)
    assert units.grown_end(0, 1, 0) == 60_000


def test_what_is_stacked_inside_a_unit_lies_upright() -> None:
    """A floor and a wall that is stacked on it, never to be parted, may lie upright only."""
    build = hall(1, 1)
    joints = tuple(replace(j, fixed=j.axis == 2) for j in build.joints)
    units = Units(graph_of(replace(build, joints=joints)), 200)
    assert units.ways == [{WayUp.UPRIGHT}]


def test_what_is_stacked_does_not_hold_when_turned() -> None:
    """A room's floor and walls hold together upright; on a side the floor is on its own."""
    units = Units(graph_of(hall(1, 1)), 200)
    everything = (1 << units.count) - 1
    assert units.connected(everything, WayUp.UPRIGHT) == [everything]
    assert 0b1 in units.connected(everything, WayUp.ON_LEFT)
