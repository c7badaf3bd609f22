"""Moving, counting and taking back, as a user meets them."""

import json
import sys
from pathlib import Path

import pytest

from packdown.cli.count import answers_to
from packdown.files import write_plan
from packdown.store.expecting import expect
from packdown.store.finding import box_of
from packdown.store.location import ENVIRONMENT
from support.commands import run, run_at_terminal
from support.plans import GOOD
from support.stores import file_store, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan(
    {"long": ["crate#1", "crate#2", "mill/wall", "tile#1"], "small": ["crate#3", "tile#2"]}
)


@pytest.fixture(autouse=True)
def _full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with a plan that is stowed, in which the commands are run."""
    monkeypatch.delenv(ENVIRONMENT, raising=False)
    monkeypatch.chdir(tmp_path)
    write_plan(PLAN, tmp_path / "plan.json")
    assert run("stow", "plan.json", "--yes")[0] == 0


def test_moving_and_taking_back() -> None:
    """What moved is found where it is now, until that is undone."""
    assert run("move", "mill", "--to", "out", "--event", "Spring day")[1] == "1 piece now out.\n"
    assert "out for Spring day, last seen in long" in run("find", "mill")[1]
    status, shown, _ = run("sweep")
    assert status == 1
    assert "[ ] 1 x Wall, for Spring day, last seen in long" in shown
    assert "change 2" in run("undo")[2]
    assert run("sweep") == (0, "Everything that went out is stowed.\n", "")
    shown = run("history")[1]
    assert "moved mill out for Spring day (undone)" in shown
    assert [e["id"] for e in json.loads(run("history", "--json", "--limit", "2")[1])] == [3, 2]


def test_moving_what_is_not_there() -> None:
    """The nearest name is offered."""
    status, _, said = run("move", "crat", "--to", "out")
    assert status == 2
    assert 'did you mean "Crate"?' in said or 'did you mean "crate"?' in said


def test_counting_from_a_list() -> None:
    """A list on standard input says what is there; what to look for comes last."""
    status, shown, _ = run("count", "long", "--rest", "there", said="crate,1\n")
    assert status == 1
    assert shown.splitlines()[0].endswith("3 of 4 pieces there.")
    assert shown.splitlines()[-1].startswith("  1 x Crate, last seen in long, first layer, ")


def test_counting_from_a_file(tmp_path: Path) -> None:
    """With a heading the columns may stand in any order."""
    path = tmp_path / "long.csv"
    path.write_text("found,what,broken\n2,crate,1\n1,tile,\n,mill/wall,\n")
    status, shown, _ = run("count", "long", "--from", path, "--json")
    assert status == 0
    found = json.loads(shown)
    assert found["broken"] == [{"name": "Crate", "number": 1}]
    assert [one["name"] for one in found["uncounted"]] == ["mill/wall"]


def test_a_bad_list_changes_nothing() -> None:
    """Every line that cannot be understood is named at once."""
    status, _, said = run("count", "long", said="crate,many\ncrte,1\ntile,9\n")
    assert status == 2
    assert "line 1" in said
    status, _, said = run("count", "long", said="crate,1\ncrte,1\ntile,9\n")
    assert status == 2
    assert "line 2" in said
    assert "line 3" in said
    assert len(json.loads(run("history", "--json")[1])) == 1


def test_counting_line_by_line(tmp_path: Path) -> None:
    """Each line is asked for with what is expected; parts of a sub-assembly on demand."""
    store = file_store(tmp_path)
    stowed(store, GOOD)
    with store.reading() as rows:
        expected = expect(rows, box_of(rows, "box"))
    said = {
        "half-1": "2",  # some of it: its parts are asked for
        "f1": "",
        "b1": "x",  # no number: asked again
        "t1": "1/1",
        "Anything": "spare 3",
    }
    asked: list[str] = []

    def ask(question: str, default: str) -> str:
        asked.append(question)
        key = question.partition(":")[0].split()[0]
        answer = said.get(key, default) or default
        said[key] = default if key in {"b1", "Anything"} else answer
        return answer

    answers = {a.what: (a.found, a.broken) for a in answers_to(expected, ask)}
    assert answers == {
        "half-1 f1": (1, None),
        "half-1 w1": (1, None),
        "half-1 b1": (1, None),
        "half-2": (2, None),
        "key:mill": (3, None),
        "k1": (1, None),
        "k2": (1, None),
        "t1": (1, 1),
        "t2": (1, None),
        "spare": (3, None),
    }
    assert asked.count("b1: how many of 1?") == 2


@pytest.mark.skipif(sys.platform == "win32", reason="terminals are opened otherwise there")
def test_counting_at_a_terminal(tmp_path: Path) -> None:
    """Enter takes what is expected; the questions go to standard error."""
    # the wall is there, one of two crates, the tile; nothing else
    status, shown, said = run_at_terminal(tmp_path, "\n1\n\n\n", "count", "long")
    assert status == 1
    assert shown.startswith("long (")
    assert "3 of 4 pieces there" in shown
    assert "Crate: how many of 2? [2]: " in said


def test_sweeping_as_data() -> None:
    """Another program gets the same list."""
    run("move", "crate", "--to", "out")
    loose = json.loads(run("sweep", "--json")[1])["loose"]
    assert sum(one["number"] for one in loose) == 3
    assert {one["name"] for one in loose} == {"Crate"}
