"""One construction: its work arrays grow when they are too small, and what lies there is kept."""

from dataclasses import replace

import numpy as np
import pytest

from packdown.packing import construct as constructing
from packdown.packing.construct import construct
from packdown.packing.kinds import kinds_of
from packdown.packing.recipes import recipe
from support.packing_problems import blocks, crate, problem, random_problem


@pytest.mark.parametrize("seed", range(5))
def test_work_arrays_grow(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """With room for one contact and one space at first, the same rows come out."""
    kinds = kinds_of(random_problem(seed))
    plan = recipe(kinds, np.ones(len(kinds.items)), 0, seed)
    expected = construct(kinds, 0, kinds.counts, plan)
    guess = constructing.Room.for_
    monkeypatch.setattr(
        constructing.Room, "for_", lambda *args: replace(guess(*args), contacts=1, spaces=1)
    )
    assert construct(kinds, 0, kinds.counts, plan).tolist() == expected.tolist()


def test_what_lies_there_stays() -> None:
    """A construction on top of another keeps its rows, and adds what has room."""
    kinds = kinds_of(problem(blocks(8, (10, 10, 10)), [crate("box", (20, 20, 20))]))
    plan = recipe(kinds, np.ones(1), 0, 0)
    rows = construct(kinds, 0, np.array([3]), plan)
    more = construct(kinds, 0, np.array([5]), plan, rows)
    assert len(rows) == 3
    assert len(more) == 8
    assert more[:3].tolist() == rows.tolist()


def test_rows_that_break_a_rule_are_refused() -> None:
    """Rows that float are a mistake of the caller, not a fill."""
    kinds = kinds_of(problem(blocks(2, (10, 10, 10)), [crate("box", (20, 20, 20))]))
    plan = recipe(kinds, np.ones(1), 0, 0)
    floating = np.array([[0, 0, 0, 0, 5_000]])
    with pytest.raises(AssertionError, match="breaks a rule"):
        construct(kinds, 0, np.array([1]), plan, floating)
