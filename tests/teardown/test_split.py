"""Choosing sub-assemblies."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from packdown.geometry import size
from packdown.model import Build, Container, Item
from packdown.teardown import Split, assemble, effort_bound, split
from packdown.teardown.least import forget
from support.teardown_builds import (
    KEY_G,
    RULES,
    SETTINGS,
    box,
    build_of,
    hall,
    joint,
    mm,
    piece,
    random_boxes,
    random_build,
    row,
)
from support.teardown_oracle import against_every_partition, fits_some


def split_into(build: Build, *containers: Container) -> Split:
    """Split with the usual settings."""
    return split(build, containers, SETTINGS, RULES, KEY_G)


def test_what_fits_stays_whole() -> None:
    """A row of six tiles that fits costs nothing."""
    found = split_into(row(6), box("a", 200, 40, 10))
    assert found.effort_s == 0
    assert [item.name for item in found.items] == ["Test hall"]
    assert not found.stuck


def test_a_row_is_cut_in_the_middle() -> None:
    """Six tiles into boxes for three: one joint of 7 s and one more place of 5 s."""
    found = split_into(row(6), box("a", 91, 40, 10))
    assert found.effort_s == 7 + 5
    assert found.sub_assemblies == (("b/t0", "b/t1", "b/t2"), ("b/t3", "b/t4", "b/t5"))
    assert [item.pieces for item in found.items] == list(found.sub_assemblies)


def test_the_tolerance_of_joints_counts() -> None:
    """Three tiles of 30 mm grow to 90.4 mm, so a box of 90 mm takes two: two joints, two places."""
    assert split_into(row(6), box("a", 90, 40, 10)).effort_s == 2 * (7 + 5)


def test_clearance_counts() -> None:
    """With 2 mm to each wall a box of 94 mm takes two tiles of the row, one of 95 mm three."""
    assert split_into(row(6), box("a", 94, 40, 10, clearance_um=2_000)).effort_s == 24
    assert split_into(row(6), box("a", 95, 40, 10, clearance_um=2_000)).effort_s == 12


def test_a_box_may_take_a_row_standing_up() -> None:
    """Three tiles fit a box of 40 x 10 mm if it is 91 mm high."""
    assert split_into(row(6), box("a", 40, 10, 91)).effort_s == 12


def test_weight_counts() -> None:
    """A payload of 130 g takes three tiles of 40 g with two keys of 1 g, one of 121 g only two."""
    assert split_into(row(6), box("a", 200, 40, 10, payload_g=122)).effort_s == 12
    assert split_into(row(6), box("a", 200, 40, 10, payload_g=121)).effort_s == 24


def test_cheap_joints_are_cut() -> None:
    """Of a row of four the middle joint is dear: two cheap cuts of 1 s beat one of 50 s."""
    tiles = row(4).pieces
    efforts = (1, 50, 1)
    joints = [joint(f"t{i}", f"t{i + 1}", effort_s=effort) for i, effort in enumerate(efforts)]
    found = split_into(build_of(tiles, joints), box("a", 91, 40, 10))
    assert found.effort_s == 1 + 5
    assert len(found.sub_assemblies) == 2


def test_fixed_joints_stay_closed() -> None:
    """The row that would be cut in the middle is cut beside the joint that must stay."""
    build = row(6)
    joints = [replace(j, fixed=j.id == "b/t2+t3") for j in build.joints]
    found = split_into(replace(build, joints=tuple(joints)), box("a", 91, 40, 10))
    assert found.effort_s == 2 * 12
    assert any({"b/t2", "b/t3"} <= set(part) for part in found.sub_assemblies)


def test_what_fits_nowhere_is_stuck() -> None:
    """A unit of two fixed tiles is too long; the tiles around it still find their places."""
    build = row(6)
    joints = [replace(j, fixed=j.id == "b/t2+t3") for j in build.joints]
    found = split_into(replace(build, joints=tuple(joints)), box("a", 50, 40, 10))
    assert found.stuck == ("b/t2", "b/t3")
    assert len(found.sub_assemblies) == 5
    assert len(found.items) == 5


def test_without_containers_everything_is_stuck() -> None:
    """No containers take nothing."""
    assert split_into(row(3)).stuck == ("b/t0", "b/t1", "b/t2")


def test_parts_that_no_joint_holds_are_separate() -> None:
    """Two tiles that do not touch are two sub-assemblies: one more place, no joint."""
    tiles = [piece("a", mm(0, 0, 0, 30, 30, 6)), piece("b", mm(60, 0, 0, 90, 30, 6))]
    assert split_into(build_of(tiles), box("a", 500, 500, 500)).effort_s == 5


def test_pieces_that_share_their_middle_are_parted_too() -> None:
    """A ring and the post inside it have no plane between them, yet each is too heavy for two."""
    ring = piece(
        "ring",
        *(mm(0, 0, 0, 60, 20, 10), mm(0, 40, 0, 60, 60, 10)),
        *(mm(0, 20, 0, 20, 40, 10), mm(40, 20, 0, 60, 40, 10)),
    )
    post = piece("post", mm(20, 20, 0, 40, 40, 10))
    found = split_into(
        build_of([ring, post], [joint("ring", "post")]), box("a", 61, 61, 51, payload_g=50)
    )
    assert found.sub_assemblies == (("b/ring",), ("b/post",))
    assert not found.stuck


def test_a_bridge_too_weak_for_transport_is_split() -> None:
    """The box would take the bridge whole; three times the free beam is more than its joint."""
    build = build_of(
        [
            piece("tower", mm(0, 0, 0, 30, 30, 60), weight_g=2_000, ways_up=("upright",)),
            piece("beam", mm(30, 0, 50, 60, 30, 60), weight_g=500, ways_up=("upright",)),
        ],
        [joint("tower", "beam")],
    )
    assert split_into(build, box("a", 100, 100, 100)).effort_s == 12
    shelf = replace(SETTINGS, shock_factor=1)
    assert split(build, [box("a", 100, 100, 100)], shelf, RULES, KEY_G).effort_s == 0


def test_two_storeys_part_between_them() -> None:
    """A hall of 2 x 2 floors and two storeys goes into boxes one storey high.

    The upper storey's 4 floors lie on 8 walls: 8 stacked joints of 2 s, and one more place.
    """
    found = split_into(hall(2, 2, 2), box("a", 130, 130, 75))
    assert found.effort_s == 8 * 2 + 5


def test_a_limit_forces_further_splits() -> None:
    """The planner may refuse an item that fits: here all of more than two pieces."""

    def small(item: Item) -> bool:
        return len(item.pieces) <= 2

    found = split(row(6), [box("a", 200, 40, 10)], SETTINGS, RULES, KEY_G, limit=small)
    assert found.effort_s == 24
    assert max(len(part) for part in found.sub_assemblies) == 2


def test_random_splits_and_bounds_against_every_partition() -> None:
    """Bounds <= optimum <= split over all partitions of small builds, from a cold start.

    Nearly all splits are optimal, and nearly all bounds prove it.
    """
    met: Counter[str] = Counter()
    for seed in range(36):
        forget()
        outcome = against_every_partition(seed, 8)
        met.update(outcome)
    assert met["all"] > 20
    assert met["split"] >= 0.95 * met["all"]
    assert met["bound"] >= 0.95 * met["all"]
    assert met["joints"] >= 0.95 * met["all"]


@pytest.mark.parametrize("seed", range(8))
def test_every_sub_assembly_holds_and_fits(seed: int) -> None:
    """All pieces are in one sub-assembly; each is an item, and fits a box unless it is stuck."""
    random = Random(1_000 + seed)
    build = random_build(random, 25)
    boxes = random_boxes(random)
    found = split_into(build, *boxes)
    pieces = [name for part in found.sub_assemblies for name in part]
    assert sorted(pieces) == sorted(piece.id for piece in build.pieces)
    assert len({item.id for item in found.items}) == len(found.items)
    for part, item in zip(found.sub_assemblies, found.items, strict=True):
        assert item.pieces == part
        assert item == (assemble(build, part, SETTINGS, KEY_G) or item)
        assert fits_some(item, boxes, RULES) != (part[0] in found.stuck)


def test_the_same_split_comes_out_again() -> None:
    """Two runs on equal builds give equal splits."""
    boxes = [box("a", 130, 100, 75)]
    first, second = (split_into(hall(4, 3, 2), *boxes) for _ in range(2))
    assert first == second
    assert max(size(item.cuboids_um)[2] for item in first.items) <= 75_000 or first.stuck


def test_a_large_hall_is_split_at_least_effort() -> None:
    """76 pieces are split at an effort that is proved least."""
    boxes = [box("a", 200, 150, 100)]
    build = hall(5, 4, 2)
    found = split_into(build, *boxes)
    assert found.effort_s == effort_bound(build, boxes, SETTINGS, RULES)
