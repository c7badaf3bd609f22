"""The command that writes the pack book, with what can be added to it or left out."""

import json
from pathlib import Path

from packdown.files import write_plan
from packdown.report.trade_off import choices_data
from support.book_plan import book_plan
from support.commands import run

PLAN = book_plan()


def test_figures_of_a_trade_off_are_drawn(tmp_path: Path) -> None:
    """The file is what another command printed; the plan at hand is marked."""
    write_plan(PLAN, tmp_path / "plan.json")
    own = choices_data([PLAN])[0]
    less = {**own, "number": 2, "containers": own["containers"] + 1, "effort_s": 1}
    (tmp_path / "choices.json").write_text(json.dumps([own, less]), encoding="utf-8")
    status, _, _ = run("book", tmp_path / "plan.json", "--trade-off", tmp_path / "choices.json")
    assert status == 0
    page = (tmp_path / "plan.html").read_text(encoding="utf-8")
    assert "What other containers would save" in page
    assert "this plan" in page


def test_a_file_that_is_no_trade_off_is_refused(tmp_path: Path) -> None:
    """Status 2, the place of what is wrong, and no book."""
    write_plan(PLAN, tmp_path / "plan.json")
    (tmp_path / "choices.json").write_text('[{"number": 1}]', encoding="utf-8")
    status, _, talk = run("book", tmp_path / "plan.json", "--trade-off", tmp_path / "choices.json")
    assert status == 2
    assert "[0].containers" in talk
    assert not (tmp_path / "plan.html").exists()


def test_a_flat_book_has_nothing_to_turn(tmp_path: Path) -> None:
    """Without the library and its data the page is smaller."""
    write_plan(PLAN, tmp_path / "plan.json")
    pages = []
    for option in ("--flat", "--turning"):
        assert run("book", tmp_path / "plan.json", option)[0] == 0
        pages.append((tmp_path / "plan.html").read_text(encoding="utf-8"))
    flat, full = pages
    assert "data-turn" not in flat
    assert "data-turn" in full
    assert 150_000 < len(full) - len(flat) < 400_000
