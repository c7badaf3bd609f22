"""Single pieces, tables, backups and drawings, as a user meets them."""

import csv
import json
from pathlib import Path

import pytest

from packdown.files import write_plan
from packdown.store.location import ENVIRONMENT
from support.commands import run
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


def test_one_piece_gets_a_name() -> None:
    """It is shown with all that is known, and found by its name."""
    status, shown, _ = run("piece", "crate#2", "--name", "Chipped", "--photo", "chip.jpg")
    assert status == 0
    assert shown == "crate#2: Chipped\n  photo: chip.jpg\n"
    assert json.loads(run("piece", "chipped", "--json")[1])["piece"] == "crate#2"
    assert run("find", "chiped")[1].startswith("Chipped: 1 piece")
    assert run("piece", "crate#2", "--name", "", "--photo", "")[1] == "crate#2\n"


def test_what_was_sold_is_struck_off() -> None:
    """It must be confirmed, and is not found any more."""
    assert run("forget", "tile")[0] == 2
    assert run("forget", "tile", "--number", "1", "--yes")[0] == 2  # they lie in two containers
    assert "2 pieces" in run("forget", "tile", "--yes")[2]
    assert run("find", "tile")[0] == 1


def test_a_table_goes_out_and_comes_in(tmp_path: Path) -> None:
    """What is altered in it is taken over."""
    path = tmp_path / "contents.csv"
    assert run("contents", "-o", path)[0] == 0
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    assert len(rows) == 6
    for row in rows:
        if row["part"] == "tile":
            row["place"] = "out"
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    assert run("contents", "--from", path)[0] == 0
    assert run("sweep")[1].count("1 x Tile, last seen in") == 2
    assert json.loads(run("contents", "small", "--json")[1])[0]["piece"] == "crate#3"


def test_a_table_that_is_wrong(tmp_path: Path) -> None:
    """Columns and cells are checked before anything is looked up."""
    path = tmp_path / "contents.csv"
    path.write_text("piece,plase\ncrate#1,long\n")
    status, _, said = run("contents", "--from", path)
    assert status == 2
    assert 'did you mean "place"?' in said
    path.write_text("piece,place\ncrate#1,\n")
    assert "line 2, column place" in run("contents", "--from", path)[2]


def test_counts_as_a_table() -> None:
    """Each line of each count is a row."""
    run("count", "small", said="crate,0\ntile,1\n")
    header, *rows = csv.reader(run("counts")[1].splitlines())
    assert header == ["change", "at", "container", "what", "expected", "found", "broken"]
    assert sorted(row[3:] for row in rows) == [["crate", "1", "0", "0"], ["tile", "1", "1", "0"]]


def test_a_backup_and_back(tmp_path: Path) -> None:
    """What was changed since is gone after restoring; that must be confirmed."""
    assert run("backup", "save.db")[0] == 0
    run("move", "crate", "--to", "out")
    status, _, said = run("restore", "save.db")
    assert status == 2
    assert "holds 6 pieces and 2 changes" in said
    assert run("sweep")[0] == 1
    assert run("restore", "save.db", "--yes")[0] == 0
    assert run("sweep")[0] == 0
    assert run("find", "crate", "--store", tmp_path / "save.db")[0] == 0


def test_a_drawing_of_where_it_is(tmp_path: Path) -> None:
    """As one drawing, or as a page; a container that is not packed by a plan cannot be drawn."""
    assert run("find", "crate", "-o", "crate.svg")[0] == 0
    drawing = (tmp_path / "crate.svg").read_text(encoding="utf-8")
    assert drawing.startswith('<svg xmlns="http://www.w3.org/2000/svg" ')
    assert ".nt{fill:#fff" in drawing
    assert run("find", "crate", "-o", "crate.html")[0] == 0
    page = (tmp_path / "crate.html").read_text(encoding="utf-8")
    assert page.count("<svg ") == 4  # two containers, each from above and in perspective
    assert run("find", "crate", "-o", "crate.pdf")[0] == 2
    run("move", "mill", "--to", "small")
    status, _, said = run("find", "mill", "-o", "mill.svg")
    assert status == 2
    assert "cannot be drawn" in said
