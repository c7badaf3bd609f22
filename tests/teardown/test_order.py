"""The order of work."""

from collections import Counter
from random import Random

import networkx as nx
import pytest

from packdown.geometry import Direction, blocks
from packdown.model import Build
from packdown.teardown import Interlocked, Move, check_moves, order_of_work, split
from packdown.teardown.order import DIRECTIONS
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
    random_build,
    row,
)


def singles(build: Build) -> list[tuple[str, ...]]:
    """Return every piece as a sub-assembly of its own."""
    return [(piece.id,) for piece in build.pieces]


def split_joints(build: Build, parts: list[tuple[str, ...]]) -> list[str]:
    """Return the joints between different parts."""
    home = {name: n for n, part in enumerate(parts) for name in part}
    return sorted(j.id for j in build.joints if len({home[name] for name in j.pieces}) == 2)


def assert_all_opened_once(
    build: Build, parts: list[tuple[str, ...]], moves: tuple[Move, ...]
) -> None:
    """Assert that moves open each joint between parts once and conserve keys."""
    assert sorted(name for move in moves for name in move.joints) == split_joints(build, parts)
    keys = {j.id: j.keys for j in build.joints}
    assert sum(move.keys for move in moves) == sum(keys[j] for j in split_joints(build, parts))
    assert len(moves) == len(parts) - 1


def test_a_build_left_whole_needs_no_move() -> None:
    """One sub-assembly is already apart."""
    build = row(3)
    assert order_of_work(build, [[piece.id for piece in build.pieces]]) == ()


def test_a_row_is_halved_along_its_length() -> None:
    """Four tiles part in the middle first, by a slide along the row that shears no key."""
    build = row(4)
    moves = order_of_work(build, singles(build))
    assert [len(move.moving) for move in moves] == [2, 1, 1]
    assert {move.direction for move in moves} <= {Direction.LEFT, Direction.RIGHT}
    assert [move.keys for move in moves] == [1, 1, 1]
    assert [move.keys_first for move in moves] == [0, 0, 0]
    assert_all_opened_once(build, singles(build), moves)


def test_a_square_of_tiles_shears_no_key() -> None:
    """A field of 4 x 4 keyed tiles comes apart by slides alone: halves, then halves of those."""
    tiles = [
        piece(f"t{x}{y}", mm(30 * x, 30 * y, 0, 30 * x + 30, 30 * y + 30, 6))
        for x in range(4)
        for y in range(4)
    ]
    joints = [joint(f"t{x}{y}", f"t{x + 1}{y}", 0) for x in range(3) for y in range(4)]
    joints += [joint(f"t{x}{y}", f"t{x}{y + 1}", 1) for x in range(4) for y in range(3)]
    build = build_of(tiles, joints)
    moves = order_of_work(build, singles(build))
    assert sum(move.keys_first for move in moves) == 0
    assert len(moves[0].moving) == 8
    assert_all_opened_once(build, singles(build), moves)


def test_the_upper_storey_comes_off_first() -> None:
    """Of two storeys the upper one is lifted straight up."""
    build = hall(2, 2, 2)
    found = split(build, [box("a", 130, 130, 75)], SETTINGS, RULES, KEY_G)
    (move,) = order_of_work(build, found.sub_assemblies)
    assert move.direction is Direction.UP
    assert all(name.split("/")[1][1] == "1" for name in move.moving)


def test_a_slot_allows_one_direction_only() -> None:
    """A tongue in a groove that is open to the back alone is drawn out to the back."""
    groove = piece(
        "groove",
        *(mm(0, 0, 0, 60, 10, 30), mm(0, 10, 0, 60, 60, 10), mm(0, 10, 20, 60, 60, 30)),
        *(mm(0, 10, 10, 10, 60, 20), mm(50, 10, 10, 60, 60, 20)),
    )
    tongue = piece("tongue", mm(10, 10, 10, 50, 70, 20))
    build = build_of([groove, tongue], [joint("groove", "tongue", 1)])
    (move,) = order_of_work(build, singles(build))
    ways_out = {"b/tongue": Direction.BACK, "b/groove": Direction.FRONT}
    assert move.direction is ways_out[move.moving[0]]
    check_moves(build, (move,))


def test_keys_that_would_be_sheared_come_first() -> None:
    """A tile in a frame that is open at the top is lifted out: its four side keys come first."""
    frame = piece(
        "frame",
        *(mm(0, 0, 0, 90, 30, 6), mm(0, 60, 0, 90, 90, 6)),
        *(mm(0, 30, 0, 30, 60, 6), mm(60, 30, 0, 90, 60, 6)),
    )
    tile = piece("tile", mm(30, 30, 0, 60, 60, 6))
    build = build_of([frame, tile], [joint("frame", "tile", 0), joint("tile", "frame", 1)])
    (move,) = order_of_work(build, singles(build))
    assert move.direction is Direction.UP
    assert (move.keys, move.keys_first) == (2, 2)


def test_what_carries_others_comes_off_after_them() -> None:
    """A slab keyed on two posts is lifted off first: moving a post would leave it hanging."""
    posts = [piece(f"post{i}", mm(60 * i, 0, 0, 60 * i + 30, 30, 60)) for i in range(2)]
    slab = piece("slab", mm(0, 0, 60, 90, 30, 70))
    build = build_of([*posts, slab], [joint("post0", "slab", 2), joint("post1", "slab", 2)])
    moves = order_of_work(build, singles(build))
    assert moves[0].moving == ("b/slab",)
    assert moves[0].direction is Direction.UP
    assert all(not move.holds and move.hands == 1 for move in moves)


