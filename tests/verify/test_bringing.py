"""The check of what is brought to an event sees every kind of fault."""

from dataclasses import replace

import pytest

from packdown.model import Bringing, Limits, Pick, Wish
from packdown.planning.bringing import bring
from packdown.verify import check_bringing
from support import events

WORKS = events.collection()
ROW, CELL, ROOM = Wish(build="row"), Wish(build="cell", must=True, worth=3), Wish(build="room")
EVENT = events.event(
    events.session("one", 9, 11, ROW, Wish(part="wall", count=2)),
    events.session("two", 10, 12, CELL, ROOM),
    events.session("three", 14, 15, ROW),
)
RIGHT = bring(WORKS, EVENT, effort=3)


def limited(**limits: object) -> Bringing:
    """Return the right answer to an event of other limits."""
    event = replace(EVENT, limits=Limits(**limits))  # type: ignore[arg-type]
    return replace(RIGHT, event=event)


def test_right() -> None:
    """A right answer has no fault; the room would take tiles and walls of others."""
    assert check_bringing(WORKS, RIGHT) == ()
    assert [left.pick.wish for left in RIGHT.left] == [ROOM]


@pytest.mark.parametrize(
    ("wrong", "fault"),
    [
        (replace(RIGHT, left=()), "not those of the event"),
        (replace(RIGHT, left=(replace(RIGHT.left[0], reasons=()),)), "without a reason"),
        (replace(RIGHT, worth=RIGHT.worth + 1), "they are"),
        (replace(RIGHT, worth_bound=RIGHT.worth - 1), "is below what is met"),
        (replace(RIGHT, worth_bound=RIGHT.worth + 1, proved=True), "is called proved"),
        (
            replace(RIGHT, chosen=(*RIGHT.chosen, RIGHT.left[0].pick), left=()),
            "needs 11 x tile, there are 7",
        ),
        (
            replace(RIGHT, chosen=(*RIGHT.chosen, Pick(session="two", wish=ROW))),
            "would stand in two places",
        ),
        (limited(containers=()), "is not to be brought"),
        (limited(most_containers=0), "containers, 0 allowed"),
        (limited(weight_g=10), "10 g allowed"),
        (limited(load_space="car"), "not every container is loaded"),
        (limited(table_um=(200_000, 200_000)), "larger than a table"),
        (limited(table_um=(400_000, 20_000)), "larger than a table"),
        (replace(RIGHT, turnovers=RIGHT.turnovers[1:]), "not every session is set up"),
        (
            replace(
                RIGHT, turnovers=(replace(RIGHT.turnovers[0], sets_up=()), *RIGHT.turnovers[1:])
            ),
            "what is set up is not what is wanted",
        ),
        (
            replace(
                RIGHT,
                turnovers=(
                    replace(RIGHT.turnovers[0], set_up_s=9, set_up_allowed_s=8),
                    *RIGHT.turnovers[1:],
                ),
            ),
            "setting up takes 9 s, 8 s allowed",
        ),
        (
            replace(
                RIGHT,
                plan=replace(
                    RIGHT.plan, items=tuple(replace(i, needed=1) for i in RIGHT.plan.items)
                ),
            ),
            "but its rank is 1, not below 1",
        ),
    ],
)
def test_wrong(wrong: Bringing, fault: str) -> None:
    """Each fault is named."""
    told = check_bringing(WORKS, wrong)
    assert any(fault in one for one in told), told
