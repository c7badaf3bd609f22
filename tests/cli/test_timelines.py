"""The command that shares steps out among helpers."""

import json
from pathlib import Path

import pytest

from packdown.files import write_plan
from packdown.planning import plan_workspace
from support import small
from support.commands import run


@pytest.fixture(scope="module")
def plan_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plan of a row and a room in three trays."""
    workspace = small.workspace(
        [small.row("row", 6), small.room("room")],
        small.loose(small.tile(), 4),
        [small.crate(f"tray{n}", 140, 140, 60) for n in range(4)],
    )
    path = tmp_path_factory.mktemp("timeline") / "plan.json"
    write_plan(plan_workspace(workspace, effort=1), path)
    return path


def test_both_directions_are_shown(plan_file: Path) -> None:
    """Taking down and rebuilding are shown one after the other."""
    status, shown, _ = run("timeline", plan_file, "--helpers", "3")
    assert status == 0
    assert shown.index("Taking down") < shown.index("Rebuilding")
    assert "by 3 helpers" in shown


def test_data(plan_file: Path) -> None:
    """As JSON, one direction: every turn with the words of its step."""
    status, shown, _ = run("timeline", plan_file, "--rebuild", "--json")
    assert status == 0
    (found,) = json.loads(shown)["timelines"]
    assert found["steps"] == "rebuild"
    assert found["helpers"] == 2
    assert found["bound_s"] <= found["length_s"]
    assert all(turn["text"] for turn in found["turns"])


def test_more_helpers_take_no_longer(plan_file: Path) -> None:
    """Every further helper leaves the length or shortens it."""
    lengths = []
    for helpers in (1, 2, 3, 4):
        shown = run("timeline", plan_file, "--rebuild", "--json", "--helpers", str(helpers))[1]
        lengths.append(json.loads(shown)["timelines"][0]["length_s"])
    assert lengths == sorted(lengths, reverse=True)


def test_drawing(plan_file: Path) -> None:
    """One direction is drawn; both at once, or into another kind of file, are refused."""
    drawing = plan_file.with_name("set-up.svg")
    assert run("timeline", plan_file, "--rebuild", "-o", drawing)[0] == 0
    assert drawing.read_text(encoding="utf-8").startswith("<svg ")
    status, _, talk = run("timeline", plan_file, "-o", drawing)
    assert status == 2
    assert "--rebuild" in talk
    status, _, talk = run("timeline", plan_file, "--rebuild", "-o", "set-up.png")
    assert status == 2
    assert "SVG" in talk
