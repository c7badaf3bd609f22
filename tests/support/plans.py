"""A plan made by hand in which every figure can be checked by hand, and ways to alter it.

A mill of six pieces comes apart into three sub-assemblies: one half of the floor with its wall
and a balcony that hangs on it, the other half with its wall, and a tender chimney. The half with
the balcony, the other half, three keys in a bag, two tiles and a bag of two crates go into a box;
the chimney and a statue with magnets into a steel-lined tray that stands on the box; a plank on
two blocks, with a sheet between, into a case.
"""

from dataclasses import replace
from typing import Any

from packdown.geometry import Direction, WayUp
from packdown.model import (
    Bound,
    Bounds,
    ItemKind,
    Joint,
    JointKind,
    JointState,
    Lining,
    Objective,
    PackedContainer,
    Piece,
    Plan,
    PlanBuild,
    Prefer,
    Rules,
    StepKind,
)
from support.making import (
    all_steps,
    container,
    item,
    joint,
    loose,
    mm,
    piece,
    place,
    work,
)

PIECES = (
    piece("f1", 40, mm(0, 0, 0, 64, 64, 8), build="mill", carry_limit_g=500),
    piece("f2", 40, mm(64, 0, 0, 128, 64, 8), build="mill", carry_limit_g=500),
    piece("w1", 30, mm(0, 0, 8, 64, 8, 56), build="mill"),
    piece("w2", 30, mm(64, 0, 8, 128, 8, 56), build="mill"),
    piece("b1", 20, mm(16, -16, 40, 48, 0, 48), build="mill", carry_limit_g=200),
    piece(
        "c1", 6, mm(88, 0, 56, 104, 8, 72), build="mill", carry_limit_g=0, ways_up=(WayUp.UPRIGHT,)
    ),
    piece("t1", 25, mm(0, 0, 0, 64, 32, 8), carry_limit_g=1_000),
    piece("t2", 25, mm(0, 0, 0, 64, 32, 8), carry_limit_g=1_000),
    piece("k1", 4, mm(0, 0, 0, 10, 10, 10)),
    piece("k2", 4, mm(0, 0, 0, 10, 10, 10)),
    piece("s1", 35, mm(0, 0, 0, 20, 20, 30), magnets=2),
    piece("d1", 50, mm(0, 0, 0, 40, 40, 20), carry_limit_g=500),
    piece("d2", 25, mm(0, 0, 0, 20, 40, 20), carry_limit_g=500),
    piece("p1", 60, mm(0, 0, 0, 62, 40, 4)),
)


def _split(kept: Joint) -> Joint:
    return replace(kept, state=JointState.SPLIT)


JOINTS = (
    _split(joint(JointKind.KEYED, ("f1", "f2"), 0, 2, 2_400, 20)),
    _split(joint(JointKind.KEYED, ("w1", "w2"), 0, 1, 1_200, 10)),
    _split(joint(JointKind.STACKED, ("w2", "c1"), 2, 0, 0, 2)),
    joint(JointKind.KEYED, ("f1", "w1"), 2, 2, 2_400, 20),
    joint(JointKind.KEYED, ("f2", "w2"), 2, 2, 2_400, 20),
    joint(JointKind.PRESS_FIT, ("w1", "b1"), 1, 0, 800, 5),
)
# Three split joints of 20, 10 and 2 s, and two more sub-assemblies of 15 s: 62 s.
MILL = PlanBuild(
    id="mill",
    name="Mill",
    joints=JOINTS,
    sub_assemblies=(("f1", "w1", "b1"), ("f2", "w2"), ("c1",)),
    effort_s=62,
    effort_bound_s=62,
    proved=True,
)


_PIECE = {one.id: one for one in PIECES}
_IN_BUILD: dict[str, Any] = {"kind": ItemKind.SUB_ASSEMBLY, "build": "mill", "needed": 1}
ITEMS = (
    # 40 + 30 + 20 g and 2 keys. The seam of balcony and wall adds 0.2 mm in y to floor and wall,
    # the one of floor and wall 0.2 mm in z to wall and balcony. In y the centre of gravity is at
    # (32 x 40 + 4 x 30 - 8 x 20) / 90 = 13.778 mm, the origin at -16 mm; in z at
    # (4 x 40 + 32 x 30 + 44 x 20) / 90 = 22.222 mm.
    item(
        "half-1",
        ("f1", "w1", "b1"),
        92,
        mm(0, 16, 0, 64, 80.2, 8),
        mm(0, 16, 8, 64, 24.2, 56.2),
        mm(16, 0, 40, 48, 16, 48.2),
        centre_um=mm(32, 29.778, 22.222),
        carry_limit_g=200,
        **_IN_BUILD,
    ),
    # (32 x 40 + 4 x 30) / 70 = 20 mm in y, (4 x 40 + 32 x 30) / 70 = 16 mm in z.
    item(
        "half-2",
        ("f2", "w2"),
        72,
        mm(0, 0, 0, 64, 64, 8),
        mm(0, 0, 8, 64, 8, 56.2),
        centre_um=mm(32, 20, 16),
        carry_limit_g=500,
        **_IN_BUILD,
    ),
    replace(loose(_PIECE["c1"]), id="chimney", needed=1),
    item(
        "keys",
        (),
        3,
        mm(0, 0, 0, 24, 20, 6),
        **_IN_BUILD | {"kind": ItemKind.BAG, "keys": 3, "carry_limit_g": 300},
    ),
    item("crates", ("k1", "k2"), 8, mm(0, 0, 0, 30, 20, 10), kind=ItemKind.BAG, carry_limit_g=100),
    *(loose(_PIECE[name]) for name in ("t1", "t2", "s1", "d1", "d2", "p1")),
)
_ITEM = {one.id: one for one in ITEMS}


