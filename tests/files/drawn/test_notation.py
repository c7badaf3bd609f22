"""Drawings in text: read and printed without loss, and refused with the line and the cell."""

import doctest
import importlib

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from packdown.files.drawn import Cell, Level, Mark, drawing_text, read_drawing
from packdown.files.place import Place

SYMBOLS = st.sampled_from("FwP7éж")
MARKS = st.builds(
    Mark, symbol=SYMBOLS, turn=st.sampled_from((0, 90, 180, 270)), flipped=st.booleans()
)
CELLS = st.builds(Cell, reached=st.integers(0, 3), marks=st.lists(MARKS, max_size=4).map(tuple))
WORDS = st.sampled_from(("0", "-2", "1.5", "64mm", "2.5in"))
LEVELS = st.builds(
    Level,
    rows=st.lists(st.lists(CELLS, min_size=1, max_size=5).map(tuple), max_size=4).map(tuple),
    at=st.none() | st.tuples(WORDS, WORDS),
    height=st.none() | WORDS,
)
UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
DRAWINGS = st.lists(LEVELS, min_size=1, max_size=4).map(tuple)


def read(text: str) -> tuple[tuple[Level, ...], list[str]]:
    """Return a drawing and the problems with it."""
    place = Place("builds/shed.toml", [], "builds.shed.plan")
    return read_drawing(text, place), [str(problem) for problem in place.found]


@UNHURRIED
@given(DRAWINGS)
def test_what_is_printed_reads_the_same(levels: tuple[Level, ...]) -> None:
    """Nothing of a drawing is lost on paper."""
    assert read(drawing_text(levels)) == (levels, [])


@UNHURRIED
@given(DRAWINGS, st.randoms(use_true_random=False))
def test_what_is_read_prints_the_same(levels: tuple[Level, ...], chance: st.randoms) -> None:  # type: ignore[valid-type]
    """But for blanks, which mean nothing, every line comes back as it was written."""
    text = drawing_text(levels)
    loose = "".join(
        char + (chance.choice(["", " ", "\t"]) if char == " " else "")  # type: ignore[attr-defined]
        for char in text
    )
    found, problems = read("\n" + loose.replace("\n", "  \n\n"))
    assert not problems
    assert drawing_text(found) == text
    assert drawing_text(read(text)[0]) == text


def test_the_first_line_is_the_back_row() -> None:
    """As on a map: what is drawn above lies behind, and the last line is the front."""
    ((level,), problems) = read("a b\nc\n")
    assert not problems
    assert [[cell.marks[0].symbol for cell in row] for row in level.rows] == [["c"], ["a", "b"]]


def test_an_arrow_is_the_way_the_front_looks() -> None:
    """A quarter turn anticlockwise, as seen from above, turns the front to the right."""
    ((level,), _) = read("w w> w^ w< w!>")
    marks = [cell.marks[0] for cell in level.rows[0]]
    assert [mark.turn for mark in marks] == [0, 90, 180, 270, 90]
    assert [mark.flipped for mark in marks] == [False] * 4 + [True]


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("F F\nF ?", "line 2", "cell 2: expected symbols"),
        ("F F:\n", "line 1", '":" comes before all symbols'),
        ("F>>", "line 1", "cell 1: expected symbols"),
        (">F", "line 1", "cell 1: expected symbols"),
        ("..", "line 1", 'an empty cell is "."'),
        ("F\n-- at 1\nF", "line 2", '"at X Y"'),
        ("F\n-- height 1 height 2\nF", "line 2", '"height Z"'),
        ("F\n--- \nF", "line 2", '"--", then'),
        ("F\n-- up 2\nF", "line 2", '"--", then'),
    ],
)
def test_slips_name_their_line(text: str, line: str, words: str) -> None:
    """Each slip is one problem that says where it is and what was expected."""
    problems = read(text)[1]
    assert len(problems) == 1
    assert f"plan.{line}" in problems[0]
    assert words in problems[0]


def test_what_is_too_large_is_refused() -> None:
    """Nobody draws a thousand cells side by side; no time is lost on it."""
    assert "1,000 cells" in read("F " * 1_001)[1][0]
    assert "1,000 rows" in read("F\n" * 1_001)[1][0]
    assert "100,000 characters" in read("F " * 60_000)[1][0]


@pytest.mark.parametrize("module", ["notation", "cells"])
def test_examples(module: str) -> None:
    """The examples in the documentation are right."""
    result = doctest.testmod(importlib.import_module(f"packdown.files.drawn.{module}"))
    assert result.attempted
    assert not result.failed
