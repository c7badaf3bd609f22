"""Spreadsheets of different habits go in right, or are refused with the cell named."""

from pathlib import Path

import pytest

from packdown.errors import InputError, Problem
from packdown.files import new_workspace
from packdown.files.counts import read_counts
from packdown.files.parts import read_parts
from packdown.geometry import size
from packdown.tables import Memory, read_sheets, read_table
from support.commands import run
from support.spreadsheets import HABITS


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    """A workspace without any part."""
    new_workspace(tmp_path / "mine")
    return tmp_path / "mine"


def everything(folder: Path) -> dict[Path, bytes]:
    """Return all files of a folder with their contents."""
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_there_are_enough_habits() -> None:
    """Twenty at least, some of which must be refused."""
    assert len(HABITS) >= 20
    assert sum(bool(habit.refused) for habit in HABITS.values()) >= 5


@pytest.mark.parametrize("name", [name for name, habit in HABITS.items() if habit.parts])
def test_it_goes_in_right(name: str, mine: Path, tmp_path: Path) -> None:
    """Sizes, weights and counts are those that were meant; nothing is written unconfirmed."""
    habit = HABITS[name]
    path = tmp_path / habit.file
    path.write_bytes(habit.data)
    before = everything(mine)
    status, shown, talk = run("import", path, mine, *habit.words)
    assert (status, "--yes" in talk) == (2, True)
    assert everything(mine) == before
    for words in habit.said:
        assert words in shown
    assert run("import", path, mine, *habit.words, "--yes")[0] == 0
    found: list[Problem] = []
    parts = read_parts(mine, found)
    counts = read_counts(mine, found, parts)
    assert not found
    assert {
        part: (size(one.cover_um), one.weight_g, counts[part][0])
        for part, one in parts.by_id.items()
        if one
    } == habit.parts
    after = everything(mine)
    status, _, talk = run("import", path, mine)
    assert (status, "nothing to write" in talk) == (0, True)
    assert everything(mine) == after


@pytest.mark.parametrize("name", [name for name, habit in HABITS.items() if habit.refused])
def test_it_is_refused_with_the_cell(name: str, mine: Path, tmp_path: Path) -> None:
    """Every problem names its cell, all are reported at once, and nothing is written."""
    habit = HABITS[name]
    path = tmp_path / habit.file
    path.write_bytes(habit.data)
    before = everything(mine)
    with pytest.raises(InputError) as caught:
        read_table(mine, read_sheets(path), Memory())
    problems = {problem.entry: problem.message for problem in caught.value.problems}
    assert set(problems) == {cell for cell, _ in habit.refused}
    for cell, words in habit.refused:
        assert words in problems[cell]
    status, _, talk = run("import", path, mine, *habit.words, "--yes")
    assert status == 2
    assert all(cell in talk for cell, _ in habit.refused)
    assert everything(mine) == before