CONTAINERS = (
    container(
        "box",
        (220, 130, 80),
        place(_ITEM["half-1"], (2, 2, 0)),
        place(_ITEM["half-2"], (68, 2, 0), turn=180),
        place(_ITEM["keys"], (10, 40, 8), layer=2),
        place(_ITEM["t1"], (134, 2, 0)),
        place(_ITEM["t2"], (134, 2, 8), layer=2),
        place(_ITEM["crates"], (140, 6, 16), layer=3),
        tare_g=500,
        payload_g=5_000,
        stack_limit_g=3_000,
    ),
    container(
        "tray",
        (100, 60, 40),
        place(_ITEM["s1"], (2, 2, 0)),
        place(_ITEM["chimney"], (30, 2, 0), turn=90),
        tare_g=300,
        lining=Lining.STEEL,
        stacked_on="box",
    ),
    # The plank rests on 40 and 20 of its 62 mm of length, 3 mm of sheet above the blocks.
    container(
        "case",
        (100, 60, 60),
        place(_ITEM["d1"], (2, 2, 0)),
        place(_ITEM["d2"], (44, 2, 0)),
        place(_ITEM["p1"], (2, 2, 23), support=60 / 62, layer=2),
        lining=Lining.FOAM,
        sheet_um=3_000,
    ),
    container("spare", (50, 50, 50)),
)

RULES = Rules(
    support_percent=80,
    shock_factor=3,
    joint_tolerance_um=200,
    weight_limit_g=15_000,
    place_s=15,
    effort_low=0.5,
    effort_high=1.5,
    key_weight_g=1,
    keep_together=(("d1", "d2", "p1"),),
    keep_apart=(("t1", "s1"),),
)


STEPS = all_steps(
    _ITEM,
    CONTAINERS,
    (
        work(StepKind.PART, "c1", "f1 f2 w1 w2 b1", "w2+c1", Direction.UP),
        work(StepKind.PART, "f2 w2", "f1 w1 b1", "f1+f2 w1+w2", Direction.RIGHT, keys=3),
    ),
    (
        work(StepKind.JOIN, "f2 w2", "f1 w1 b1", "f1+f2 w1+w2", Direction.LEFT, keys=3),
        work(StepKind.JOIN, "c1", "f1 f2 w1 w2 b1", "w2+c1", Direction.DOWN),
    ),
)

# 220 x 130 x 80 + 100 x 60 x 40 + 100 x 60 x 60 mm3; 725 + 341 + 335 g.
OBJECTIVE = Objective(
    effort_s=62,
    effort_low_s=31,
    effort_high_s=93,
    joints_split=3,
    keys_freed=3,
    containers=3,
    volume_um3=2_888 * 10**12,
    weight_g=1_401,
)

GOOD = Plan(
    created_with="by hand",
    workspace="mill and more",
    seed=0,
    effort=1,
    prefer=Prefer.BALANCED,
    rules=RULES,
    pieces=PIECES,
    items=ITEMS,
    containers=CONTAINERS,
    builds=(MILL,),
    not_packed=(),
    steps=STEPS,
    objective=OBJECTIVE,
    bounds=Bounds(
        effort_s=Bound(value=62, met=True),
        containers=Bound(value=2, met=False),
        volume_um3=Bound(value=2_528 * 10**12, met=False),
        weight_g=Bound(value=1_401, met=True),
    ),
)
"""The plan that keeps every rule."""


def plan_of_pieces(
    pieces: tuple[Piece, ...], containers: tuple[PackedContainer, ...], rules: Rules | None = None
) -> Plan:
    """Return a plan in which every piece is an item of its own, loose or the whole of a build."""
    items = {one.id: loose(one) for one in pieces}
    used = [box for box in containers if box.fill]
    weights = [box.tare_g + sum(items[p.item].weight_g for p in box.fill) for box in used]
    nothing = Bound(value=0, met=False)
    return replace(
        GOOD,
        rules=rules or replace(RULES, keep_together=(), keep_apart=()),
        pieces=pieces,
        items=tuple(items.values()),
        containers=containers,
        builds=tuple(
            PlanBuild(
                id=one.build,
                name=one.build,
                joints=(),
                sub_assemblies=((one.id,),),
                effort_s=0,
                effort_bound_s=0,
                proved=True,
            )
            for one in pieces
            if one.build is not None
        ),
        steps=all_steps(items, containers, (), ()),
        objective=Objective(
            effort_s=0,
            effort_low_s=0,
            effort_high_s=0,
            joints_split=0,
            keys_freed=0,
            containers=len(used),
            volume_um3=sum(box.volume_um3 for box in used),
            weight_g=sum(weights),
        ),
        bounds=Bounds(
            effort_s=Bound(value=0, met=True),
            containers=nothing,
            volume_um3=nothing,
            weight_g=nothing,
        ),
    )
