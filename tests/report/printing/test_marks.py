"""Handling marks say what the plan knows, and the drawings keep to their squares."""

from dataclasses import replace

import numpy as np
import pytest

from packdown.model import PackedContainer, Plan
from packdown.report.lookup import look_up
from packdown.report.printing.canvas import canvas
from packdown.report.printing.drawing import draw_mark
from packdown.report.printing.marks import Mark, MarkKind, handling_marks
from packdown.report.printing.shapes import GRID, SHAPES, Stroke, Words
from support.label_plans import plan_with
from support.pages import Rect, drawn, ink_outside, opened, text_of


def kinds(plan: Plan, container: PackedContainer | None = None) -> dict[MarkKind, str]:
    """Return the marks of a container, the first unless told which, with their figures."""
    chosen = container or plan.containers[0]
    return {mark.kind: mark.figure for mark in handling_marks(look_up(plan), chosen)}


def test_every_container_has_its_way_up_and_wants_to_be_dry() -> None:
    """Both come from how containers are packed, not from what is in them."""
    assert set(kinds(plan_with(1))) == {MarkKind.THIS_WAY_UP, MarkKind.KEEP_DRY}


def test_what_may_bear_nothing_is_fragile() -> None:
    """A tender part, or an item that carries nothing."""
    plan = plan_with(1)
    tender = replace(plan, items=tuple(replace(item, tender=(0,)) for item in plan.items))
    assert MarkKind.FRAGILE in kinds(tender)
    weak = replace(plan, items=tuple(replace(item, carry_limit_g=0) for item in plan.items))
    assert MarkKind.FRAGILE in kinds(weak)


def test_a_stack_limit_is_marked_and_never_rounded_up() -> None:
    """9.96 kg may not become 10 kg; a limit of nothing forbids stacking."""
    assert kinds(plan_with(1, stack_limit_g=9_960))[MarkKind.STACK_MASS] == "9.9 kg"
    none = kinds(plan_with(1, stack_limit_g=0))
    assert MarkKind.DO_NOT_STACK in none
    assert MarkKind.STACK_MASS not in none


def test_a_number_of_equal_containers_is_marked_where_there_are_others() -> None:
    """The limit divided by the heaviest of its type, rounded down: 3.5 times is 3."""
    plan = plan_with(3)
    gross = look_up(plan).gross_g(plan.containers[0])
    first, *others = plan.containers
    lighter = replace(others[0], tare_g=others[0].tare_g - 1_000)
    plan = replace(plan, containers=(replace(first, stack_limit_g=7 * gross // 2), lighter))
    assert kinds(plan)[MarkKind.STACK_NUMBER] == "3"
    alone = replace(plan, containers=plan.containers[:1])
    assert MarkKind.STACK_NUMBER not in kinds(alone)
    weak = replace(plan.containers[0], stack_limit_g=gross - 1)
    assert MarkKind.STACK_NUMBER not in kinds(replace(plan, containers=(weak, lighter)))


@pytest.mark.parametrize("side", [5.5, 100.0])
@pytest.mark.parametrize("kind", MarkKind)
def test_a_mark_fills_its_square_and_no_more(kind: MarkKind, side: float) -> None:
    """At 100 mm, the least usual height of ISO 780, and at the smallest on a label."""
    with canvas((120, 120), "mark") as page:
        page.new_page()
        figure = "14 kg" if kind is MarkKind.STACK_MASS else "3"
        draw_mark(page, (10, 10), side, Mark(kind=kind, figure=figure))
        data = page.finish()
    paper = opened(data)[0]
    image = drawn(paper, 150)
    assert ink_outside(image, [Rect(10, 10, 10 + side, 10 + side)], 150) == 0
    rows = np.flatnonzero((image < 128).any(axis=1))
    assert (rows[-1] - rows[0]) / 150 * 25.4 >= 0.85 * side
    has_figure = any(isinstance(shape, Words) for shape in SHAPES[kind])
    assert (figure in text_of(paper)) is has_figure


def test_drawings_lie_on_their_grid() -> None:
    """No point outside of 0 to 100, so that neighbours stay apart."""
    for shapes in SHAPES.values():
        for shape in shapes:
            if not isinstance(shape, Words):
                half = shape.width / 2 if isinstance(shape, Stroke) else 0.0
                values = [value for point in shape.points for value in point]
                assert half <= min(values)
                assert max(values) <= GRID - half
