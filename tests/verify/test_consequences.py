"""Breaks that concern several rules at once: each says its part."""

import pytest

from packdown.model import ItemKind, Plan, StepKind
from packdown.verify import verify
from support.altering import with_item, with_mill, with_place, with_step, with_steps
from support.plans import GOOD

CONSEQUENCES = {
    "a sub-assembly dropped from the build": (
        with_mill(GOOD, sub_assemblies=GOOD.builds[0].sub_assemblies[:2]),
        {
            "sub-assemblies": "item of c1 is not a sub-assembly",
            "take-down": "ends with c1 together, which is no sub-assembly",
            "build effort": "states an effort of 62 s, it is 47 s",
        },
    ),
    "two sub-assemblies in one": (
        with_mill(GOOD, sub_assemblies=(("f1", "w1", "b1"), ("f2", "w2", "c1"))),
        {
            "sub-assemblies": "sub-assembly c1, f2, w2 is not an item",
            "joint states": "is said to be split, its sub-assemblies say kept",
            "joint work": "is opened 1 times, its sub-assemblies ask for 0",
        },
    ),
    "the last step of rebuilding forgotten": (
        with_steps(GOOD, "rebuild", lambda steps: steps[:-1]),
        {
            "rebuild": "is not rebuilt: 2 groups are left",
            "joint work": "is closed 0 times, its sub-assemblies ask for 1",
        },
    ),
    "two crates called a loose piece": (
        with_item(GOOD, "crates", kind=ItemKind.LOOSE),
        {"sub-assemblies": "is a loose piece but holds 2 pieces"},
    ),
    "a turn by 45 degrees": (
        with_place(GOOD, "crates", turn=45),
        {
            "poses": "is turned by 45 degrees, not by 0, 90, 180 or 270",
            "pack steps": "k1, k2 is packed but does not lie there",
            "objective": "states 1401 g, it is 1393 g",
        },
    ),
    "unpacking while taking down": (
        with_step(GOOD, "take_down", 3, kind=StepKind.UNPACK),
        {
            "step list": "is to unpack, which does not belong there",
            "pack steps": "b1, f1, w1 is not packed",
        },
    ),
    "a bag with a key too many": (
        with_item(GOOD, "keys", keys=4),
        {"keys": "3 keys come out, 4 are bagged and 3 go in", "weights": "4 keys weigh 4 g"},
    ),
}


@pytest.mark.parametrize(("plan", "expected"), CONSEQUENCES.values(), ids=CONSEQUENCES)
def test_every_rule_concerned_speaks(plan: Plan, expected: dict[str, str]) -> None:
    """Each of the rules reports what it sees, in its own words and figures."""
    violations = verify(plan).violations
    for rule, says in expected.items():
        assert any(says in found.message for found in violations if found.rule == rule), rule
