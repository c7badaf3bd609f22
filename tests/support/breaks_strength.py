"""The good plan broken in one rule at a time: joints, and what they carry."""

from typing import Any

from packdown.model import JointState, Plan, Weak
from support.altering import (
    with_item,
    with_joint,
    with_mill,
    with_objective,
    with_piece,
    with_rules,
)
from support.breaks_contents import Break
from support.making import mm
from support.plans import GOOD

__all__ = ["STRENGTH", "WEAK_ON_THE_SHELF"]

# Two grams of keys become two grams of wall: (32 x 40 + 4 x 32) / 72 and (4 x 40 + 32 x 32) / 72.
_UNJOINED = with_mill(GOOD, joints=tuple(j for j in GOOD.builds[0].joints if j.id != "f2+w2"))
_UNJOINED = with_piece(_UNJOINED, "w2", weight_g=32)
_UNJOINED = with_item(_UNJOINED, "half-2", centre_um=mm(32, 19.556, 16.444))

_HALF, _MILL = ("f1", "w1", "b1"), ("f1", "w1", "b1", "f2", "w2", "c1")


def _weak(*wholes: tuple[str, ...], at: tuple[str, ...] = ("w1+b1",)) -> tuple[Weak, ...]:
    return tuple(Weak(pieces=pieces, stands=True, open_joints=at) for pieces in wholes)


def _weak_balcony(plan: Plan, **changes: Any) -> Plan:  # noqa: ANN401 - fields of a joint
    """Return a plan with another joint of the balcony, so that the mill must not travel whole."""
    return with_mill(with_joint(plan, "w1+b1", **changes), weak=_weak(_MILL))


def _on_the_shelf(*weak: Weak, **changes: int) -> Plan:
    """Return a plan for the shelf, with a joint that holds the balcony there but not in transit."""
    plan = with_joint(with_rules(GOOD, shock_factor=1, **changes), "w1+b1", holds_g=30)
    return with_mill(plan, weak=weak)


JOINTS = (
    Break(
        "joint states",
        "a joint within a sub-assembly called split",
        "said to be split",
        with_objective(
            with_joint(GOOD, "w1+b1", state=JointState.SPLIT, effort_s=0), joints_split=4
        ),
    ),
    Break("fixed joints", "a fixed joint split", "keyed", with_joint(GOOD, "f1+f2", fixed=True)),
    Break(
        "alone",
        "a balcony to travel alone, yet on its wall",
        "b1 must travel alone, not with 2 others",
        with_piece(GOOD, "b1", alone=True),
    ),
    Break("connected", "nothing joins a wall", "2 parts: f2 | w2", _UNJOINED),
    Break(
        "transit strength",
        "a joint 1 g too weak for three times 20 g",
        "b1 would come off upright: pulls with 60 g, held with 59 g",
        _weak_balcony(GOOD, holds_g=59),
    ),
    Break(
        "leverage",
        "three times 20 g, 8 mm out, on a joint that bears 4 mN m",
        "b1 would bend off upright: 4.7 mN m, held with 4 mN m",
        _weak_balcony(GOOD, bends_mnm=4),
    ),
    # About the front of the floor, 20 g of balcony turn 8 mm out, 30 g of wall 4 mm in; a key 4 mm
    # in holds them back with 29 g, and 2.9 x (20 x 8 - 30 x 4) = 29 x 4.
    Break(
        "equilibrium",
        "a wall that its balcony turns over",
        "carries 2.90 times its weight upright, not 3 times",
        with_joint(GOOD, "f1+w1", holds_g=29, bends_mnm=0),
    ),
)

_TOLD = _weak(_HALF, _MILL)
WEAK_ON_THE_SHELF = _on_the_shelf(*_TOLD)

TRAVEL = (
    Break(
        "travel",
        "a weak half that is not named",
        "b1, f1, w1 must not travel as one, which is not told",
        _on_the_shelf(*_weak(_MILL)),
    ),
    Break(
        "travel",
        "a joint that holds 30 g, and a shelf on which it has to hold 40 g",
        "b1, f1, w1 is said to stand on the shelf, but does not",
        _on_the_shelf(*_TOLD, shelf_factor=2),
    ),
    Break(
        "travel",
        "no joint to open",
        "b1, f1, w1 must not travel even once b1, f1, w1 is opened",
        _on_the_shelf(*_weak(_HALF, at=()), *_weak(_MILL)),
    ),
    Break(
        "travel",
        "a joint of the other half to be opened",
        "f2+w2, which is no joint of it",
        _on_the_shelf(*_weak(_HALF, at=("w1+b1", "f2+w2")), *_weak(_MILL)),
    ),
    Break(
        "travel",
        "a joint to be opened that must stay",
        "f1+w1, which must stay",
        with_joint(_on_the_shelf(*_weak(_HALF, _MILL, at=("w1+b1", "f1+w1"))), "f1+w1", fixed=True),
    ),
    Break(
        "travel",
        "some pieces called weak that stay with others",
        "b1, w1 is called weak, but is neither",
        _on_the_shelf(*_TOLD, *_weak(("w1", "b1"))),
    ),
)

STRENGTH = (*JOINTS, *TRAVEL)
