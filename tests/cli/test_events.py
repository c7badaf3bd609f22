"""The commands on events: bring, and strike at the end."""

import json
from pathlib import Path

import pytest

from support.commands import run

FILES = {
    "packdown.toml": 'name = "Small"\n[grid]\nsquare = "30 mm"\n',
    "parts.toml": (
        '[parts.tile]\nname = "Tile"\nsize = ["60 mm", "60 mm", "8 mm"]\nweight = "30 g"\n'
        'slots = [{sides = ["left", "right"], every = "60 mm", height = "4 mm"}]\n'
        '[parts.goat]\nname = "Goat"\nsize = ["20 mm", "10 mm", "15 mm"]\nweight = "4 g"\n'
    ),
    "counts.csv": "part,count\ntile,6\ngoat,5\n",
    "containers.toml": (
        '[containers.tray]\nname = "Tray"\ninner = ["200 mm", "150 mm", "40 mm"]\n'
        'outer = ["206 mm", "156 mm", "43 mm"]\ntare = "300 g"\npayload = "5 kg"\n'
    ),
    "builds/rows.toml": (
        '[builds.row]\nname = "Row"\n'
        'place = [{id = "t", part = "tile", at = [0, 0], '
        "repeat = {count = [4, 1], step = [2, 0]}}]\n"
        '[builds.path]\nname = "Path"\nstands = false\n'
        'place = [{id = "t", part = "tile", at = [0, 0], '
        "repeat = {count = [3, 1], step = [2, 0]}}]\n"
    ),
    "events/fair.toml": (
        'name = "Fair"\n[limits]\nhelpers = 2\nset_up = "20 min"\n'
        '[sessions.one]\nname = "First"\nstart = "9:00"\nend = "11:00"\n'
        'builds = [{id = "row", must = true}]\npieces = [{part = "goat", count = 3}]\n'
        '[sessions.two]\nname = "Second"\nstart = "10:00"\nend = "12:00"\n'
        'builds = [{id = "path", worth = 2}]\n'
    ),
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A workspace with an event, for which one tile is missing."""
    for name, text in FILES.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def test_bring(folder: Path) -> None:
    """What is brought, what stays and why is printed; the plan is saved beside the workspace."""
    status, shown, talk = run("bring", "fair", "--workspace", folder, "--effort", "2")
    assert status == 0
    assert "2 of 3 wishes met, 1 of 1 must, worth 2 of 4: no choice is better." in shown
    assert "  + Row" in shown
    assert "  - Path: 1 x Tile short" in shown
    assert "      Get 1 more Tile." in shown
    assert "Set up Row" in shown
    assert "limit" in shown
    assert "rules kept" in shown
    assert "packdown strike" in talk
    assert (folder / "fair.json").exists()


def test_bring_as_data(folder: Path) -> None:
    """As JSON: every wish, met or left with its reasons, and where the plan is."""
    event = folder / "events" / "fair.toml"
    status, shown, _ = run("bring", event, "--json", "-o", folder / "out.json", "--seconds", "3600")
    data = json.loads(shown)
    assert status == 0
    assert [pick["wish"]["build"] for pick in data["chosen"]] == ["row", None]
    assert data["left"][0]["reasons"] == ["1 x Tile short"]
    assert data["proved"]
    assert data["plan"] == str(folder / "out.json")
    assert (folder / "out.json").exists()


def test_a_must_that_stays_is_a_no(folder: Path) -> None:
    """Exit status 1 where a session must do without what it cannot do without."""
    event = folder / "events" / "fair.toml"
    text = event.read_text(encoding="utf-8").replace("worth = 2", "must = true")
    event.write_text(text, encoding="utf-8")
    status, shown, _ = run("bring", "fair", "--workspace", folder, "--effort", "2")
    assert status == 1
    assert "(a must)" in shown


def test_bad_events_are_told(folder: Path) -> None:
    """Every problem of the event is told, and so is an event that is not there."""
    status, _, talk = run("bring", "fiar", "--workspace", folder)
    assert status == 2
    assert 'did you mean "fair"?' in talk
    (folder / "events" / "fair.toml").write_text('[sessions.a]\nstart = "9"\n', encoding="utf-8")
    status, _, talk = run("bring", "fair", "--workspace", folder)
    assert status == 2
    assert "a time of day" in talk
    status, _, talk = run("check", folder)
    assert status == 2
    assert "events/fair.toml" in talk


def test_strike_and_what_is_gone(folder: Path) -> None:
    """The way home is a plan without what is gone; the store knows what became of it."""
    plan = folder / "fair.json"
    assert run("bring", "fair", "--workspace", folder, "--effort", "2")[0] == 0
    assert run("stow", plan, "--yes", "--store", folder / "s.db")[0] == 0
    status, _, talk = run(
        "strike", plan, "--used-up", "goat=1", "--lent", "goat=1", "--with", "Ada", "--record",
        "--effort", "1", "--store", folder / "s.db",
    )  # fmt: skip
    assert status == 0
    assert "1 struck off, 1 lent" in talk
    home = json.loads((folder / "fair-strike.json").read_text(encoding="utf-8"))
    assert len(home["pieces"]) == 5
    status, shown, _ = run("sweep", "--store", folder / "s.db")
    assert "lent: Ada" in shown
    status, _, talk = run("strike", plan, "--left", "goat=4")
    assert (status, "there are only 3 x goat" in talk) == (2, True)
    status, _, talk = run("strike", plan, "--left", "goot=1")
    assert (status, 'did you mean "goat"?' in talk) == (2, True)
    status, _, talk = run("strike", plan, "--standing", "path,row")
    assert (status, "cannot stand" in talk) == (2, True)
