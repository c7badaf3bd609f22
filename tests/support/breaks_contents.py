"""The good plan broken in one rule at a time: what there is, and what items are made of."""

from dataclasses import dataclass, replace
from typing import Any

from packdown.geometry import Cuboid, WayUp
from packdown.model import Bound, Bounds, ItemKind, JointKind, NotPacked, Plan
from support.altering import (
    with_container,
    with_item,
    with_joint,
    with_mill,
    with_piece,
    with_rules,
    with_spot,
    with_step,
)
from support.making import item, joint, mm, piece
from support.plans import GOOD

__all__ = ["CONTENTS", "Break"]


@dataclass(frozen=True, slots=True)
class Break:
    """A plan that breaks one rule alone.

    Parameters
    ----------
    rule
        Name of the rule.
    what
        What is wrong.
    says
        Part of the message that must be given.
    plan
        The broken plan.
    """

    rule: str
    what: str
    says: str
    plan: Plan


GHOST = item("ghost", (), 0, mm(0, 0, 0, 1, 1, 1), kind=ItemKind.BAG)
HAUNTED = replace(GOOD, items=(*GOOD.items, GHOST))
UNMET = Bounds(
    effort_s=Bound(value=62, met=False),
    containers=Bound(value=2, met=False),
    volume_um3=Bound(value=1, met=False),
    weight_g=Bound(value=1, met=False),
)


def _with_another(**changes: Any) -> Plan:  # noqa: ANN401 - fields of a joint
    """Return the good plan with a joint more, of floor and balcony."""
    more = joint(JointKind.PRESS_FIT, ("f1", "b1"), 1, 0, 100, 5)
    return with_mill(GOOD, joints=(*GOOD.builds[0].joints, replace(more, **changes)))


REFERENCES = (
    Break(
        "references",
        "a piece id used twice",
        "used 2 times",
        replace(GOOD, pieces=(*GOOD.pieces, GOOD.pieces[0])),
    ),
    Break(
        "references",
        "an unknown container below",
        "names container 'cellar'",
        with_container(GOOD, "tray", stacked_on="cellar"),
    ),
    Break(
        "references",
        "containers that stand on each other",
        "stands on itself",
        with_container(GOOD, "box", stacked_on="tray"),
    ),
    Break(
        "references",
        "an unknown piece in a group",
        "names piece 'x'",
        with_rules(GOOD, keep_apart=(("x", "t1"),)),
    ),
    Break(
        "references",
        "an unknown joint in a step",
        "names joint 'x'",
        with_step(GOOD, "take_down", 1, joints=("w2+c1", "x")),
    ),
    Break("references", "a joint without axis", "axis is 3", _with_another(axis=3)),
    Break("references", "a joint of one piece", "to itself", _with_another(pieces=("f1", "f1"))),
    Break(
        "references", "a piece without shape", "no cuboids", with_piece(GOOD, "k1", cuboids_um=())
    ),
)

CONSERVATION = (
    Break(
        "pieces",
        "a piece in no item",
        "in 0 items",
        replace(GOOD, pieces=(*GOOD.pieces, piece("lost", 5, mm(0, 0, 0, 9, 9, 9)))),
    ),
    Break("placed once", "an item that is nowhere", "placed 0 times, not packed 0", HAUNTED),
    Break(
        "placed once",
        "an item left out without a reason",
        "no reason",
        replace(HAUNTED, bounds=UNMET, not_packed=(NotPacked(item="ghost", reason=" "),)),
    ),
    Break(
        "placed once",
        "an item both placed and left out",
        "placed 1 times, not packed 1 times",
        replace(GOOD, bounds=UNMET, not_packed=(NotPacked(item="s1", reason="too long"),)),
    ),
    Break(
        "sub-assemblies",
        "a piece of a build packed as if loose",
        "c1 is not an item",
        with_item(GOOD, "chimney", kind=ItemKind.LOOSE),
    ),
    Break(
        "sub-assemblies",
        "a loose piece called a sub-assembly",
        "of no build",
        with_item(GOOD, "t1", kind=ItemKind.SUB_ASSEMBLY),
    ),
)

_TWO_TILES = (mm(0, 0, 0, 64, 32, 8), mm(10, 10, 0, 20, 20, 4))
_SHALLOW = (mm(0, 16, 0, 64, 80, 8), mm(0, 16, 8, 64, 24, 56.2), mm(16, 0, 40, 48, 16, 48.2))
_LOW = (mm(0, 16, 0, 64, 80.2, 8), mm(0, 16, 8, 64, 24.2, 56), mm(16, 0, 40, 48, 16, 48))


def _reshaped(name: str, cuboids: tuple[Cuboid, ...], at: tuple[float, float, float]) -> Plan:
    return with_spot(with_item(GOOD, name, cuboids_um=cuboids), name, at)


SHAPES = (
    Break("solids", "cuboids that overlap", "0 and 1", _reshaped("t1", _TWO_TILES, (134, 2, 0))),
    Break(
        "solids",
        "a flat cuboid",
        "without volume",
        with_piece(GOOD, "k1", cuboids_um=(mm(0, 0, 0, 10, 10, 10), mm(0, 0, 10, 9, 9, 10))),
    ),
    Break(
        "covers",
        "no room for joints that stand open in depth",
        "by 0.2 mm",
        _reshaped("half-1", _SHALLOW, (2, 2, 0)),
    ),
    Break(
        "covers",
        "no room for joints that stand open in height",
        "by 0.2 mm",
        _reshaped("half-1", _LOW, (2, 2, 0)),
    ),
    Break(
        "bags",
        "crates too big for their bag",
        "6.000 ml for pieces of 28.000 ml",
        with_piece(GOOD, "k1", cuboids_um=(mm(0, 0, 0, 30, 30, 30),)),
    ),
    Break("weights", "a heavier piece", "weighs 35 g", with_piece(GOOD, "s1", weight_g=36)),
    Break(
        "weights", "more keys in a joint", "3 keys weigh 73 g", with_joint(GOOD, "f2+w2", keys=3)
    ),
    Break(
        "centres of gravity",
        "a centre 5 mm off",
        "5 mm off",
        with_item(GOOD, "t1", centre_um=mm(37, 16, 4)),
    ),
    Break(
        "centres of gravity",
        "a centre below the bag",
        "outside the bag",
        with_item(GOOD, "keys", centre_um=mm(12, 10, -1)),
    ),
    Break(
        "ways up",
        "a side on which a piece must not lie",
        "may lie on-back, which c1 must not",
        with_item(GOOD, "chimney", allowed_ways_up=(WayUp.UPRIGHT, WayUp.ON_BACK)),
    ),
    Break(
        "ways up",
        "turned although merely stacked",
        "f2+w2 only holds upright",
        with_joint(GOOD, "f2+w2", kind=JointKind.STACKED),
    ),
    Break(
        "carry limits",
        "more than a piece may carry",
        "may carry 201 g, but b1 only 200 g",
        with_item(GOOD, "half-1", carry_limit_g=201),
    ),
    Break(
        "carry limits",
        "a bag of tender things under weight",
        "k1 only 0 g",
        with_piece(GOOD, "k1", carry_limit_g=0),
    ),
    Break(
        "tender parts",
        "a tender piece not marked",
        "t2 may carry nothing",
        with_piece(GOOD, "t2", carry_limit_g=0),
    ),
    Break("magnets told", "magnets untold", "(c1)", with_piece(GOOD, "c1", magnets=1)),
    Break("magnets told", "magnets invented", "none of its", with_piece(GOOD, "s1", magnets=0)),
)

CONTENTS = (*REFERENCES, *CONSERVATION, *SHAPES)
