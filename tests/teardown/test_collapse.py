"""Loads at which sub-assemblies give way, worked out by hand, and against an outside solver."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest

from packdown.geometry import WayUp
from packdown.model import Build, Joint, JointKind, Piece
from packdown.teardown import assemble, split
from packdown.teardown.assembly import Assembler
from packdown.teardown.collapse import collapse
from packdown.teardown.graph import graph_of
from packdown.teardown.strength import holds
from support.statics import load_carried
from support.teardown_builds import (
    KEY_G,
    RULES,
    SETTINGS,
    box,
    build_of,
    joint,
    mm,
    piece,
    random_build,
    undermined,
)

ENOUGH = 99


def load_of(build: Build, way_up: WayUp = WayUp.UPRIGHT) -> float:
    """Return how many times its weight a whole build carries, as the outside solver says too."""
    graph = graph_of(build)
    load = collapse(graph, graph.all, way_up, ENOUGH).load
    assert load == pytest.approx(load_carried(build, way_up, ENOUGH))
    return load


def bearing(one: str, two: str, axis: int, holds_g: int, bends_mnm: int | None) -> Joint:
    """Return a joint of a strength."""
    return replace(joint(one, two, axis, holds_g=holds_g), bends_mnm=bends_mnm)


def test_the_joint_that_gives_way_is_named() -> None:
    """A floor of 80 g, 2 in wide, asks for 80 x 9.80665 x 25.4 mm = 19.93 mN m at rest.

    A joint that bears 59 mN m carries 2.96 times that.
    """
    build = build_of(
        [
            piece("block", mm(0, 0, 0, 100, 50, 50), weight_g=400),
            piece("floor", mm(100, 0, 42, 150, 50, 50)._replace(x1=150_800), weight_g=80),
        ],
        [bearing("block", "floor", 0, 1_200, 59)],
    )
    graph = graph_of(build)
    found = collapse(graph, graph.all, WayUp.UPRIGHT, 3)
    assert found.load == pytest.approx(59 / 19.927, rel=1e-4)
    assert found.joints == ("b/block+floor",)
    assert collapse(graph, graph.all, WayUp.UPRIGHT, 2).joints == ()
    assert load_of(build) == pytest.approx(found.load)


def test_what_hangs_off_centre_twists_its_joint() -> None:
    """A plate of 40 g is held at one end of its long side, 20 mm off its middle.

    The face is 20 mm long, so it bears a twist of a quarter of that, 5 mm, times what it holds.
    At rest the weight takes 40 g of the 600 g, and its twist 40 x 20 / 5 = 160 g: 3 times make 600.
    """
    build = build_of(
        [
            piece("block", mm(0, 0, 0, 60, 20, 60), weight_g=5_000),
            piece("plate", mm(60, 0, 50, 80, 60, 60), weight_g=40),
        ],
        [bearing("block", "plate", 0, 600, None)],
    )
    assert load_of(build) == pytest.approx(3)


def test_a_pull_and_a_moment_share_a_joint() -> None:
    """A lamp of 50 g hangs by a joint in the middle of the 20 mm of it that lie under an arm.

    Its weight acts 10 mm beside the joint. Without any moment borne it levers on the edge of the
    arm, 10 mm to the other side, and pulls with twice its weight: 300 g hold 3 times 100 g. Borne
    as a moment of 500 g mm it takes, of 600 g and 20 mN m = 2,039 g mm, 50 / 600 + 500 / 2,039 =
    0.329, more than the lever's 100 / 600: still 6 times. Of 400 mN m = 40,789 g mm it takes
    50 / 600 + 500 / 40,789 = 0.0956: 10.46 times.
    """
    for grams, moment, load in ((300, 0, 3.0), (600, 0, 6.0), (600, 20, 6.0), (600, 400, 10.46)):
        build = build_of(
            [
                piece("tower", mm(0, 0, 0, 60, 30, 90), weight_g=9_000),
                piece("arm", mm(60, 0, 80, 100, 30, 90), weight_g=1),
                piece("lamp", mm(80, 0, 60, 120, 30, 80), weight_g=50),
            ],
            [
                joint("tower", "arm", 0, kind=JointKind.GLUED, holds_g=None),
                bearing("lamp", "arm", 2, grams, moment),
            ],
        )
        assert load_of(build) == pytest.approx(load, abs=0.01)


def gallery(holds_g: int) -> Build:
    """Return a box of 50 g that hangs at a tower by joints 25 mm above each other."""
    return build_of(
        [
            piece("low", mm(0, 0, 0, 60, 30, 30), weight_g=900),
            piece("high", mm(0, 0, 30, 60, 30, 60), weight_g=900),
            piece("box", mm(60, 0, 10, 100, 30, 60), weight_g=50),
        ],
        [
            joint("low", "high", 2, kind=JointKind.GLUED, holds_g=None),
            bearing("low", "box", 0, 9_000, 0),
            bearing("high", "box", 0, holds_g, 0),
        ],
    )


def test_joints_above_each_other_hold_by_pull_and_thrust() -> None:
    """The weight, 20 mm out, pulls at the upper joint with 50 x 20 / 25 = 40 g: 120 g hold 3 times.

    The joints stand 20 mm and 45 mm high and bear no moment of their own. The rule of moments does
    not count this, and errs on the safe side.
    """
    assert load_of(gallery(120)) == pytest.approx(3)
    graph = graph_of(gallery(120))
    assert not holds(graph, graph.all, WayUp.UPRIGHT, 3)


@pytest.mark.parametrize(("counterweight", "load"), [(0, 0), (39, 0), (41, ENOUGH)])
def test_what_is_stacked_tips_unless_it_is_weighed_down(counterweight: int, load: float) -> None:
    """A plank of 40 g lies on a block up to 10 mm short of its middle.

    It stays if what stands 10 mm behind the edge weighs as much as the plank.
    """
    pieces: list[Piece] = [
        piece("block", mm(0, 0, 0, 40, 30, 30), weight_g=200),
        piece("plank", mm(0, 0, 30, 100, 30, 40), weight_g=40),
    ]
    joints = [joint("block", "plank", 2, kind=JointKind.STACKED, holds_g=0)]
    if counterweight:
        pieces.append(piece("weight", mm(20, 0, 40, 40, 30, 60), weight_g=counterweight))
        joints.append(joint("plank", "weight", 2, kind=JointKind.STACKED, holds_g=0))
    assert load_of(build_of(pieces, joints)) == pytest.approx(load)


def test_the_whole_tips_over_its_footing() -> None:
    """A tower with a heavy arm falls over though its joint would hold, and no joint gives way.

    At 30 mm from the foot's edge 100 g turn against 80 g at 15 mm.
    """
    build = build_of(
        [
            piece("tower", mm(0, 0, 0, 30, 30, 90), weight_g=80),
            piece("arm", mm(30, 0, 80, 90, 30, 90), weight_g=100),
        ],
        [joint("tower", "arm", 0)],
    )
    graph = graph_of(build)
    found = collapse(graph, graph.all, WayUp.UPRIGHT, 3)
    assert found.load == pytest.approx(0)
    assert found.joints == ()
    assert load_of(build) == pytest.approx(0)


def random_strengths(random: Random, build: Build) -> Build:
    """Return a build whose joints have any strength."""
    joints = tuple(
        replace(
            each,
            bends_mnm=random.randrange(0, 200),
            holds_g=0 if each.kind is JointKind.STACKED else random.randrange(50, 1_500),
        )
        for each in build.joints
    )
    return replace(build, joints=joints)


def test_motions_and_forces_give_one_load() -> None:
    """The least load of all motions is the largest that forces balance, by an outside solver."""
    loads: Counter[int] = Counter()
    for seed in range(40):
        random = Random(seed)
        build = (
            undermined(random) if seed % 2 else random_strengths(random, random_build(random, 9))
        )
        graph = graph_of(build)
        for way in (WayUp.UPRIGHT, random.choice(list(WayUp))):
            load = collapse(graph, graph.all, way, 3).load
            assert load == pytest.approx(load_carried(build, way, 3), abs=1e-6), (seed, way)
            loads[min(int(load), 2) if load < 3 - 1e-6 else 3] += 1
    assert loads[3] > 10
    assert loads[0] > 10
    assert loads[1] + loads[2] > 0


def _overhang(holds_g: int) -> Build:
    """Return a wall at the edge of a floor, and a balcony of 20 g that leans it over.

    About the edge the balcony turns with 20 g x 8 mm, the wall back with 30 g x 4 mm, and the
    joint in the middle of the wall's foot with 4 mm times its pull: at 3 g it has to hold 30 g.
    """
    return build_of(
        [
            piece("floor", mm(0, 0, 0, 64, 64, 8), weight_g=400, ways_up=(WayUp.UPRIGHT,)),
            piece("wall", mm(0, 0, 8, 64, 8, 56), weight_g=30),
            piece("balcony", mm(16, -16, 40, 48, 0, 48), weight_g=20),
        ],
        [
            bearing("floor", "wall", 2, holds_g, 0),
            joint("balcony", "wall", 1),
        ],
    )


def parts_of(build: Build) -> Sequence[tuple[str, ...]]:
    """Return the sub-assemblies of a build for a container with room for all of it."""
    return split(build, [box("a", 200, 200, 200)], SETTINGS, RULES, KEY_G).sub_assemblies


def test_what_collapses_is_split_though_nothing_hangs_or_bends() -> None:
    """The rules of forces and moments pass the leaning wall, the program does not."""
    for grams, whole in ((30, True), (29, False)):
        build = _overhang(grams)
        graph = graph_of(build)
        ids = [each.id for each in build.pieces]
        assert holds(graph, graph.all, WayUp.UPRIGHT, 3)
        assert (len(parts_of(build)) == 1) is whole
        item = assemble(build, ids, SETTINGS, KEY_G)
        assert (item is not None and WayUp.UPRIGHT in item.allowed_ways_up) is whole


def test_no_sub_assembly_of_a_split_collapses() -> None:
    """In every way up that is offered, the outside solver finds forces in balance."""
    rest = Counter[bool]()
    for seed in range(25):
        random = Random(seed)
        build = random_strengths(random, random_build(random, 12))
        found = split(build, [box("a", 150, 150, 90)], SETTINGS, RULES, KEY_G)
        for item in found.items:
            inside = set(item.pieces)
            part = replace(
                build,
                pieces=tuple(each for each in build.pieces if each.id in inside),
                joints=tuple(each for each in build.joints if inside.issuperset(each.pieces)),
            )
            for way in item.allowed_ways_up:
                assert load_carried(part, way, 3) == pytest.approx(3), (seed, item.id, way)
                rest[len(inside) > 1] += 1
    assert rest[True] > 40


def test_a_fall_takes_only_what_collapses() -> None:
    """Any sub-assembly that the fall of another takes collapses too, in the same way up."""
    taken = 0
    for seed in range(25):
        random = Random(seed)
        build = random_strengths(random, random_build(random, 11))
        graph = graph_of(build)
        way = random.choice([WayUp.UPRIGHT, WayUp.UPRIGHT, *WayUp])
        masks = [random.randrange(1, graph.all + 1) for _ in range(60)]
        falls = [collapse(graph, mask, way, 3).fall for mask in masks]
        for fall in filter(None, falls):
            for mask in random.sample(masks, 12):
                if fall.takes(mask):
                    assert collapse(graph, mask, way, 3).load < 3, (seed, way, mask)
                    taken += 1
    assert taken > 200


def test_what_falls_likewise_is_known_without_another_program() -> None:
    """A floor tile more beside the leaning wall, on the far side, does not keep it from falling."""
    build = _overhang(29)
    more = piece("more", mm(0, 64, 0, 64, 128, 8), weight_g=400)
    build = replace(
        build,
        pieces=(*build.pieces, more),
        joints=(*build.joints, joint("floor", "more", 1)),
    )
    assembler = Assembler(build, SETTINGS, KEY_G)
    leaning = assembler.graph.mask(["b/floor", "b/wall", "b/balcony"])
    assert assembler.can_lie(leaning, WayUp.UPRIGHT)
    assert assembler.can_lie(assembler.graph.all, WayUp.UPRIGHT)
    assert not assembler.carries(leaning, WayUp.UPRIGHT)
    assert not assembler.can_lie(leaning, WayUp.UPRIGHT)
    assert not assembler.can_lie(assembler.graph.all, WayUp.UPRIGHT)
