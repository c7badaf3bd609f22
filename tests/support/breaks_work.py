"""The good plan broken in one rule at a time: the steps, and what it all costs."""

from dataclasses import replace

from packdown.geometry import Direction
from packdown.model import Bound, Plan, Step, Straight
from support.altering import (
    with_container,
    with_mill,
    with_objective,
    with_order,
    with_step,
    with_steps,
)
from support.breaks_contents import Break
from support.making import place
from support.plans import GOOD

__all__ = ["WORK"]


def _moved(plan: Plan, run: str, old: int, new: int) -> Plan:
    """Return the plan with one step of a list at another number."""

    def change(steps: list[Step]) -> list[Step]:
        steps.insert(new - 1, steps.pop(old - 1))
        return steps

    return with_steps(plan, run, change)


# Taking down: 1 chimney off, 2 halves apart, 3 to 8 into the box (half-1, half-2, keys, t1, t2,
# crates), 9 and 10 into the tray, 11 to 13 into the case. Rebuilding: 1 to 3 case, 4 and 5 tray,
# 6 to 11 box (crates, t2, t1, keys, half-2, half-1), 12 halves, 13 chimney.
_SIDEWAYS = with_step(
    GOOD,
    "take_down",
    1,
    pieces=("f2", "w2"),
    stays=("f1", "w1", "b1", "c1"),
    joints=("f1+f2", "w1+w2", "w2+c1"),
    direction=Direction.RIGHT,
    keys=3,
    holds=("c1",),
)
_THEN_UP = {"pieces": ("c1",), "joints": (), "direction": Direction.UP, "keys": 0}
#: The half under the chimney is slid away, then the chimney is lifted, which hangs in the air.
_SLID, _BALCONY_FORGOTTEN = (
    with_steps(
        with_step(_SIDEWAYS, "take_down", 2, stays=stays, **_THEN_UP),
        "take_down",
        lambda run: run,
    )
    for stays in (("f1", "w1", "b1"), ("f1", "w1"))
)


def _without(plan: Plan, run: str, number: int) -> Plan:
    """Return the plan without one step of a list."""
    return with_steps(plan, run, lambda steps: [step for step in steps if step.n != number])


def _with_keys_in_the_tray() -> Plan:
    """Return the plan with the bag of keys as the first thing in the tray; steps written anew."""
    box, tray = GOOD.containers[:2]
    keys = place(next(one for one in GOOD.items if one.id == "keys"), (60, 2, 0))
    plan = with_container(GOOD, "box", fill=tuple(p for p in box.fill if p.item != "keys"))
    plan = with_container(plan, "tray", fill=(keys, *tray.fill))
    return with_order(plan, "tray", ("keys", "s1", "chimney"))


_KEYS_APART = _with_keys_in_the_tray()

