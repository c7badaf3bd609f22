"""Each rule of packing in a case small enough to be checked by hand."""

import pytest

from packdown.geometry import WayUp
from packdown.model import Item, Lining, Packing, PackingProblem, Placement
from packdown.packing import fits_alone, pack
from support.packing_problems import MM, block, blocks, crate, problem, solid_item, violations

UPRIGHT = (WayUp.UPRIGHT,)


def _pack(asked: PackingProblem) -> Packing:
    packing = pack(asked, effort=2, seed=0)
    assert violations(asked, packing) == []
    return packing


def _only(packing: Packing) -> dict[str, Placement]:
    """The placements of the only container in use, by item."""
    (fill,) = packing.fills
    return {place.item: place for place in fill.placements}


@pytest.mark.parametrize(("clearance", "left"), [(0, 0), (1, 0), (2, 1)])
def test_clearance(clearance: int, left: int) -> None:
    """Two of 10 mm need 20 mm and three clearances: 23 mm are enough for 1 mm, not for 2 mm."""
    box = crate("box", (23, 14, 10), clearance_um=clearance * MM)
    packing = _pack(problem([block(n, (10, 10, 10)) for n in "ab"], [box]))
    assert len(packing.unpacked) == left


def test_clearance_is_sideways_only() -> None:
    """Items rest on each other and reach up to the rim."""
    box = crate("box", (14, 14, 20), clearance_um=2 * MM)
    assert _pack(problem(blocks(2, (10, 10, 10)), [box])).unpacked == ()


def test_ways_up() -> None:
    """A post that must stand upright has no room in a low container; lying, it has."""
    box = crate("box", (40, 40, 20))
    assert _pack(problem([block("post", (5, 5, 30))], [box])).unpacked == ()
    standing = block("post", (5, 5, 30), allowed_ways_up=UPRIGHT)
    assert _pack(problem([standing], [box])).unpacked == ("post",)


@pytest.mark.parametrize(("percent", "left"), [(75, ()), (76, ("plate",))])
def test_support(percent: int, left: tuple[str, ...]) -> None:
    """A plate of 40 mm on a block of 30 mm, both 10 mm wide, is supported by 75 %."""
    base = block("base", (30, 10, 30), allowed_ways_up=UPRIGHT)
    plate = block("plate", (40, 10, 5), allowed_ways_up=UPRIGHT, carry_limit_g=0)
    packing = _pack(problem([base, plate], [crate("box", (40, 10, 35))], support_percent=percent))
    assert packing.unpacked == left


@pytest.mark.parametrize(("reach", "left"), [(36, ()), (34, ("weight",))])
def test_balance_down_the_stack(reach: int, left: tuple[str, ...]) -> None:
    """A weight at the end of a plank tips it, unless the base reaches far enough.

    The only free spot is the last 10 mm of the plank. There the weight of 100 g acts at 35 mm,
    and with the plank, 1 g at 5 mm, at 34.7 mm.
    """
    base = block("base", (reach, 10, 20), 150, allowed_ways_up=UPRIGHT)
    plank = solid_item(
        "plank",
        [(0, 0, 0, 40, 10, 5), (0, 0, 5, 30, 10, 30)],
        1,
        centre_um=(5 * MM, 5 * MM, 5 * MM),
        carry_limit_g=100,
        allowed_ways_up=UPRIGHT,
    )
    weight = block("weight", (10, 10, 25), 100, allowed_ways_up=UPRIGHT)
    asked = problem([base, plank, weight], [crate("box", (40, 10, 50))], support_percent=25)
    assert _pack(asked).unpacked == left


@pytest.mark.parametrize(("limit", "left"), [(20, 0), (19, 1)])
def test_carry_limit(limit: int, left: int) -> None:
    """The lowest of three blocks of 10 g carries 20 g."""
    stack = [block(n, (10, 10, 10), 10, carry_limit_g=limit) for n in "abc"]
    assert len(_pack(problem(stack, [crate("box", (10, 10, 30))])).unpacked) == left


