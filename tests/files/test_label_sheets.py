"""Sheets of labels close on their paper, and a spoilt file is told with its entry."""

import shutil
from pathlib import Path

import pytest

from packdown.data import data_folder
from packdown.errors import InputError
from packdown.files import label_sheets
from packdown.model import LabelSheet

SHEETS = label_sheets.read_label_sheets()


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=list(SHEETS))
def test_margins_and_labels_add_up_to_the_paper(sheet: LabelSheet) -> None:
    """The free edge is the same on both sides, to 0.2 mm: a wrong figure would show there."""
    for axis in range(2):
        far = sheet.paper_um[axis] - sheet.span_um[axis]
        assert far == pytest.approx(sheet.margin_um[axis], abs=200)


def test_spans_of_two_published_templates() -> None:
    """21 on A4 span 202.7 + 7.2 = 209.9 and 297.0 mm; 30 on Letter span 8.5 and 11 in."""
    a4, letter = SHEETS["a4-21"], SHEETS["letter-30"]
    assert a4.span_um[0] + a4.margin_um[0] == 209_900
    assert a4.span_um[1] + a4.margin_um[1] == 297_000
    assert letter.span_um[0] + letter.margin_um[0] == pytest.approx(8.5 * 25_400, abs=2)
    assert letter.span_um[1] + letter.margin_um[1] == 11 * 25_400


def test_labels_are_counted_row_by_row() -> None:
    """The second label is right of the first, the third below it on two columns."""
    sheet = SHEETS["a4-8"]
    assert sheet.per_sheet == 8
    assert sheet.corner(0) == (4_650, 13_100)
    assert sheet.corner(1) == (4_650 + 99_100 + 2_500, 13_100)
    assert sheet.corner(2) == (4_650, 13_100 + 67_700)
    with pytest.raises(ValueError, match="no label 8"):
        sheet.corner(8)


def test_a_spoilt_file_is_told_with_its_entry(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every problem at once: an unknown paper, a word too many, labels beyond the paper."""
    file = tmp_path / "label_sheets.toml"
    shutil.copy(data_folder("shared") / file.name, file)
    text = file.read_text(encoding="utf-8")
    text = text.replace('paper = "letter"\ngrid = [2, 3]', 'paper = "leter"\ngrid = [2, 3]')
    text = text.replace("grid = [5, 13]", "grid = [5, 14]\ncolour = 1")
    text = text.replace("grid = [3, 8]", "grid = [3, 9]")
    file.write_text(text, encoding="utf-8")
    monkeypatch.setattr(label_sheets, "data_folder", lambda _: tmp_path)
    with pytest.raises(InputError) as caught:
        label_sheets._read.__wrapped__()
    told = {problem.entry: problem.message for problem in caught.value.problems}
    assert set(told) == {"sheets.letter-6.paper", "sheets.a4-65.colour", "sheets.a4-24"}
    assert "below the paper" in told["sheets.a4-24"]
