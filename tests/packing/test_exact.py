"""The exact mode: the same as trying everything, and never better than the bounds allow."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import permutations, product

import pytest

from packdown.geometry import Solid, WayUp, rotated
from packdown.model import Container, Item, Lining, PackingProblem
from packdown.packing import exact, pack
from packdown.packing.bounds import item_bounds, named_bounds
from packdown.packing.exact import Status
from packdown.packing.poses import poses_of
from support.packing_problems import block, blocks, crate, problem, solid_item, violations
from support.small_groups import small_group

MM = 1_000
Cells = frozenset[tuple[int, int, int]]
Placed = frozenset[Cells]
SHAPES: tuple[tuple[tuple[int, ...], ...], ...] = (
    ((0, 0, 0, 1, 1, 1),),
    ((0, 0, 0, 2, 1, 1),),
    ((0, 0, 0, 2, 2, 1),),
    ((0, 0, 0, 2, 1, 1), (0, 0, 1, 1, 1, 2)),
    ((0, 0, 0, 3, 1, 1), (0, 0, 1, 1, 1, 2), (2, 0, 1, 3, 1, 2)),
    ((0, 0, 0, 2, 1, 1), (1, 0, 1, 2, 1, 2), (1, 1, 0, 2, 2, 1)),
)
"""Cubes, bars and plates; an L, a U, and three arms at a corner."""


def _cells(solid: Solid) -> Cells:
    return frozenset(
        cell
        for c in solid
        for cell in product(
            range(c.x0 // MM, c.x1 // MM),
            range(c.y0 // MM, c.y1 // MM),
            range(c.z0 // MM, c.z1 // MM),
        )
    )


def _turned(item: Item) -> list[Cells]:
    """Return the cells of an item in every pose."""
    poses = {
        _cells(rotated(item.cuboids_um, way, turn)[0])
        for way in item.allowed_ways_up
        for turn in (0, 90, 180, 270)
    }
    return sorted(poses, key=sorted)


def _lowered(cells: Cells, taken: Cells, room: list[int]) -> Iterator[Cells]:
    """Yield where a pose comes to rest in a container, at every place in plan."""
    length, width, height = (1 + max(cell[axis] for cell in cells) for axis in range(3))
    for x, y in product(range(room[0] - length + 1), range(room[1] - width + 1)):
        z = max(
            (t[2] + 1 - c[2] for c in cells for t in taken if (c[0] + x, c[1] + y) == t[:2]),
            default=0,
        )
        z = max(0, z)
        if z + height <= room[2]:
            yield frozenset((c[0] + x, c[1] + y, c[2] + z) for c in cells)


def _one_holds(items: Sequence[Item], container: Container) -> bool:
    """Whether items can be lowered into a container, by trying every order, pose and place."""
    room = [side // MM for side in container.inner_um]
    return any(_all_go(order, room, frozenset(), set()) for order in set(permutations(items)))


def _all_go(rest: Sequence[Item], room: list[int], placed: Placed, tried: set[Placed]) -> bool:
    """Whether the rest can be lowered, in its order, onto what is placed."""
    if not rest:
        return True
    if placed in tried:
        return False
    tried.add(placed)
    taken = frozenset(cell for solid in placed for cell in solid)
    return any(
        _all_go(rest[1:], room, placed | {at}, tried)
        for cells in _turned(rest[0])
        for at in _lowered(cells, taken, room)
    )


def _fewest_by_force(asked: PackingProblem) -> int | None:
    """Return the fewest containers over all assignments, orders, poses and places."""
    known: dict[tuple[object, ...], bool] = {}
    fewest: int | None = None
    for homes in product(range(len(asked.containers)), repeat=len(asked.items)):
        number = len(set(homes))
        if fewest is not None and number >= fewest:
            continue
        for home in set(homes):
            container = asked.containers[home]
            inside = [i for i, at in zip(asked.items, homes, strict=True) if at == home]
            key = (container.inner_um, *sorted(i.id for i in inside))
            if key not in known:
                known[key] = _one_holds(inside, container)
            heavy = sum(i.weight_g for i in inside) > container.payload_g
            apart = any(
                len({*group} & {i.id for i in inside}) > 1 for group in asked.rules.keep_apart
            )
            if heavy or apart or not known[key]:
                break
        else:
            fewest = number
    return fewest


def tiny(seed: int) -> PackingProblem:
    """Draw two to four shapes of a few cells, and containers of two to three cells a side."""
    draw = random.Random(seed)
    items = [
        solid_item(
            f"item-{number}",
            [(c[0], c[1], c[2], c[3], c[4], c[5]) for c in draw.choice(SHAPES)],
            draw.randint(1, 5),
            allowed_ways_up=draw.choice((tuple(WayUp), (WayUp.UPRIGHT,))),
        )
        for number in range(draw.randint(2, 4))
    ]
    # Even density puts the centre of the three arms beside their feet: let all shapes stand.
    items = [_standing(item) for item in items]
    crates = [
        crate(
            f"crate-{number}",
            (draw.randint(2, 3), draw.randint(1, 3), draw.randint(1, 3)),
            payload_g=draw.choice((6, 100)),
        )
        for number in range(draw.randint(1, 3))
    ]
    apart = ((items[0].id, items[1].id),) if draw.random() < 0.2 else ()
    return problem(items, crates, support_percent=0, keep_apart=apart)


def _standing(item: Item) -> Item:
    """Return an item in those ways up in which it stands however it is turned."""
    ways = tuple(dict.fromkeys(pose.way_up for pose in poses_of(item)))
    return replace(item, allowed_ways_up=ways)


@pytest.mark.parametrize("seed", range(60))
def test_the_same_as_trying_everything(seed: int) -> None:
    """On tiny shapes the proof agrees with brute force over orders, poses and places."""
    asked = tiny(seed)
    found, force = exact(asked), _fewest_by_force(asked)
    bound, named = item_bounds(asked), named_bounds(asked)
    if force is None:
        assert found.status is Status.INFEASIBLE
        return
    assert found.status is Status.OPTIMAL
    assert found.containers == found.bound == force
    assert bound.feasible
    assert bound.containers <= force
    assert named is not None
    assert named.best <= force


# --- rules, one by one --------------------------------------------------------------------------


def _fewest(items: list[Item], *containers: Container, **more: object) -> int | None:
    return exact(problem(items, list(containers), support_percent=0, **more)).containers


def test_clearance_takes_room() -> None:
    """Three blocks of 10 in a row of 36 with 1 mm to walls and between them: 3 * 10 + 4 <= 36."""
    items = blocks(3, (10, 10, 10))
    assert _fewest(items, crate("a", (34, 12, 10), clearance_um=1_000)) == 1
    assert _fewest(items, crate("a", (33, 12, 10), clearance_um=1_000)) is None


def test_sheets_take_height() -> None:
    """Two blocks of 10 one above the other take 22 with a sheet of 2 mm between them."""
    items = blocks(2, (10, 10, 10))
    assert _fewest(items, crate("a", (10, 10, 22), sheet_um=2_000)) == 1
    assert _fewest(items, crate("a", (10, 10, 21), sheet_um=2_000)) is None


def test_what_is_needed_first_is_not_buried() -> None:
    """Of two blocks in a shaft the one needed first lies on top; nothing is lowered over it."""
    shaft = crate("a", (10, 10, 20))
    first, later = block("first", (10, 10, 10), needed=1), block("later", (10, 10, 10), needed=2)
    found = exact(problem([first, later], [shaft], support_percent=0))
    assert found.packing is not None
    assert [place.item for place in found.packing.fills[0].placements] == ["later", "first"]
    plate = block("plate", (8, 10, 4))
    table = solid_item(
        "table",
        [(0, 0, 4, 10, 10, 8), (0, 0, 0, 1, 10, 4), (9, 0, 0, 10, 10, 4)],
        allowed_ways_up=(WayUp.UPRIGHT,),
    )
    low = crate("a", (10, 10, 8))
    assert _fewest([plate, table], low) == 1
    assert _fewest([replace(plate, needed=1), table], low) is None


def test_magnets_stand_upright_on_steel() -> None:
    """A block with magnets neither lies on its side nor on another in a steel-lined tray."""
    post = block("post", (10, 10, 20), magnets=True)
    steel = {"lining": Lining.STEEL}
    assert _fewest([post], crate("a", (20, 10, 10))) == 1
    assert _fewest([post], crate("a", (20, 10, 10), **steel)) is None
    flat = [block(f"flat-{n}", (10, 10, 10), magnets=True) for n in range(2)]
    assert _fewest(flat, crate("a", (10, 10, 20))) == 1
    assert _fewest(flat, crate("a", (10, 10, 20), **steel)) is None


def test_groups_and_weights_are_kept() -> None:
    """Kept apart, two blocks need two containers; kept together, they need one that bears both."""
    items = blocks(2, (10, 10, 10))
    names = (("block-0", "block-1"),)
    light, strong = (crate(n, (40, 40, 40), payload_g=p) for n, p in (("a", 15), ("b", 20)))
    assert _fewest(items, light, strong) == 1
    assert _fewest(items, light, strong, keep_apart=names) == 2
    assert _fewest(items, light, replace(light, id="c")) == 2
    assert _fewest(items, light, replace(light, id="c"), keep_together=names) is None


def test_solids_are_lowered_not_slid() -> None:
    """A bar fits under the roof of a C that lies on its side, but cannot be lowered there.

    The C is loaded upside down over the bar, if it may be turned; upright on its back it must
    leave the bar outside.
    """
    roofed = solid_item(
        "roofed",
        [(0, 0, 0, 3, 3, 1), (0, 0, 1, 1, 3, 2), (0, 0, 2, 3, 3, 3)],
        allowed_ways_up=(WayUp.UPRIGHT,),
    )
    bar = block("bar", (2, 3, 1))
    assert _fewest([roofed, bar], crate("a", (3, 3, 3))) is None
    assert _fewest([replace(roofed, allowed_ways_up=tuple(WayUp)), bar], crate("a", (3, 3, 3))) == 1


def test_a_short_search_says_what_it_knows() -> None:
    """Without time nothing is found, nothing is disproved, and the bound still holds."""
    asked = problem(blocks(12, (13, 9, 7)), [crate(n, (40, 30, 10)) for n in "abc"])
    hasty = exact(asked, limit=1e-9)
    assert hasty.status is Status.UNKNOWN
    assert hasty.containers is None
    assert hasty.packing is None
    assert 1 <= hasty.bound <= 3


def test_the_same_answer_comes_out_twice() -> None:
    """The solver runs on one thread under a deterministic limit."""
    asked = small_group(20)
    assert exact(asked, limit=0.5) == exact(asked, limit=0.5)


# --- the packer against the proof ---------------------------------------------------------------

NOT_ASKED = ("balance:",)
"""Where nothing need be supported, nothing need stand."""


@pytest.mark.parametrize("seed", range(25))
def test_packer_and_bounds_keep_to_the_proof(seed: int) -> None:
    """On small groups no bound is above the proved optimum, and the packer is never below it."""
    asked = small_group(seed, most_items=7)
    found = exact(asked, limit=2.0)
    bound, named = item_bounds(asked), named_bounds(asked)
    packing = pack(asked, effort=1, seed=0)
    if found.status is Status.INFEASIBLE:
        assert packing.unpacked
        return
    assert found.packing is not None
    assert found.containers is not None
    wrong = violations(asked, found.packing)
    assert [fault for fault in wrong if not fault.startswith(NOT_ASKED)] == []
    assert named is not None
    assert max(bound.containers, named.best) <= found.bound <= found.containers
    if found.status is Status.OPTIMAL and not packing.unpacked:
        assert len(packing.fills) >= found.containers
