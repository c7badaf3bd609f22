# ruff: noqa: ANN401 - fields of dataclasses are handed through
"""Ways to alter a plan in one place."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from packdown.geometry import WayUp
from packdown.model import Plan, Step, StepKind
from support.making import all_steps, numbered, place


def _with(things: tuple[Any, ...], name: str, changes: dict[str, Any]) -> tuple[Any, ...]:
    assert any(thing.id == name for thing in things)
    return tuple(replace(thing, **changes) if thing.id == name else thing for thing in things)


def with_piece(plan: Plan, name: str, **changes: Any) -> Plan:
    """Return the plan with another piece of that id."""
    return replace(plan, pieces=_with(plan.pieces, name, changes))


def with_item(plan: Plan, name: str, **changes: Any) -> Plan:
    """Return the plan with another item of that id."""
    return replace(plan, items=_with(plan.items, name, changes))


def with_container(plan: Plan, name: str, **changes: Any) -> Plan:
    """Return the plan with another container of that id."""
    return replace(plan, containers=_with(plan.containers, name, changes))


def with_mill(plan: Plan, **changes: Any) -> Plan:
    """Return the plan with other fields of the mill."""
    return replace(plan, builds=_with(plan.builds, "mill", changes))


def with_joint(plan: Plan, name: str, **changes: Any) -> Plan:
    """Return the plan with another joint of that id."""
    return with_mill(plan, joints=_with(plan.builds[0].joints, name, changes))


def with_rules(plan: Plan, **changes: Any) -> Plan:
    """Return the plan made under other rules."""
    return replace(plan, rules=replace(plan.rules, **changes))


def with_objective(plan: Plan, **changes: Any) -> Plan:
    """Return the plan with other figures in its objective."""
    return replace(plan, objective=replace(plan.objective, **changes))


def with_place(plan: Plan, name: str, **changes: Any) -> Plan:
    """Return the plan with another placement of an item."""
    return replace(
        plan,
        containers=tuple(
            replace(
                box,
                fill=tuple(replace(p, **changes) if p.item == name else p for p in box.fill),
            )
            for box in plan.containers
        ),
    )


def with_spot(
    plan: Plan,
    name: str,
    at: tuple[float, float, float],
    way_up: WayUp = WayUp.UPRIGHT,
    **more: Any,
) -> Plan:
    """Return the plan with an item at another spot of its container; see `place`."""
    one = next(one for one in plan.items if one.id == name)
    new = place(one, at, way_up, **more)
    return with_place(
        plan, name, **{field: getattr(new, field) for field in new.__dataclass_fields__}
    )


def with_step(plan: Plan, run: str, number: int, /, **changes: Any) -> Plan:
    """Return the plan with another step of a number in ``take_down`` or ``rebuild``."""
    steps = tuple(
        replace(step, **changes) if step.n == number else step for step in getattr(plan.steps, run)
    )
    return replace(plan, steps=replace(plan.steps, **{run: steps}))


def with_steps(plan: Plan, run: str, change: Callable[[list[Step]], list[Step]]) -> Plan:
    """Return the plan with ``take_down`` or ``rebuild`` rearranged and numbered anew."""
    steps = numbered(*change(list(getattr(plan.steps, run))))
    return replace(plan, steps=replace(plan.steps, **{run: steps}))


def with_order(plan: Plan, name: str, order: tuple[str, ...]) -> Plan:
    """Return the plan with another loading order of a container, in its fill and its steps."""
    box = next(box for box in plan.containers if box.id == name)
    by_item = {placed.item: placed for placed in box.fill}
    changed = with_container(plan, name, fill=tuple(by_item[one] for one in order))
    items = {one.id: one for one in plan.items}
    steps = all_steps(
        items,
        changed.containers,
        tuple(step for step in plan.steps.take_down if step.kind is StepKind.PART),
        tuple(step for step in plan.steps.rebuild if step.kind is StepKind.JOIN),
    )
    return replace(changed, steps=steps)