@pytest.mark.parametrize(("limit", "left"), [(21, ()), (19, ("roof",))])
def test_loads_by_two_paths_add_up(limit: int, left: tuple[str, ...]) -> None:
    """Two posts of 5 g and the roof of 10 g on them: the base carries 20 g by two paths.

    Tested path by path, 5 + 5 = 10 g each would pass a limit of 19 g.
    """
    posts = [
        block(f"post-{n}", (10, 10, 20), 5, carry_limit_g=10, allowed_ways_up=UPRIGHT) for n in "ab"
    ]
    base = block("base", (30, 10, 6), 50, carry_limit_g=limit, allowed_ways_up=UPRIGHT)
    roof = block("roof", (30, 10, 5), 10, carry_limit_g=0, allowed_ways_up=UPRIGHT)
    asked = problem([base, *posts, roof], [crate("box", (30, 10, 31))], support_percent=60)
    assert _pack(asked).unpacked == left


def test_tender_cuboids_are_spared() -> None:
    """On a step, a block finds its place; on a step whose tread is tender, it does not."""
    steps = [(0, 0, 0, 20, 10, 10), (20, 0, 0, 40, 10, 5)]
    size, on_top = (40, 10, 15), block("load", (15, 10, 5), allowed_ways_up=UPRIGHT)
    firm = solid_item("steps", steps, allowed_ways_up=UPRIGHT)
    assert _pack(problem([firm, on_top], [crate("box", size)])).unpacked == ()
    frail = solid_item("steps", steps, tender=(0, 1), allowed_ways_up=UPRIGHT)
    assert _pack(problem([frail, on_top], [crate("box", size)])).unpacked == ("load",)


def test_what_may_carry_nothing_lies_on_top() -> None:
    """The fragile one of two equal blocks is loaded last."""
    frail = block("frail", (10, 10, 10), carry_limit_g=0)
    packing = _pack(problem([frail, block("firm", (10, 10, 10))], [crate("box", (10, 10, 20))]))
    assert list(_only(packing)) == ["firm", "frail"]


def test_magnets_stand_on_steel() -> None:
    """On steel, magnets stand upright on the floor: two need twice the floor of one."""
    magnets = [block(n, (10, 10, 10), magnets=True) for n in "ab"]
    sizes = {(10, 10, 20): 1, (20, 10, 10): 0}
    for size, left in sizes.items():
        steel = crate("tray", size, lining=Lining.STEEL)
        assert len(_pack(problem(magnets, [steel])).unpacked) == left
        assert _pack(problem(magnets, [crate("tray", size)])).unpacked == ()


def test_magnets_do_not_lie_on_steel() -> None:
    """What would have to lie on its side finds no place on steel."""
    post = block("post", (5, 5, 30), magnets=True)
    steel = crate("tray", (40, 40, 20), lining=Lining.STEEL)
    assert _pack(problem([post], [steel])).unpacked == ("post",)
    assert not fits_alone(post, steel, problem([], []).rules)


@pytest.mark.parametrize(("lining", "left"), [(Lining.STEEL, 1), (Lining.NONE, 0)])
def test_magnets_do_not_ride_above_steel(lining: Lining, left: int) -> None:
    """A balcony may stand on a plinth that is lower than its overhang, but not on steel."""
    balcony = solid_item(
        "balcony",
        [(0, 0, 0, 20, 10, 10), (0, 0, 10, 30, 10, 15)],
        magnets=True,
        carry_limit_g=0,
        allowed_ways_up=UPRIGHT,
    )
    plinth = block("plinth", (20, 10, 8), allowed_ways_up=UPRIGHT)
    tray = crate("tray", (30, 10, 23), lining=lining)
    assert len(_pack(problem([balcony, plinth], [tray])).unpacked) == left


@pytest.mark.parametrize(("height", "left"), [(24, 0), (23, 1)])
def test_sheets_take_room(height: int, left: int) -> None:
    """Three layers of 6 mm with two sheets of 3 mm are 24 mm high."""
    layers = blocks(3, (10, 10, 6))
    asked = problem(layers, [crate("box", (10, 10, height), sheet_um=3 * MM)])
    packing = _pack(asked)
    assert len(packing.unpacked) == left
    heights = [place.at_um[2] for place in _only(packing).values()]
    assert heights == [0, 9_000, 18_000][: len(heights)]


