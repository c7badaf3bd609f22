"""What hands must hold at each stage of taking down and rebuilding."""

from random import Random

import pytest

from packdown.geometry import WayUp
from packdown.model import Build, JointKind
from packdown.teardown import order_of_work
from packdown.teardown.graph import graph_of
from packdown.teardown.holding import to_hold
from packdown.verify.equilibrium import load_factor
from support.teardown_builds import build_of, joint, mm, piece, random_build, undermined


def gate() -> Build:
    """Return a lintel of 90 mm that lies on two posts of 30 mm."""
    return build_of(
        [
            piece("left", mm(0, 0, 0, 30, 30, 60)),
            piece("right", mm(60, 0, 0, 90, 30, 60)),
            piece("lintel", mm(0, 0, 60, 90, 30, 70), weight_g=60),
        ],
        [joint(post, "lintel", 2, kind=JointKind.STACKED) for post in ("left", "right")],
    )


def test_a_lintel_is_held_when_a_post_slides_out() -> None:
    """Its middle is 15 mm beyond the post that stays; once it is off, that post stands alone."""
    graph = graph_of(gate())
    assert graph.ids(to_hold(graph, 0b101, 0b010)) == ("b/lintel",)
    assert to_hold(graph, 0b001, 0b100) == 0


def test_moves_that_leave_less_to_hold_come_first() -> None:
    """The lintel is lifted off before either post goes, so that no hand holds it up."""
    build = gate()
    moves = order_of_work(build, [(piece.id,) for piece in build.pieces], exact=True)
    assert moves[0].moving == ("b/lintel",)
    assert all(move.holds == () for move in moves)


def test_what_is_left_in_the_air_is_held() -> None:
    """Posts that slide away together leave the lintel where it was, 60 mm above the table."""
    graph = graph_of(gate())
    assert graph.ids(to_hold(graph, 0b100, 0b011)) == ("b/lintel",)
    assert to_hold(graph, 0b100) == 0


def test_one_hand_is_enough_for_what_is_joined() -> None:
    """Three tiles in a row, joined by keys, hang in the air: one of them is held, not three."""
    tiles = [piece(f"t{i}", mm(30 * i, 0, 20, 30 + 30 * i, 30, 28), weight_g=10) for i in range(3)]
    block = piece("block", mm(0, 0, 0, 90, 30, 20))
    joints = [joint(f"t{i}", f"t{i + 1}") for i in range(2)]
    graph = graph_of(build_of([*tiles, block], joints))
    assert to_hold(graph, 0b0111, 0b1000).bit_count() == 1


@pytest.mark.parametrize("seed", range(30))
def test_stages_stand_as_the_equilibrium_of_forces_says(seed: int) -> None:
    """With what is held all stands, and with one hand fewer it does not; found by forces."""
    random = Random(seed)
    build = undermined(random) if seed % 2 else random_build(random, 9)
    singles = [(one.id,) for one in build.pieces]
    pieces = {one.id: one for one in build.pieces}
    graph = graph_of(build)
    for move in order_of_work(build, singles):
        both = (graph.mask(move.staying), graph.mask(move.moving))
        held = graph.ids(to_hold(graph, *both))
        for hands in (held, held[:-1]):
            load = load_factor(
                [pieces[name] for name in move.staying],
                graph.inner(both[0]),
                WayUp.UPRIGHT,
                1,
                held=hands,
                beside=[pieces[name] for name in move.moving],
            )
            assert (load > 1 - 1e-5) == (hands == held), (move, hands)
