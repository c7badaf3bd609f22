"""Joints that are rather kept, and pieces that travel alone."""

from dataclasses import replace
from random import Random

from packdown.model import Build
from packdown.teardown import assemble, cost_of, cuts, effort_bound, effort_of, joinable, split
from packdown.teardown.wishes import parted, wished
from support.teardown_builds import KEY_G, RULES, SETTINGS, box, random_build, row
from support.teardown_oracle import least_effort

PLACE_S = RULES.place_s


def sparing(build: Build, seconds: int, *names: str) -> Build:
    """Return a build in which some joints are rather kept."""
    joints = (replace(j, spare_s=seconds) if j.id in names else j for j in build.joints)
    return replace(build, joints=tuple(joints))


def lonely(build: Build, *names: str) -> Build:
    """Return a build in which some pieces travel alone."""
    return replace(
        build, pieces=tuple(replace(p, alone=p.id in names) if p.id else p for p in build.pieces)
    )


def test_a_joint_rather_kept_is_split_where_that_saves_more() -> None:
    """Six tiles into boxes for three: one cut in the middle takes 12 s, two beside it 24 s.

    With 11 s to spare the middle joint weighs 23 s and is split, with 13 s it is kept.
    """
    for seconds, parts, effort in ((0, 2, 12), (11, 2, 12), (13, 3, 24)):
        build = sparing(row(6), seconds, "b/t2+t3")
        found = split(build, [box("a", 91, 40, 10)], SETTINGS, RULES, KEY_G)
        assert len(found.sub_assemblies) == parts
        assert effort_of(build, found.sub_assemblies, PLACE_S) == effort
        spared = 0 if parts == 3 else seconds
        assert cost_of(build, found.sub_assemblies, PLACE_S) == effort + spared
        assert effort_bound(build, [box("a", 91, 40, 10)], SETTINGS, RULES) == 12


def test_changes_weigh_what_is_rather_kept() -> None:
    """Joining two parts saves 7 s and a place of 5 s, and the 50 s the joint is spared for."""
    build = sparing(row(4), 50, "b/t1+t2")
    halves = (("b/t0", "b/t1"), ("b/t2", "b/t3"))
    assert joinable(build, halves, PLACE_S) == ((0, 1, 62),)
    ways = cuts(build, [piece.id for piece in build.pieces], SETTINGS, RULES, KEY_G)
    assert [way.sub_assemblies for way in ways][-1] == halves


def test_what_travels_alone_is_parted_from_all() -> None:
    """The second of three tiles alone: two joints of 7 s and two more places, and no less."""
    build = lonely(row(3), "b/t1")
    room = [box("a", 200, 40, 10)]
    found = split(build, room, SETTINGS, RULES, KEY_G)
    assert found.sub_assemblies == (("b/t0",), ("b/t1",), ("b/t2",))
    assert effort_of(build, found.sub_assemblies, PLACE_S) == 24
    assert effort_bound(build, room, SETTINGS, RULES) == 24
    assert assemble(build, ["b/t0", "b/t1"], SETTINGS, KEY_G) is None
    assert joinable(build, found.sub_assemblies, PLACE_S) == ()


def test_without_wishes_nothing_is_changed() -> None:
    """A build without wishes is its own."""
    build = row(3)
    assert parted(build) is build
    assert wished(build) is build


def test_wishes_against_every_partition() -> None:
    """Of random builds of eight pieces the split weighs least, nearly always.

    All partitions are tried, by what they weigh and by their work; no bound is above the least.
    """
    room = [box("a", 100, 100, 100)]
    least = 0
    for seed in range(30):
        random = Random(seed)
        build = random_build(random, 8)
        build = lonely(build, random.choice(build.pieces).id)
        build = sparing(build, 20, *(j.id for j in build.joints if random.random() < 0.3))
        found = split(build, room, SETTINGS, RULES, KEY_G)
        if found.stuck:
            continue
        cost = cost_of(build, found.sub_assemblies, PLACE_S)
        best = least_effort(wished(build), room, SETTINGS, RULES)
        assert best is not None
        assert cost >= best
        least += cost == best
        effort = least_effort(build, room, SETTINGS, RULES)
        assert effort is not None
        assert effort_bound(build, room, SETTINGS, RULES) <= effort
    assert least >= 25