@pytest.mark.parametrize(("limit", "left"), [(30, 0), (29, 1)])
def test_payload(limit: int, left: int) -> None:
    """Three of 10 g need a payload of 30 g."""
    box = crate("box", (30, 10, 10), payload_g=limit)
    assert len(_pack(problem(blocks(3, (10, 10, 10)), [box])).unpacked) == left


def test_gross_weight_includes_the_tare() -> None:
    """A tare of 100 g and two of 10 g are within 120 g; the third is not."""
    asked = problem(blocks(3, (10, 10, 10)), [crate("box", (30, 10, 10))], weight_limit_g=120)
    assert len(_pack(asked).unpacked) == 1


def test_stacked_containers_share_what_the_lowest_bears() -> None:
    """130 g on the lowest leave 30 g for the contents of the upper one, after its tare."""
    lower = crate("lower", (10, 10, 10), stack_limit_g=130)
    upper = crate("upper", (90, 10, 10), stacked_on="lower")
    packing = _pack(problem(blocks(9, (10, 10, 10)), [lower, upper]))
    assert len(packing.unpacked) == 5


def test_first_needed_is_last_in() -> None:
    """Of three equal blocks in a stack, the one needed first lies on top, the others in turn."""
    ranks = {"third": None, "first": 1, "second": 2}
    stack = [block(name, (10, 10, 10), needed=rank) for name, rank in ranks.items()]
    packing = _pack(problem(stack, [crate("box", (10, 10, 30))]))
    assert list(_only(packing)) == ["third", "second", "first"]


def test_nothing_bars_the_way_of_what_is_needed_first() -> None:
    """What is needed first must be below, so what is not needed has no place over it."""
    base = block("base", (20, 10, 10), needed=1, allowed_ways_up=UPRIGHT)
    late = block("late", (10, 10, 19), allowed_ways_up=UPRIGHT)
    box = crate("box", (20, 10, 30))
    assert _pack(problem([base, late], [box])).unpacked == ("late",)
    soon = block("soon", (10, 10, 20), needed=1, allowed_ways_up=UPRIGHT)
    assert _pack(problem([base, soon], [box])).unpacked == ()


def _home(packing: Packing) -> dict[str, str]:
    return {place.item: fill.container for fill in packing.fills for place in fill.placements}


def test_groups_stay_together() -> None:
    """Two large and two small: the groups decide who shares a box."""
    items = [block(n, (10, 10, 10)) for n in "abcd"]
    for pair in ("ab", "ac", "ad"):
        boxes = [crate(name, (20, 10, 10)) for name in ("one", "two")]
        home = _home(_pack(problem(items, boxes, keep_together=(tuple(pair),))))
        assert len(home) == 4
        assert home[pair[0]] == home[pair[1]]


def test_a_group_is_packed_whole_or_not_at_all() -> None:
    """If one of a group has no room with the others, none is packed."""
    items = [block(n, (10, 10, 10)) for n in "abc"]
    asked = problem(items, [crate("box", (20, 10, 10))], keep_together=(("a", "b", "c"),))
    assert _pack(asked).unpacked == ("a", "b", "c")


def test_groups_that_share_a_piece_are_one() -> None:
    """Two groups that share b put a, b and c in one box."""
    items = [block(n, (10, 10, 10)) for n in "abc"]
    boxes = [crate("small", (20, 10, 10)), crate("large", (30, 10, 10))]
    home = _home(_pack(problem(items, boxes, keep_together=(("a", "b"), ("b", "c")))))
    assert set(home.values()) == {"large"}


def test_groups_stay_apart() -> None:
    """Items with pieces of the group lie in different containers, one item may hold several."""
    items: list[Item] = [block(n, (10, 10, 10), pieces=(n, n + n)) for n in "abc"]
    boxes = [crate(name, (30, 10, 10)) for name in ("one", "two")]
    home = _home(_pack(problem(items, boxes, keep_apart=(("a", "aa", "b"),))))
    assert len(home) == 3
    assert home["a"] != home["b"]
    assert len(_pack(problem(items, boxes, keep_apart=(("a", "b", "c"),))).unpacked) == 1