def test_a_hand_is_asked_for_where_something_hangs() -> None:
    """A shelf in a case hangs by a weak joint once the leg below it is drawn out.

    The shelf weighs 500 g and the joint holds 10 g.
    """
    case = piece("case", mm(60, 0, 0, 90, 30, 60), weight_g=2_000)
    cover = piece("cover", mm(0, 0, 60, 90, 30, 70), weight_g=2_000)
    top = piece("top", mm(0, 0, 40, 60, 30, 60), weight_g=500)
    leg = piece("leg", mm(0, 0, 0, 60, 30, 40))
    joints = [
        joint("case", "cover", 2, holds_g=None, fixed=True),
        joint("case", "top", 0, holds_g=10),
        joint("leg", "top", 2),
    ]
    build = build_of([case, cover, top, leg], joints)
    parts = [("b/case", "b/cover", "b/top"), ("b/leg",)]
    (move,) = order_of_work(build, parts)
    assert move.holds == ("b/top",)
    assert move.hands == 2


@pytest.mark.parametrize(("weight_g", "hands"), [(500, 1), (501, 2)])
def test_more_than_a_kilogram_takes_two_hands(weight_g: int, hands: int) -> None:
    """Two tiles of 500 g are moved with one hand, two of 501 g with both."""
    tiles = [
        piece(f"t{i}", mm(30 * i, 0, 0, 30 * i + 30, 30, 6), weight_g=weight_g) for i in range(4)
    ]
    build = build_of(tiles, row(4).joints)
    (move,) = order_of_work(build, [("b/t0", "b/t1"), ("b/t2", "b/t3")])
    assert move.hands == hands


def test_more_than_30_cm_takes_two_hands() -> None:
    """Ten tiles of 30 mm are moved with one hand, eleven with both."""
    for count, hands in ((10, 1), (11, 2)):
        build = row(2 * count)
        halves = [
            tuple(f"b/t{i}" for i in range(count)),
            tuple(f"b/t{i}" for i in range(count, 2 * count)),
        ]
        (move,) = order_of_work(build, halves)
        assert move.hands == hands


def test_what_is_locked_in_is_said() -> None:
    """A nut inside a closed shell cannot come out."""
    shell = [
        *(mm(0, 0, 0, 50, 50, 10), mm(0, 0, 40, 50, 50, 50)),
        *(mm(0, 0, 10, 10, 50, 40), mm(40, 0, 10, 50, 50, 40)),
        *(mm(10, 0, 10, 40, 10, 40), mm(10, 40, 10, 40, 50, 40)),
    ]
    build = build_of([piece("shell", *shell), piece("nut", mm(10, 10, 10, 40, 40, 40))])
    with pytest.raises(Interlocked, match="lock each other in") as caught:
        order_of_work(build, singles(build))
    assert caught.value.pieces == ("b/shell", "b/nut")


def test_a_partition_must_cover_the_build() -> None:
    """A piece in no sub-assembly, or in two, is a mistake of the caller."""
    with pytest.raises(ValueError, match="exactly one"):
        order_of_work(row(3), [("b/t0",), ("b/t1",)])
    with pytest.raises(ValueError, match="exactly one"):
        order_of_work(row(3), [("b/t0", "b/t1"), ("b/t1", "b/t2")])


def _strongly_connected(build: Build, parts: list[list[str]], direction: Direction) -> bool:
    core = {piece.id: piece.core_um for piece in build.pieces}
    solids = [tuple(c for name in part for c in core[name]) for part in parts]
    network = nx.DiGraph()
    network.add_nodes_from(range(len(parts)))
    network.add_edges_from(
        (i, j)
        for i in range(len(parts))
        for j in range(len(parts))
        if i != j and blocks(solids[i], solids[j], direction)
    )
    return bool(nx.is_strongly_connected(network))


def test_random_builds_come_apart_and_together_again() -> None:
    """Random partitions are taken down and rebuilt on solids, or networkx sees them interlocked.

    Every joint between parts is opened once, and keys are conserved.
    """
    met: Counter[str] = Counter()
    for seed in range(80):
        random = Random(seed)
        build = random_build(random, 12)
        parts: list[list[str]] = [[] for _ in range(random.choice([3, 5, 12]))]
        for one in build.pieces:
            random.choice(parts).append(one.id)
        chosen = [tuple(part) for part in parts if part]
        try:
            moves = order_of_work(build, chosen)
        except Interlocked as locked:
            group = [list(part) for part in chosen if set(part) <= set(locked.pieces)]
            assert all(_strongly_connected(build, group, way) for way in DIRECTIONS)
            met["interlocked"] += 1
            continue
        check_moves(build, moves)
        assert_all_opened_once(build, chosen, moves)
        met["apart"] += 1
    assert met["apart"] > 20
    assert met["interlocked"] >= 5


@pytest.mark.parametrize("seed", range(10))
def test_splits_of_random_builds_come_apart(seed: int) -> None:
    """What the splitter chooses can be taken down and rebuilt."""
    build = random_build(Random(2_000 + seed), 25)
    found = split(build, [box("a", 65, 65, 65)], SETTINGS, RULES, KEY_G)
    moves = order_of_work(build, found.sub_assemblies)
    check_moves(build, moves)
    assert_all_opened_once(build, list(found.sub_assemblies), moves)
