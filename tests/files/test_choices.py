"""Figures of plans to choose from, printed and read again."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from packdown.errors import InputError
from packdown.files import read_choices
from packdown.report.trade_off import choice_of, choices_data
from support.book_plan import book_plan

PLANS = (book_plan(), replace(book_plan(), seed=2))


def _file(folder: Path, text: str) -> Path:
    path = folder / "choices.json"
    path.write_text(text, encoding="utf-8")
    return path


def test_what_is_printed_can_be_read(tmp_path: Path) -> None:
    """Nothing is lost on the way."""
    path = _file(tmp_path, json.dumps(choices_data(PLANS)))
    assert read_choices(path) == tuple(choice_of(n, plan) for n, plan in enumerate(PLANS, 1))


@pytest.mark.parametrize(
    ("text", "entry"),
    [
        ("[", ""),
        ('{"a": 1}', ""),
        ('[{"number": 1}]', "[0].containers"),
        (json.dumps([{**choices_data(PLANS)[0], "effort_s": "two"}]), "[0].effort_s"),
        (json.dumps([{**choices_data(PLANS)[0], "extra": 1}]), "[0].extra"),
    ],
)
def test_anything_else_is_refused_with_its_place(tmp_path: Path, text: str, entry: str) -> None:
    """The error names the file and the entry, and says what to do."""
    with pytest.raises(InputError) as caught:
        read_choices(_file(tmp_path, text))
    assert all(problem.file == "choices.json" for problem in caught.value.problems)
    assert entry in {problem.entry for problem in caught.value.problems}
    assert all("trade-off --json" in problem.hint for problem in caught.value.problems)


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    """No traceback for a slip of the pen."""
    with pytest.raises(InputError):
        read_choices(tmp_path / "none.json")
