"""Steps that do the same with pieces that are alike are shown as one."""

from dataclasses import replace

from packdown.geometry import Direction
from packdown.model import Plan, Step, StepKind
from packdown.report.lookup import look_up
from packdown.report.step_groups import step_groups
from support.book_plan import book_plan

PLAN = book_plan()
LOOKUP = look_up(PLAN)
CRATE = next(container for container in PLAN.containers if container.fill)


def _packing(plan: Plan) -> list[Step]:
    """Return a step for each loose piece of the first container, in loading order."""
    kinds = {item.id: item for item in plan.items}
    items = [kinds[p.item] for p in CRATE.fill if not kinds[p.item].build and kinds[p.item].pieces]
    return [
        Step(
            n=n,
            kind=StepKind.PACK,
            build=None,
            text=f"Lay {item.name} into it.",
            pieces=item.pieces,
            stays=(),
            joints=(),
            direction=None,
            from_="table",
            to=CRATE.id,
            keys=0,
            keys_first=0,
            hands=1,
        )
        for n, item in enumerate(items, 1)
    ]


STEPS = _packing(PLAN)


def _name(step: Step) -> str:
    return LOOKUP.pieces[step.pieces[0]].name


def test_every_step_is_in_one_group() -> None:
    """Nothing is lost and nothing is twice."""
    groups = step_groups(LOOKUP, STEPS)
    assert sorted(step.n for group in groups for step in group.steps) == [s.n for s in STEPS]
    assert 0 < len(groups) < len(STEPS)


def test_a_group_says_how_many_of_what() -> None:
    """Pieces of one name; the text counts them, the notes give their numbers and layers."""
    for group in step_groups(LOOKUP, STEPS):
        assert len({_name(step) for step in group.steps}) == 1
        if len(group.steps) > 1:
            text = f"Lay {len(group.steps)} x {_name(group.steps[0])} into {CRATE.name}."
            assert group.text == text
            assert group.notes[0].startswith("no. ")


def test_what_comes_between_in_another_layer_keeps_steps_apart() -> None:
    """A piece that may rest on one of them must not be overtaken."""
    layer = {p.item: p.layer for p in CRATE.fill}
    for group in step_groups(LOOKUP, STEPS):
        numbers = [step.n for step in group.steps]
        between = STEPS[numbers[0] - 1 : numbers[-1]]
        if len(between) > len(numbers):
            assert len({layer[LOOKUP.item_of_piece[s.pieces[0]].id] for s in between}) == 1


def test_a_gap_in_the_numbers_keeps_steps_apart() -> None:
    """Where somebody else's step comes between, the order of both lists must hold."""
    name = _name(STEPS[0])
    alike = [step for step in STEPS if _name(step) == name][:2]
    near = [replace(alike[0], n=1), replace(alike[1], n=2)]
    far = [replace(alike[0], n=1), replace(alike[1], n=3)]
    assert len(step_groups(LOOKUP, near)) == 1
    assert len(step_groups(LOOKUP, far)) == 2


def test_steps_that_part_are_never_put_together() -> None:
    """Each has its own picture."""
    parting = replace(STEPS[0], kind=StepKind.PART, direction=Direction.UP)
    groups = step_groups(LOOKUP, [parting, replace(parting, n=2)])
    assert [len(group.steps) for group in groups] == [1, 1]
    assert groups[0].number == "1"
