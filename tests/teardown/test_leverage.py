"""Moments at the joints, worked out by hand, and against static equilibrium."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from packdown.geometry import Cuboid, WayUp
from packdown.model import Build, Joint
from packdown.teardown.graph import graph_of
from packdown.teardown.strength import hanging, holds
from support.statics import stands_still
from support.teardown_builds import build_of, joint, mm, piece, undermined


def bearing(one: str, two: str, bends_mnm: int | None, axis: int = 0, **more: object) -> Joint:
    """Return a joint that bears a moment."""
    return replace(joint(one, two, axis, **more), bends_mnm=bends_mnm)  # type: ignore[arg-type]


def ledge(bends_mnm: int) -> Build:
    """Return a block with a floor of 80 g at its top edge that sticks out 2 in."""
    block = piece("block", Cuboid(0, 0, 0, 101_600, 50_800, 50_800), weight_g=400)
    floor = piece("floor", Cuboid(101_600, 0, 42_800, 152_400, 50_800, 50_800), weight_g=80)
    return build_of([block, floor], [bearing("block", "floor", bends_mnm)])


@pytest.mark.parametrize(("bends_mnm", "held"), [(59, False), (60, True)])
def test_a_floor_two_inches_over_its_joint(bends_mnm: int, held: bool) -> None:  # noqa: FBT001
    """A floor of 80 g that hangs 2 in over its joint pulls with 0.060 N m at 3 g.

    Its centre is 25.4 mm out: 3 x 9.80665 m/s2 x 0.080 kg x 0.0254 m = 0.05978 N m.
    """
    graph = graph_of(ledge(bends_mnm))
    assert holds(graph, graph.all, WayUp.UPRIGHT, 3) is held
    assert stands_still(ledge(bends_mnm), 3) is held


def test_on_the_shelf_a_third_is_enough() -> None:
    """At 1 g the same floor pulls with 0.01993 N m: 20 mN m bear it, 19 do not."""
    for bends, held in ((20, True), (19, False)):
        graph = graph_of(ledge(bends))
        assert holds(graph, graph.all, WayUp.UPRIGHT, 1) is held


@pytest.mark.parametrize(
    ("inner", "outer", "off"),
    [
        (30, 8, ()),
        (29, 8, ("b/near", "b/far")),
        (30, 7, ("b/far",)),
    ],
)
def test_every_joint_bears_all_that_is_beyond_it(
    inner: int, outer: int, off: tuple[str, ...]
) -> None:
    """Two beams of 50 g and 30 mm in a row, at rest.

    About the inner joint 9.80665 x (50 x 15 + 50 x 45) g mm = 29.42 mN m, about the outer one
    9.80665 x 50 x 15 g mm = 7.35 mN m.
    """
    build = build_of(
        [
            piece("tower", mm(0, 0, 0, 60, 30, 60), weight_g=900),
            piece("near", mm(60, 0, 50, 90, 30, 60), weight_g=50),
            piece("far", mm(90, 0, 50, 120, 30, 60), weight_g=50),
        ],
        [bearing("tower", "near", inner), bearing("near", "far", outer)],
    )
    graph = graph_of(build)
    assert graph.ids(hanging(graph, graph.all, WayUp.UPRIGHT, 1)) == off
    assert stands_still(build, 1) is (not off)


def test_the_moments_of_several_joints_add_up() -> None:
    """A shelf of 100 g, 30 mm deep, on two posts pulls with 44.1 mN m at 3 g.

    Joints that bear 22 and 23 mN m hold it, 22 and 22 do not.
    """
    for second, held in ((23, True), (22, False)):
        build = build_of(
            [
                piece("p0", mm(0, 0, 0, 30, 30, 60), weight_g=500),
                piece("p1", mm(0, 60, 0, 30, 90, 60), weight_g=500),
                piece("shelf", mm(30, 0, 50, 60, 90, 60), weight_g=100),
            ],
            [bearing("p0", "shelf", 22), bearing("p1", "shelf", second)],
        )
        graph = graph_of(build)
        assert holds(graph, graph.all, WayUp.UPRIGHT, 3) is held


def test_what_is_held_at_both_ends_bends_nothing_open() -> None:
    """A deck between two towers is carried by the joints at its ends, however little they bear."""
    build = build_of(
        [
            piece("left", mm(0, 0, 0, 30, 30, 60), weight_g=500),
            piece("deck", mm(30, 0, 50, 90, 30, 60), weight_g=100),
            piece("right", mm(90, 0, 0, 120, 30, 60), weight_g=500),
        ],
        [bearing("left", "deck", 0), bearing("deck", "right", 0)],
    )
    graph = graph_of(build)
    assert holds(graph, graph.all, WayUp.UPRIGHT, 3)
    assert stands_still(build, 3)


def test_what_stands_upright_may_bend_off_on_its_side() -> None:
    """A foot under one end of a plate is turned up with it, and then hangs beyond its joint.

    Plate and foot are keyed bottom to top; on its left side the foot of 60 g, 60 mm long, sticks
    out: 3 x 9.80665 x 60 x 30 g mm = 52.96 mN m.
    """
    for bends, held in ((53, True), (52, False)):
        build = build_of(
            [
                piece("foot", mm(30, 0, 0, 60, 30, 60), weight_g=60),
                piece("plate", mm(0, 0, 60, 90, 30, 90), weight_g=900),
            ],
            [bearing("foot", "plate", bends, 2)],
        )
        graph = graph_of(build)
        assert holds(graph, graph.all, WayUp.UPRIGHT, 3)
        assert holds(graph, graph.all, WayUp.ON_LEFT, 3) is held


def _comb(random: Random) -> Build:
    """Return a tower with arms to the right and to the back, chains of beams of any strength."""
    pieces = [piece("tower", mm(0, 0, 0, 60, 60, 120), weight_g=5_000)]
    joints = []
    for arm in range(random.randrange(1, 4)):
        axis = random.randrange(2)
        last, at = "tower", 60
        for number in range(random.randrange(1, 4)):
            end = at + random.choice([20, 30, 40])
            low = 30 + 30 * arm
            x, y = ((at, end), (10, 40)) if axis == 0 else ((10, 40), (at, end))
            corners = (x[0], y[0], low, x[1], y[1], low + 10)
            name = f"a{arm}{number}"
            pieces.append(piece(name, mm(*corners), weight_g=random.randrange(20, 90)))
            bends, force = random.randrange(4, 200), random.randrange(50, 900)
            joints.append(bearing(last, name, bends, axis, holds_g=force))
            last, at = name, end
    return build_of(pieces, joints)


def test_rules_and_static_equilibrium_agree_on_arms() -> None:
    """Where every piece hangs on one joint alone, the rules and the linear program agree."""
    answers: Counter[bool] = Counter()
    for seed in range(150):
        build = _comb(Random(seed))
        graph = graph_of(build)
        shock = 1 + seed % 3
        answer = holds(graph, graph.all, WayUp.UPRIGHT, shock)
        assert answer == stands_still(build, shock), seed
        answers[answer] += 1
    assert min(answers[True], answers[False]) > 25


def test_what_is_in_equilibrium_never_breaks_the_rules() -> None:
    """Of random builds with weak joints, none that the linear program keeps at rest is refused."""
    answers: Counter[tuple[bool, bool]] = Counter()
    for seed in range(120):
        build = undermined(Random(seed))
        graph = graph_of(build)
        answers[stands_still(build, 3), holds(graph, graph.all, WayUp.UPRIGHT, 3)] += 1
    assert answers[True, False] == 0
    assert answers[True, True] > 20
    assert answers[False, False] > 20
