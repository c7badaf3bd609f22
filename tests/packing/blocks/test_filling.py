"""Blocks in a packing problem: every rule is kept, and more goes in."""

import random
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from packdown.geometry import volume
from packdown.model import Item, Packing, PackingProblem
from packdown.packing import pack, pack_one
from packdown.packing.blocks import filling, use
from support.packing_problems import block, crate, problem, solid_item, violations


@pytest.fixture
def used(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """Let blocks be tried for few boxes too, and tell how many items each fill has."""
    sizes: list[int] = []
    own = filling.BlockFills.fill

    def fill(self: filling.BlockFills, container: int, left: filling.Ints) -> object:
        rows, completions = own(self, container, left)
        sizes.append(len(rows))
        return rows, completions

    monkeypatch.setattr(filling.BlockFills, "fill", fill)
    monkeypatch.setattr(use, "WORTH_BLOCKS", 6)
    yield sizes
    assert sizes


def _crowd(seed: int, **of_crate: object) -> PackingProblem:
    """Boxes of a few kinds, more than a crate holds, and one item with a hollow."""
    draw = random.Random(seed)
    sizes = [[draw.randint(8, 30), draw.randint(8, 30), draw.randint(5, 20)] for _ in range(3)]
    kinds = [
        block(f"kind-{n}", (x, y, z), draw.randint(1, 40)) for n, (x, y, z) in enumerate(sizes)
    ]
    items: list[Item] = []
    while sum(volume(item.cuboids_um) for item in items) < 1.3 * 80 * 60 * 50 * 1_000**3:
        name = f"item-{len(items)}"
        items.append(replace(draw.choice(kinds), id=name, pieces=(name,)))
    hollow = [(0, 0, 0, 30, 30, 4), (0, 0, 4, 30, 4, 20)]
    items.append(solid_item("hollow", hollow, 20, carry_limit_g=draw.choice((0, 50, None))))
    box = crate("crate", (80, 60, 50), payload_g=draw.choice((800, 100_000)), **of_crate)
    return problem(items, [box], support_percent=draw.choice((50, 80, 100)))


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("of_crate", [{}, {"clearance_um": 1_500}, {"sheet_um": 2_000}])
def test_every_rule_is_kept(seed: int, of_crate: dict[str, object], used: list[int]) -> None:
    """Whatever the clearance, sheets, payload and support, the verifier finds nothing wrong."""
    asked = _crowd(seed, **of_crate)
    packing = pack(asked, effort=2, seed=seed)
    assert violations(asked, packing) == []
    assert max(used) > 0


def _volume(asked: PackingProblem, packing: Packing) -> int:
    left = set(packing.unpacked)
    return sum(volume(item.cuboids_um) for item in asked.items if item.id not in left)


def test_blocks_pack_more(used: list[int], monkeypatch: pytest.MonkeyPatch) -> None:
    """Over ten crates, blocks pack more than trial fills alone, and in none less by a tenth."""
    crowds = [_crowd(seed) for seed in range(10)]
    with_blocks = [_volume(asked, pack(asked, effort=2, seed=0)) for asked in crowds]
    monkeypatch.setattr(use, "WORTH_BLOCKS", 10**6)
    without = [_volume(asked, pack(asked, effort=2, seed=0)) for asked in crowds]
    assert sum(with_blocks) > sum(without)
    assert all(a > 0.9 * b for a, b in zip(with_blocks, without, strict=True))
    assert used


def test_the_same_twice(used: list[int]) -> None:
    """The same problem, effort and seed give the same packing."""
    assert pack(_crowd(5), effort=3, seed=1) == pack(_crowd(5), effort=3, seed=1)
    assert used


def test_one_container_takes_all_or_nothing(used: list[int]) -> None:
    """Sixty boxes fill a crate to the last corner; of one more, blocks find no place either."""
    items = [block(f"a-{n}", (7, 3, 2)) for n in range(30)]
    items += [block(f"b-{n}", (5, 3, 2)) for n in range(30)]
    box, plain = crate("crate", (36, 30, 2)), problem([], []).rules
    fill = pack_one(tuple(items), box, plain, effort=4, seed=0)
    assert fill is not None
    assert len(fill.placements) == 60
    items.append(block("one more", (5, 3, 2)))
    assert pack_one(tuple(items), box, plain, effort=2, seed=0) is None
    assert used


def test_rules_that_blocks_know_nothing_of_keep_them_out() -> None:
    """Boxes with a carry limit, a rank or a group are not built into blocks."""
    from packdown.packing.kinds import kinds_of  # noqa: PLC0415 - for this test alone

    plain = block("plain", (10, 10, 10))
    items = [
        plain,
        replace(plain, id="weak", pieces=("weak",), carry_limit_g=5),
        replace(plain, id="early", pieces=("early",), needed=1),
        replace(plain, id="one", pieces=("one",), weight_g=11),
        replace(plain, id="other", pieces=("other",), weight_g=12),
    ]
    kinds = kinds_of(
        problem(items, [crate("crate", (40, 40, 40))], keep_together=(("one", "other"),))
    )
    assert use.stackable(kinds).tolist() == [kind[0].id == "plain" for kind in kinds.items]
    assert np.count_nonzero(use.stackable(kinds)) == 1
