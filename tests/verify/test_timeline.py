"""The check of timelines sees every kind of fault."""

from dataclasses import replace

import pytest

from packdown.model import Task, Timeline, Turn
from packdown.verify import check_timeline

TASKS = (
    Task(n=1, seconds=4, helpers=1, after=()),
    Task(n=2, seconds=3, helpers=2, after=(1,)),
    Task(n=3, seconds=2, helpers=1, after=()),
)
RIGHT = Timeline(
    helpers=2,
    turns=(
        Turn(n=1, start_s=0, end_s=4, helpers=(1,)),
        Turn(n=3, start_s=0, end_s=2, helpers=(2,)),
        Turn(n=2, start_s=4, end_s=7, helpers=(1, 2)),
    ),
    length_s=7,
    bound_s=7,
)


def altered(n: int, **fields: object) -> Timeline:
    """Return the right timeline with one turn changed."""
    turns = tuple(
        replace(turn, **fields) if turn.n == n else turn  # type: ignore[arg-type]
        for turn in RIGHT.turns
    )
    return replace(RIGHT, turns=turns)


def test_right() -> None:
    """A right timeline has no fault."""
    assert check_timeline(TASKS, RIGHT) == ()


@pytest.mark.parametrize(
    ("wrong", "fault"),
    [
        (replace(RIGHT, turns=RIGHT.turns[1:]), "exactly once"),
        (replace(RIGHT, turns=(*RIGHT.turns, RIGHT.turns[0])), "exactly once"),
        (altered(2, start_s=3, end_s=6), "begins before step 1 is done"),
        (altered(3, start_s=-1, end_s=1), "before the start"),
        (altered(3, end_s=3), "takes 3 s, not 2 s"),
        (altered(2, helpers=(1,)), "done by 1, it needs 2"),
        (altered(2, helpers=(1, 1)), "done by 2, it needs 2"),
        (altered(3, helpers=(3,)), "not there"),
        (altered(3, helpers=(1,)), "does steps 3 and 1 at once"),
        (replace(RIGHT, length_s=8), "the last step ends after 7 s"),
        (replace(RIGHT, length_s=6), "the longest chain takes 7 s"),
        (replace(RIGHT, length_s=10), "would take 9 s"),
        (replace(RIGHT, bound_s=8), "is above the length"),
    ],
)
def test_wrong(wrong: Timeline, fault: str) -> None:
    """Each fault is named."""
    assert any(fault in told for told in check_timeline(TASKS, wrong))
