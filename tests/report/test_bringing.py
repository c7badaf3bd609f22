"""What is brought to an event, in words and as data."""

import io
import json
from dataclasses import replace

from rich.console import Console

from packdown.model import Wish
from packdown.planning.bringing import bring
from packdown.report.bringing import bringing_data, print_bringing, result_words
from support import events

WORKS = events.collection()
EVENT = events.event(
    events.session("one", 9, 11, Wish(build="row"), Wish(build="room", must=True, worth=3)),
    events.session("two", 10, 12, Wish(build="room")),
    events.session("three", 14, 15, Wish(build="path")),
    set_up_s=600,
)
FOUND = bring(WORKS, EVENT, effort=3)


def printed() -> str:
    """Return what is printed, with every run of blanks as one."""
    out = io.StringIO()
    print_bringing(WORKS, FOUND, Console(file=out, width=110))
    return " ".join(out.getvalue().split())


def test_every_wish_is_told() -> None:
    """What is brought stands with a plus; what stays with a minus, its reason and a remedy."""
    text = printed()
    assert text.startswith("Fair 3 of 4 wishes met, 1 of 1 must, worth 5 of 6")
    assert "Day 1, 09:00 to 11:00 One + Row + Room" in text
    assert "- Room: is wanted at the same time for One" in text
    assert "+ Path, put together there" in text


def test_the_timetable() -> None:
    """Each turnover says what is cleared up and set up, how long, and what is allowed."""
    text = printed()
    assert "Set up Row and Room" in text
    assert "Clear up Row and Room; set up Path" in text
    assert "10:00" in text
    assert "3:00:00" in text  # the pause from 11 to 14 o'clock


def test_what_is_proved() -> None:
    """A bound above what is met is told, and that of musts first."""
    assert result_words(FOUND).endswith("no choice is better.")
    open_end = replace(FOUND, proved=False, worth_bound=9)
    assert "at most 9 could be" in result_words(open_end)
    assert "at most 2 musts could be" in result_words(replace(open_end, musts_bound=2))


def test_data_is_json() -> None:
    """All but the plan and the loads is data."""
    data = json.loads(json.dumps(bringing_data(FOUND)))
    assert data["worth"] == 5
    assert data["standing_at_end"] == ["path"]
    assert len(data["chosen"]) == 3
    assert data["left"][0]["pick"]["session"] == "two"
