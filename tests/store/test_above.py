"""What lies on what, and what must be lifted out first."""

from dataclasses import replace

from packdown.store.above import find_above
from support.making import loose, mm, piece, place
from support.plans import GOOD
from support.stow_plans import stowing_plan


def test_a_pile_comes_off_from_the_top() -> None:
    """Of three cubes on each other the highest is lifted first; each is under the next."""
    names = [f"crate#{n}" for n in range(1, 18)]
    fill = stowing_plan({"box": names}).containers[0].fill
    above = find_above(fill, 0)
    # eight in a layer: the 1st lies under the 9th, and that under the 17th
    assert above[0].on_top == (9,)
    assert above[0].lift_first == (17, 9)
    assert above[8].lift_first == (17,)
    assert above[16].lift_first == above[16].on_top == ()
    assert above[1].lift_first == (10,)


def test_a_bridge_is_in_the_way_of_what_it_does_not_touch() -> None:
    """A plank over a gap must be lifted before the low piece in the gap, on which it rests not."""
    post = loose(piece("post", 10, mm(0, 0, 0, 20, 20, 30)))
    low = loose(piece("low", 10, mm(0, 0, 0, 20, 20, 10)))
    plank = loose(piece("plank", 10, mm(0, 0, 0, 70, 20, 5)))
    fill = (
        place(post, (0, 0, 0)),
        place(low, (25, 0, 0)),
        place(replace(post, id="other"), (50, 0, 0)),
        place(plank, (0, 0, 30), layer=2),
    )
    above = find_above(fill, 0)
    assert above[0].on_top == above[2].on_top == (4,)
    assert above[1].on_top == ()
    assert above[1].lift_first == (4,)


def test_a_sheet_between_layers_counts_as_touching() -> None:
    """In the case of the hand-made plan the plank lies 3 mm above two blocks."""
    case = next(box for box in GOOD.containers if box.id == "case")
    above = find_above(case.fill, case.sheet_um)
    assert [one.on_top for one in above] == [(3,), (3,), ()]
