"""Wherever a plan names something it has not, the rule on references says so."""

from dataclasses import replace

import pytest

from packdown.model import NotPacked, Plan
from packdown.verify import verify
from support.altering import with_container, with_item, with_joint, with_mill, with_place, with_step
from support.plans import GOOD

STRANGERS = {
    "item of unknown pieces": with_item(GOOD, "crates", pieces=("k1", "x")),
    "item of an unknown build": with_item(GOOD, "half-1", build="x"),
    "unknown item in a fill": with_place(GOOD, "crates", item="x"),
    "unknown item not packed": replace(GOOD, not_packed=(NotPacked(item="x", reason="lost"),)),
    "joint of an unknown piece": with_joint(GOOD, "f1+f2", pieces=("f1", "x")),
    "unknown piece in a sub-assembly": with_mill(GOOD, sub_assemblies=(("x",),)),
    "unknown piece that moves": with_step(GOOD, "take_down", 1, pieces=("x",)),
    "unknown piece that stays": with_step(GOOD, "rebuild", 13, stays=("x",)),
    "step on an unknown build": with_step(GOOD, "take_down", 1, build="x"),
    "step to an unknown container": with_step(GOOD, "take_down", 3, to="x"),
    "step from an unknown container": with_step(GOOD, "rebuild", 1, from_="x"),
    "piece of an unknown build": replace(
        GOOD, pieces=(*GOOD.pieces[:-1], replace(GOOD.pieces[-1], build="x"))
    ),
    "container on an unknown one": with_container(GOOD, "case", stacked_on="x"),
}


@pytest.mark.parametrize("plan", STRANGERS.values(), ids=STRANGERS)
def test_stranger_is_named(plan: Plan) -> None:
    """The unknown id is in the message, once for each place that names it."""
    found = [each for each in verify(plan).violations if each.rule == "references"]
    assert len(found) == 1
    assert "'x'" in found[0].message


TWINS = {
    "half-1": replace(GOOD, items=(*GOOD.items, GOOD.items[0])),
    "box": replace(GOOD, containers=(*GOOD.containers, GOOD.containers[0])),
    "mill": replace(GOOD, builds=(*GOOD.builds, GOOD.builds[0])),
}


@pytest.mark.parametrize(("name", "plan"), TWINS.items(), ids=TWINS)
def test_twins_are_named(name: str, plan: Plan) -> None:
    """An id that two things share is reported, whatever they are."""
    found = [each for each in verify(plan).violations if each.rule == "references"]
    assert any(each.where == name and "used 2 times" in each.message for each in found)
