"""Timelines in words and as drawings."""

import io
import xml.etree.ElementTree as ET
from itertools import pairwise

from rich.console import Console

from packdown.model import tasks_of
from packdown.planning import plan_workspace, schedule
from packdown.report.book import render
from packdown.report.timeline import length_words, print_timeline, stints, timeline_data
from packdown.report.timeline_picture import timeline_drawing
from support import small

PLAN = plan_workspace(
    small.workspace(
        [small.row("row", 6), small.room("room")],
        small.loose(small.tile(), 4),
        [small.crate(f"tray{n}", 140, 140, 60) for n in range(4)],
    ),
    effort=1,
)
RUN = PLAN.steps.rebuild
MADE = schedule(tasks_of(PLAN, RUN), 2)


def test_stints_hold_every_turn_once() -> None:
    """Each step stands in one stint of each of its helpers, and stints do not overlap."""
    found = stints(PLAN, RUN, MADE)
    for helper in (1, 2):
        own = [stint for stint in found if stint.helper == helper]
        steps = [n for stint in own for n in stint.steps]
        assert steps == [turn.n for turn in MADE.turns if helper in turn.helpers]
        assert all(one.end_s <= two.start_s for one, two in pairwise(own))
    letters = {(stint.letter, stint.name) for stint in found}
    assert len(letters) == len({letter for letter, _ in letters})


def test_terminal() -> None:
    """The chart has a row for each helper; the table says from when to when, and the length."""
    out = io.StringIO()
    print_timeline(PLAN, RUN, MADE, "Rebuilding", Console(file=out, width=100))
    lines = out.getvalue().splitlines()
    assert lines[0] == "Rebuilding"
    assert any(line.startswith("  1 A") for line in lines)
    assert any(line.startswith("  2 B") for line in lines)
    assert "one step after the other" in " ".join(lines)
    assert "by 2 helpers" in length_words(PLAN, MADE)


def test_data_is_complete() -> None:
    """Every step is in the data with its words, its time and who does it."""
    data = timeline_data(PLAN, RUN, MADE, "rebuild")
    assert {turn["n"] for turn in data["turns"]} == {step.n for step in RUN}
    assert all(turn["text"] and turn["helpers"] for turn in data["turns"])
    assert data["length_s"] == MADE.length_s


def test_drawing_is_svg_with_a_row_for_each_helper() -> None:
    """It is well-formed, says what it shows, and has a bar in the row of either helper."""
    drawn = timeline_drawing(PLAN, RUN, MADE, "Rebuilding & more")
    root = ET.fromstring(drawn)  # noqa: S314 - our own drawing
    space = "{http://www.w3.org/2000/svg}"
    assert root.findtext(f"{space}title") == "Rebuilding & more"
    words = [node.text for node in root.iter(f"{space}text")]
    assert {"1", "2", "0:00"} <= set(words)
    assert {stint.letter for stint in stints(PLAN, RUN, MADE)} <= set(words)


def test_the_pack_book_has_a_timetable() -> None:
    """With timelines, the book draws who does what when, and says it in words; else it does not."""
    page = render(PLAN, timelines=(("rebuild", MADE),), turning=False)
    assert 'id="timetable"' in page
    assert length_words(PLAN, MADE) in page
    for stint in stints(PLAN, RUN, MADE):
        assert f"<td>{stint.letter}: {stint.name}</td>" in page
    assert 'id="timetable"' not in render(PLAN, turning=False)