STEPS = (
    Break(
        "waiting",
        "two people at one box",
        "does not wait for step",
        with_step(GOOD, "take_down", 6, after=()),
    ),
    Break(
        "waiting",
        "for what comes later",
        "not before it",
        with_step(GOOD, "take_down", 1, after=(2,)),
    ),
    Break("step list", "a false number", "is numbered 99", with_step(GOOD, "take_down", 7, n=99)),
    Break("step list", "no hands", "needs 0 hands", with_step(GOOD, "rebuild", 13, hands=0)),
    Break("step list", "a false end", "to spare", with_step(GOOD, "take_down", 2, to="spare")),
    Break(
        "take-down",
        "a balcony forgotten",
        "c1, f1, w1 are not one group",
        _BALCONY_FORGOTTEN,
    ),
    Break(
        "rebuild",
        "a balcony forgotten",
        "cannot join f1, f2, w1, w2",
        with_step(GOOD, "rebuild", 13, stays=("f1", "f2", "w1", "w2")),
    ),
    Break(
        "joint work", "a joint forgotten", "not listed", with_step(GOOD, "take_down", 1, joints=())
    ),
    Break(
        "paths",
        "into the other half",
        "f1 is in the way of f2 moving left",
        with_step(GOOD, "take_down", 2, direction=Direction.LEFT),
    ),
    Break(
        "paths",
        "through the table",
        "the table is in the way",
        with_step(GOOD, "take_down", 1, direction=Direction.DOWN),
    ),
    Break("paths", "no direction", "no direction", with_step(GOOD, "rebuild", 13, direction=None)),
    Break(
        "stages",
        "a chimney in the air",
        "b1 and 3 more would fall",
        with_step(_SLID, "take_down", 1, holds=()),
    ),
    Break(
        "stages",
        "a hand on what is not there",
        "holds t1, which is not at work",
        with_step(GOOD, "take_down", 1, holds=("t1",)),
    ),
    Break("keys", "one too many", "counts 4 keys", with_step(GOOD, "take_down", 2, keys=4)),
    Break(
        "keys",
        "a key said to be sheared",
        "there are 0",
        with_step(GOOD, "take_down", 2, keys_first=1),
    ),
    Break(
        "pack steps",
        "from a box",
        "packs from spare",
        with_step(GOOD, "take_down", 7, from_="spare"),
    ),
    Break("pack steps", "forgotten", "t2 is not packed", _without(GOOD, "take_down", 7)),
    Break("packed too early", "keys", "bags 3 keys before", _moved(_KEYS_APART, "take_down", 8, 2)),
    Break("joined too early", "keys", "takes 3 keys", _moved(_KEYS_APART, "rebuild", 6, 12)),
    Break("unpack steps", "to a box", "spare", with_step(GOOD, "rebuild", 8, to="spare")),
    Break("unpack steps", "forgotten", "t1 is not unpacked", _without(GOOD, "rebuild", 8)),
    Break("pack steps", "upper tile first", "another order", _moved(GOOD, "take_down", 7, 6)),
    Break("unpack steps", "lower tile first", "under t2", _moved(GOOD, "rebuild", 8, 7)),
    Break("packed too early", "half a mill", "f1, w1", _moved(GOOD, "take_down", 3, 2)),
    Break("joined too early", "half a mill", "f1, w1", _moved(GOOD, "rebuild", 12, 11)),
)

COSTS = (
    Break(
        "build effort",
        "a second more",
        "63 s, it is 62 s",
        with_mill(GOOD, effort_s=63, proved=False),
    ),
    Break("objective", "keys", "4 keys", with_objective(GOOD, keys_freed=4)),
    Break("objective", "joints", "4 joints", with_objective(GOOD, joints_split=4)),
    Break("objective", "containers", "4 containers", with_objective(GOOD, containers=4)),
    Break("objective", "range", "it is 93.0 s", with_objective(GOOD, effort_high_s=95)),
    Break(
        "bounds",
        "a bound above the plan",
        "bound 4 is above the plan's 3",
        replace(GOOD, bounds=replace(GOOD.bounds, containers=Bound(value=4, met=False))),
    ),
    Break(
        "bounds",
        "effort",
        "63 is above the plan's 62",
        replace(GOOD, bounds=replace(GOOD.bounds, effort_s=Bound(value=63, met=False))),
    ),
    Break(
        "bounds",
        "weight",
        "1402 is above the plan's 1401",
        replace(GOOD, bounds=replace(GOOD.bounds, weight_g=Bound(value=1_402, met=False))),
    ),
    Break(
        "bounds",
        "volume",
        "is above the plan's",
        replace(GOOD, bounds=replace(GOOD.bounds, volume_um3=Bound(value=10**16, met=False))),
    ),
    Break(
        "bounds",
        "a bound called met",
        "said to be met",
        replace(GOOD, bounds=replace(GOOD.bounds, containers=Bound(value=2, met=True))),
    ),
    Break(
        "build effort",
        "keys in place",
        "states 1 keys pulled in place of 0",
        with_mill(GOOD, straight=Straight(least_s=62, keys_in_place=1, least_keys_in_place=4)),
    ),
    Break(
        "build effort",
        "less than the least",
        "a split of 61 s, below the bound of 62 s",
        with_mill(GOOD, straight=Straight(least_s=61, keys_in_place=0, least_keys_in_place=4)),
    ),
    Break(
        "bounds",
        "joints split",
        "is above the plan's",
        replace(GOOD, bounds=replace(GOOD.bounds, joints_split=Bound(value=10**3, met=False))),
    ),
    Break("proofs", "joints below their bound", "its bound 99", with_mill(GOOD, joints_bound=99)),
    Break("proofs", "effort below its bound", "bound 63 s", with_mill(GOOD, effort_bound_s=63)),
    Break("proofs", "a proof denied", "not proved", with_mill(GOOD, proved=False)),
    Break("proofs", "a proof claimed", "to be proved", with_mill(GOOD, effort_bound_s=61)),
)

WORK = (*STEPS, *COSTS)
