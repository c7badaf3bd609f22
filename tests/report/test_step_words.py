"""Notes on steps."""

import doctest
from dataclasses import replace

from packdown.model import number_words
from packdown.report.lookup import look_up
from packdown.report.step_words import drawn_words, step_notes
from support.book_plan import book_plan

LOOKUP = look_up(book_plan())


def test_examples_in_the_docstrings_hold() -> None:
    """The module's own examples are run."""
    result = doctest.testmod(number_words)
    assert result.attempted > 0
    assert result.failed == 0


def test_a_step_says_which_parts_of_the_drawing_move() -> None:
    """Numbers on the drawing tie the words to the picture."""
    part, pack = LOOKUP.plan.steps.take_down[0], LOOKUP.plan.steps.take_down[3]
    assert drawn_words(LOOKUP, part) == "part 1 moves, parts 2 to 4 stay"
    assert step_notes(LOOKUP, part) == ("2 hands", "3 keys, 1 of them before the move")
    assert step_notes(LOOKUP, pack) == ("to Grey crate, no. 1", "needs only step 1 before it")
    assert drawn_words(LOOKUP, pack) == "part 1"


def test_a_step_says_what_it_need_not_wait_for() -> None:
    """What need not wait for the step before it can be done by somebody else meanwhile."""
    first, *others = LOOKUP.plan.steps.take_down
    second = next(step for step in others if step.n > 2 and step.after)
    free, late = replace(second, after=()), replace(second, after=(1,))
    assert step_notes(LOOKUP, free)[-1] == "can begin at once"
    assert step_notes(LOOKUP, late)[-1] == "needs only step 1 before it"
    assert "before it" not in " ".join(step_notes(LOOKUP, replace(second, after=(second.n - 1,))))
    assert "at once" not in " ".join(step_notes(LOOKUP, first))
