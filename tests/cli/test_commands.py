"""The command line as a user meets it: status, output and messages."""

import json
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from packdown.cli.app import COMMANDS, app
from packdown.data import data_folder
from support.commands import run


def test_every_command_is_where_the_program_looks_for_it() -> None:
    """Each module registers the commands that are announced for it, and no others."""
    import_all = run("--help")[1]
    registered: dict[str, set[str]] = {}
    for info in app.registered_commands:
        assert info.callback is not None
        name = info.name or info.callback.__name__
        module = info.callback.__module__.rpartition(".")[2]
        registered.setdefault(module, set()).add(name)
        assert name in import_all
    assert registered == {module: set(names) for module, names in COMMANDS.items()}


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A workspace of a few tiles and one tray."""
    folder = tmp_path / "small"
    (folder / "builds").mkdir(parents=True)
    (folder / "packdown.toml").write_text('name = "Small"\n[grid]\nsquare = "30 mm"\n')
    (folder / "parts.toml").write_text(
        '[parts.tile]\nname = "Tile"\nsize = ["60 mm", "60 mm", "8 mm"]\nweight = "30 g"\n'
        'slots = [{sides = ["left", "right"], every = "60 mm", height = "4 mm"}]\n'
    )
    (folder / "counts.csv").write_text("part,count\ntile,9\n")
    (folder / "containers.toml").write_text(
        '[containers.tray]\nname = "Tray"\ninner = ["200 mm", "150 mm", "40 mm"]\n'
        'outer = ["206 mm", "156 mm", "43 mm"]\ntare = "300 g"\npayload = "5 kg"\n'
    )
    (folder / "builds" / "row.toml").write_text(
        '[builds.row]\nname = "Row"\n'
        'place = [{id = "t", part = "tile", at = [0, 0], '
        "repeat = {count = [4, 1], step = [2, 0]}}]\n"
    )
    return folder


def test_one_of_several_plans_can_be_taken(small: Path) -> None:
    """What may be traded is shown with numbers; the one that is taken is saved and verified."""
    status, shown, talk = run("trade-off", small, "--effort", "2")
    assert status == 0
    assert "containers" in shown
    assert "--take" in talk
    assert not (small / "plan.json").exists()
    status, shown, _ = run("trade-off", small, "--effort", "2", "--take", "1", "--json")
    assert status == 0
    first = json.loads(shown)[0]
    plan = json.loads((small / "plan.json").read_text())
    assert first["number"] == 1
    assert first["effort_s"] == plan["objective"]["effort_s"]
    assert run("verify", small / "plan.json")[0] == 0
    status, _, talk = run("trade-off", small, "--effort", "2", "--take", "99")
    assert status == 2
    assert "there is no number 99" in talk


def test_plan_verify_steps_and_book_of_a_small_workspace(small: Path) -> None:
    """The main job from the files to the book, each command with status 0."""
    status, shown, _ = run("plan", small, "--effort", "2")
    assert status == 0
    assert "Tray" in shown
    plan = small / "plan.json"
    status, shown, _ = run("verify", plan)
    assert status == 0
    assert "support" in shown
    status, shown, _ = run("steps", plan, "--rebuild")
    assert status == 0
    assert "Row" in shown
    status, _, _ = run("book", plan, "-o", small / "book.html")
    assert status == 0
    assert (small / "book.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_json_is_the_only_thing_on_standard_output(small: Path) -> None:
    """With --json a program can read what is printed."""
    status, shown, _ = run("plan", small, "--effort", "1", "--json")
    assert status == 0
    assert json.loads(shown)["format"] == "packdown-plan"
    assert json.loads(run("check", small, "--json")[1])["loose_pieces"] == 5
    assert json.loads(run("verify", small / "plan.json", "--json")[1])["ok"] is True
    steps = json.loads(run("steps", small / "plan.json", "--json")[1])
    assert set(steps) == {"take_down", "rebuild"}


def test_what_does_not_fit_ends_with_status_1(small: Path) -> None:
    """The answer is no, the plan is still saved, and the reason is shown."""
    (small / "counts.csv").write_text("part,count\ntile,90\n")
    status, shown, _ = run("plan", small, "--effort", "1")
    assert status == 1
    assert "no room left" in shown
    assert (small / "plan.json").exists()


def test_a_broken_rule_ends_with_status_1(small: Path) -> None:
    """A plan that was tampered with is not accepted."""
    run("plan", small, "--effort", "1")
    plan = small / "plan.json"
    data = json.loads(plan.read_text(encoding="utf-8"))
    data["objective"]["containers"] += 1
    plan.write_text(json.dumps(data), encoding="utf-8")
    status, shown, _ = run("verify", plan)
    assert status == 1
    assert "objective" in shown


def test_bad_input_ends_with_status_2_and_writes_nothing(small: Path) -> None:
    """Every problem is named with file and entry; no plan appears."""
    (small / "counts.csv").write_text("part,count\ntlie,9\ntile,-1\n")
    status, shown, said = run("plan", small)
    assert status == 2
    assert shown == ""
    assert "counts.csv" in said
    assert 'did you mean "tile"?' in said
    assert "Traceback" not in said
    assert not (small / "plan.json").exists()


@pytest.mark.parametrize("command", ["plan", "check"])
def test_a_missing_folder_is_named(command: str, tmp_path: Path) -> None:
    """A folder that is not there ends with status 2 and a sentence."""
    status, _, said = run(command, tmp_path / "nowhere")
    assert status == 2
    assert "nowhere" in said


@pytest.mark.parametrize("command", ["verify", "steps", "book"])
def test_a_missing_plan_is_named(command: str, tmp_path: Path) -> None:
    """A plan that is not there ends with status 2 and a sentence."""
    status, _, said = run(command, tmp_path / "plan.json")
    assert status == 2
    assert "plan.json" in said


def test_a_new_workspace_reads_once_it_is_filled(tmp_path: Path) -> None:
    """The fresh files explain themselves; checked as they are, they say what is missing."""
    status, _, _ = run("new", tmp_path / "mine")
    assert status == 0
    status, _, said = run("check", tmp_path / "mine")
    assert status == 2
    assert "1 problem" in said
    assert run("new", tmp_path / "mine")[0] == 2


def test_the_demo_refuses_a_folder_that_is_in_use(tmp_path: Path) -> None:
    """Nothing of the user's is overwritten."""
    (tmp_path / "notes.txt").write_text("keep me")
    status, _, said = run("demo", tmp_path)
    assert status == 2
    assert "not empty" in said
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is sent otherwise there")
def test_interrupting_keeps_the_best_plan(tmp_path: Path) -> None:
    """Ctrl-C in the middle of the search ends it with a saved, verified plan."""
    folder = tmp_path / "example"
    shutil.copytree(data_folder("examples") / "saltworks", folder)
    command = [sys.executable, "-m", "packdown", "plan", str(folder), "--effort", "100000"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        time.sleep(8)  # long enough to be at work; too short to be done
        process.send_signal(signal.SIGINT)
        _, said = process.communicate(timeout=120)
    assert process.returncode in {0, 1}
    assert "Stopped early" in said
    assert run("verify", folder / "plan.json")[0] == 0


PIER = """[builds.pier]
name = "Pier"
units = [
    { id = "foot", size = ["6 cm", "6 cm", "2 cm"], weight = "300 g", at = ["0 cm", "0 cm"] },
    { id = "post", size = ["6 cm", "6 cm", "1 cm"], weight = "90 g", at = ["0 cm", "0 cm"] },
    { id = "arm", size = ["6 cm", "6 cm", "1 cm"], weight = "40 g", at = ["6 cm", "0 cm", "2 cm"] },
]
joints = [
    { between = ["foot", "post"], kind = "stacked" },
    { between = ["post", "arm"], kind = "magnetic", connections = 2 },
]
"""


def test_what_must_not_travel_is_told_by_check_and_by_plan(small: Path) -> None:
    """An arm of 40 g, 60 mm long, on two magnets that bear 14 mN m: 11.8 at rest, 35.3 at 3 g.

    Lifted off the foot, post and arm lie flat. For transport the plan parts the pier so; for the
    shelf it stays whole, and the plan says so.
    """
    (small / "builds" / "pier.toml").write_text(PIER)
    told = "may stand on the shelf, not travel: open this joint: foot + post"
    status, shown, _ = run("check", small)
    assert (status, f"Pier: {told}." in shown) == (0, True)
    rows = json.loads(run("check", small, "--json")[1])["weak"]
    assert [(row["build"], row["stands"], row["open_joints"]) for row in rows] == [
        ("pier", True, ["pier/foot+post"])
    ]
    status, shown, _ = run("plan", small, "--effort", "1")
    assert f"Pier as a whole {told}. This plan takes it apart" in " ".join(shown.split())
    head = small / "packdown.toml"
    head.write_text(head.read_text() + '[rules]\nshock = "shelf"\n')
    status, shown, _ = run("plan", small, "--effort", "1")
    assert f"Pier as a whole {told}. This plan leaves it so" in " ".join(shown.split())
    assert run("book", small / "plan.json")[0] == 0
    assert told in " ".join((small / "plan.html").read_text(encoding="utf-8").split())
