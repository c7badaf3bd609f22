"""Blocks are what they say: full, of boxes that are there, with a top that carries."""

from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from packdown.geometry import plan_of, volume
from packdown.packing.blocks import layout as at
from packdown.packing.blocks.pool import Boxes, stock_of
from support.box_sets import boxes_of, random_boxes

modes = pytest.mark.parametrize("support", [0, 80, 100])


@modes
@pytest.mark.parametrize("seed", range(6))
def test_blocks_are_full_and_made_of_what_is_there(seed: int, support: int) -> None:
    """A block holds its boxes without overlap, is 98 % filled, and asks for no box too many."""
    asked = random_boxes(seed, support)
    stock = stock_of(asked, 120)
    for block, row in enumerate(stock.pool.blocks.tolist()):
        boxes = [cuboid for _, cuboid in boxes_of(stock, block)]
        assert not any(one.overlaps(two) for one, two in combinations(boxes, 2))
        assert [max(box[k + 3] for box in boxes) for k in range(3)] == row[:3]
        assert volume(tuple(boxes)) == row[at.VOLUME]
        assert row[at.VOLUME] >= 0.98 * row[0] * row[1] * row[2]
        assert len(boxes) == row[at.BOXES]
        kinds = Counter(int(stock.task.lies[lie, 0]) for lie, _ in boxes_of(stock, block))
        needs = stock.pool.needs[slice(*stock.pool.first_need[block : block + 2])].tolist()
        assert kinds == dict(needs)
        assert all(asked.counts[kind] >= number for kind, number in needs)


@pytest.mark.parametrize("seed", range(6))
def test_tops_carry_all_over(seed: int) -> None:
    """With full support, the top of a block and the base of each box in it lie on boxes."""
    stock = stock_of(random_boxes(seed, 100), 120)
    for block, row in enumerate(stock.pool.blocks.tolist()):
        boxes = [cuboid for _, cuboid in boxes_of(stock, block)]
        x0, y0, x1, y1 = row[at.TOP_X0 : at.TOP_Y1 + 1]
        faces = [((x0, y0, x1, y1), row[at.SIZE_Z])]
        faces += [(plan_of(box), box.z0) for box in boxes if box.z0 > 0]
        for (left, front, right, back), height in faces:
            covered = sum(
                max(0, min(right, box.x1) - max(left, box.x0))
                * max(0, min(back, box.y1) - max(front, box.y0))
                for box in boxes
                if box.z1 == height
            )
            assert covered == (right - left) * (back - front)


def test_single_boxes_always_have_a_block() -> None:
    """Where copies of the first kind alone would fill the pool, every box is in it all the same."""
    lies = ((0, 1, 1, 1), (1, 9, 9, 9))
    counts = np.array([500, 1], np.int64)
    asked = Boxes(inner=(30, 20, 18), lies=lies, counts=counts, support_percent=100)
    sizes = stock_of(asked, 10).pool.blocks[:, :3].tolist()
    assert [1, 1, 1] in sizes
    assert [9, 9, 9] in sizes


def test_a_small_stock_has_all_its_joins() -> None:
    """Two unlike boxes of one height make six blocks: each alone, and joined along two axes.

    4 x 3 x 2 and 5 x 3 x 2 join along x only, as their lengths differ by more than 2 %; with
    free placement, on top of each other neither.
    """
    lies = ((0, 4, 3, 2), (1, 5, 3, 2))
    asked = Boxes(
        inner=(30, 20, 18), lies=lies, counts=np.array([1, 1], np.int64), support_percent=0
    )
    assert sorted(stock_of(asked).pool.blocks[:, :3].tolist()) == [[4, 3, 2], [5, 3, 2], [9, 3, 2]]


def test_blocks_do_not_bridge_where_they_must_not() -> None:
    """Where boxes must not lie across neighbours, the top of two side by side is one of them."""
    asked = Boxes(
        inner=(30, 20, 18),
        lies=((0, 4, 3, 2),),
        counts=np.array([2], np.int64),
        support_percent=100,
        across=False,
    )
    tops = {tuple(row) for row in stock_of(asked).pool.blocks[:, at.TOP_X0 : at.VOLUME].tolist()}
    assert tops == {(0, 0, 4, 3)}
