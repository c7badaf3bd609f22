"""What is exactly at a limit is right: no rule cries one unit too early."""

from dataclasses import replace

import pytest

from packdown.model import NotPacked, Plan
from packdown.verify import verify
from support.altering import (
    with_container,
    with_item,
    with_joint,
    with_piece,
    with_place,
    with_rules,
    with_spot,
    with_step,
)
from support.breaks_contents import HAUNTED, UNMET
from support.breaks_places import block, in_one_box
from support.breaks_strength import WEAK_ON_THE_SHELF
from support.making import mm
from support.plans import GOOD

REACHED = {
    "payload": with_container(GOOD, "box", payload_g=225),
    "gross weight": with_rules(GOOD, weight_limit_g=725),
    "stack limit": with_container(GOOD, "box", stack_limit_g=341),
    "load": with_item(GOOD, "d1", carry_limit_g=40),
    "joint": with_joint(GOOD, "w1+b1", holds_g=60),
    # A key 4 mm in balances 3 x (20 g x 8 mm - 30 g x 4 mm).
    "wall turned over": with_joint(GOOD, "f1+w1", holds_g=30, bends_mnm=0),
    "weak on the shelf": WEAK_ON_THE_SHELF,
    # 3 x 20 g, 8 mm out: 4.7 mN m.
    "moment": with_joint(GOOD, "w1+b1", bends_mnm=5),
    "clearance": with_spot(GOOD, "s1", (8, 2, 0)),
    "walls": with_spot(GOOD, "s1", (78, 38, 0)),
    "centre of gravity": with_item(GOOD, "t1", centre_um=mm(32.002, 16, 4)),
    "needed at once": with_item(with_item(GOOD, "d1", needed=2), "p1", needed=2),
    "needed before": with_item(with_item(GOOD, "d1", needed=2), "p1", needed=1),
    "apart in one item": with_rules(GOOD, keep_apart=(("f1", "w1"),)),
    "home told early": with_step(GOOD, "take_down", 2, to="box"),
    "not packed": replace(
        HAUNTED, bounds=UNMET, not_packed=(NotPacked(item="ghost", reason="too long"),)
    ),
    "stated support": with_place(GOOD, "p1", support=60 / 62 + 0.0009),
    "full bag": with_piece(GOOD, "k1", cuboids_um=(mm(0, 0, 0, 10, 10, 50),)),
    # 1 mm beside the second block as seen from above, but not beside it: no clearance is asked.
    "level with the next": in_one_box(
        (block("under", 9, 20, 20, 10), (2, 2, 0), 1, 1),
        (block("next", 9, 20, 20, 10), (24, 2, 0), 1, 1),
        (block("over", 9, 21, 20, 10), (2, 2, 10), 20 / 21, 2),
    ),
    # 80 of 100 mm lie on the block.
    "support": in_one_box(
        (block("under", 9, 80, 20, 10), (2, 2, 0), 1, 1),
        (block("over", 9, 100, 20, 10), (2, 2, 10), 0.8, 2),
    ),
    # The weight acts at 2 + 50 mm, the edge of what it lies on.
    "balance": with_rules(
        in_one_box(
            (block("under", 9, 50, 20, 10), (2, 2, 0), 1, 1),
            (block("over", 9, 100, 20, 10), (2, 2, 10), 0.5, 2),
        ),
        support_percent=50,
    ),
}


@pytest.mark.parametrize("plan", REACHED.values(), ids=REACHED)
def test_limit_may_be_reached(plan: Plan) -> None:
    """A plan exactly at one of its limits breaks no rule."""
    assert [str(found) for found in verify(plan).violations] == []
