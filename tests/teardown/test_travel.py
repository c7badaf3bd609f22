"""What may stand on the shelf and not travel, worked out by hand."""

from dataclasses import replace
from random import Random

import pytest

from packdown.geometry import WayUp
from packdown.model import Build, JointKind, Settings
from packdown.teardown import assemble, weak_parts
from support.teardown_builds import (
    KEY_G,
    SETTINGS,
    build_of,
    joint,
    mm,
    piece,
    random_build,
    row,
)

SHELF = replace(SETTINGS, shock_factor=1)


def pier(bends_mnm: int, *, fixed: bool = False) -> Build:
    """Return a tower on a floor tile with an arm of 50 g that sticks out by 60 mm; all upright.

    At rest the arm bends its joint with 50 x 9.80665 x 30 g mm = 14.71 mN m, at 3 g with 44.13.
    """
    return build_of(
        [
            piece("floor", mm(0, 0, 0, 200, 60, 10), weight_g=400),
            piece("tower", mm(0, 0, 10, 60, 60, 90), weight_g=600),
            piece("arm", mm(60, 0, 80, 120, 60, 90), weight_g=50, ways_up=(WayUp.UPRIGHT,)),
        ],
        [
            joint("floor", "tower", 2, kind=JointKind.STACKED, holds_g=0, effort_s=2),
            replace(joint("tower", "arm", 0, fixed=fixed), bends_mnm=bends_mnm),
        ],
    )


@pytest.mark.parametrize(
    ("bends_mnm", "told"),
    [(45, None), (44, True), (15, True), (14, False)],
)
def test_an_arm_stands_on_the_shelf_from_15_and_travels_from_45(
    bends_mnm: int,
    told: bool | None,  # noqa: FBT001
) -> None:
    """Where it must not travel, the joint of the arm is the one to open."""
    found = weak_parts(pier(bends_mnm), (), SETTINGS, KEY_G)
    assert [weak.stands for weak in found] == ([] if told is None else [told])
    for weak in found:
        assert weak.open_joints == ("b/tower+arm",)
        assert weak.pieces == ("b/floor", "b/tower", "b/arm")


def test_sub_assemblies_of_a_plan_for_the_shelf_are_looked_at() -> None:
    """The tower with its arm stays joined on the shelf; before it travels it has to be parted."""
    subs = (("b/floor",), ("b/tower", "b/arm"))
    found = weak_parts(pier(20), subs, SHELF, KEY_G)
    assert [weak.pieces for weak in found] == [("b/floor", "b/tower", "b/arm"), subs[1]]
    assert all(weak.stands and weak.open_joints == ("b/tower+arm",) for weak in found)
    assert [weak.pieces for weak in weak_parts(pier(20), subs, SETTINGS, KEY_G)] == [
        ("b/floor", "b/tower", "b/arm")
    ]


def test_a_plan_that_keeps_all_whole_has_nothing_to_tell() -> None:
    """A row of tiles travels; so does a single piece, and parts that no joint holds together."""
    apart = build_of([*row(2).pieces, piece("far", mm(200, 0, 0, 230, 30, 6))], row(2).joints)
    for build in (row(6), row(1), apart):
        assert weak_parts(build, (), SETTINGS, KEY_G) == ()


def test_what_must_stay_joined_has_nothing_to_open() -> None:
    """No other joint is proposed where the arm, on a fixed joint, must not travel anyway."""
    found = weak_parts(pier(20, fixed=True), (("b/tower", "b/arm"),), SHELF, KEY_G)
    assert len(found) == 2
    assert [weak.open_joints for weak in found] == [(), ()]


def test_opened_joints_leave_parts_that_travel() -> None:
    """Whatever is proposed for random builds with weak joints, what stays joined holds at 3 g."""
    opened = 0
    for seed in range(50):
        random = Random(seed)
        build = random_build(random, 12)
        joints = tuple(
            replace(
                each,
                bends_mnm=random.randrange(0, 60),
                holds_g=0 if each.kind is JointKind.STACKED else random.randrange(20, 900),
            )
            for each in build.joints
        )
        build = replace(build, joints=joints)
        for weak in weak_parts(build, (), SETTINGS, KEY_G):
            opened += bool(weak.open_joints)
            kept = [each for each in joints if each.id not in weak.open_joints]
            for part in _joined(weak.pieces, replace(build, joints=tuple(kept))):
                assert len(part) == 1 or assemble(build, part, SETTINGS, KEY_G), seed
            if weak.stands:
                assert _stands(build, weak.pieces, SHELF)
    assert opened >= 10


def _joined(pieces: tuple[str, ...], build: Build) -> list[set[str]]:
    """Return the sets of pieces that joints hold together, merged one joint at a time."""
    parts = [{piece} for piece in pieces]
    for each in build.joints:
        touched = [part for part in parts if part & set(each.pieces)]
        if len(touched) == 2:
            parts = [part for part in parts if part not in touched]
            parts.append(touched[0] | touched[1])
    return parts


def _stands(build: Build, pieces: tuple[str, ...], settings: Settings) -> bool:
    return assemble(build, pieces, settings, KEY_G) is not None
