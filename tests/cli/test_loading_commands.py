"""Loading and lifting from the command line, on a small workspace."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from packdown.cli.app import app
from packdown.files import read_load, write_plan
from packdown.verify import verify_load
from support.plans import GOOD
from support.workspaces import FILES, write

SPACES = """\
[spaces.car]
width = "900 mm"
length = "700 mm"
height = "700 mm"
payload = "100 kg"
seat_back = "500 mm"
[flights.hop]
checked = { pieces = 1 }
"""
RUN = CliRunner()


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan in the folder of a workspace with a car and a flight."""
    write(tmp_path, FILES | {"load_spaces.toml": SPACES})
    write_plan(GOOD, tmp_path / "plan.json")
    return tmp_path / "plan.json"


def test_a_load_is_shown_saved_and_drawn(plan: Path) -> None:
    """The only vehicle needs no name; what is saved verifies."""
    load_file, picture = plan.with_name("load.json"), plan.with_name("boot.svg")
    words = ["load", str(plan), "--effort", "1", "-o", str(load_file), "--picture", str(picture)]
    done = RUN.invoke(app, words)
    assert (done.exit_code, "rules of a load kept" in done.stdout) == (0, True), done.output
    assert verify_load(read_load(load_file)).ok
    assert picture.read_text(encoding="utf-8").startswith("<svg ")
    checked = RUN.invoke(app, ["verify", str(load_file)])
    assert (checked.exit_code, "rules kept" in checked.stdout) == (0, True)


def test_a_load_as_data_is_the_file(plan: Path) -> None:
    """What is printed is the document that is saved."""
    done = RUN.invoke(app, ["load", str(plan), "--effort", "1", "--json"])
    assert json.loads(done.stdout)["format"] == "packdown-load"


def test_a_flight_takes_as_many_as_it_may(plan: Path) -> None:
    """One piece goes, the others stay, and the exit status says so."""
    done = RUN.invoke(app, ["load", str(plan), "--into", "hop"])
    assert done.exit_code == 1
    assert "Ask the carrier" in done.stdout
    assert "Stays behind" in done.stdout


def test_lifts_are_estimated(plan: Path) -> None:
    """For every packed container, from the floor to a table and into the car."""
    done = RUN.invoke(app, ["lift", str(plan), "--json"])
    lifts = json.loads(done.stdout)["lifts"]
    packed = [container.id for container in GOOD.containers if container.fill]
    assert [lift["container"] for lift in lifts] == [own for own in packed for _ in range(2)]
    assert {lift["people"] for lift in lifts} == {"one"}
    shown = RUN.invoke(app, ["lift", str(plan)])
    assert "These are estimates" in shown.stdout
    assert "Magnets on a flight" in shown.stdout


def test_a_lift_out_of_range_has_no_index(plan: Path) -> None:
    """NIOSH 94-110: above 175 cm nothing is recommended."""
    high = SPACES.replace("[flights.hop]", 'sill = "2 m"\n[flights.hop]')
    plan.with_name("load_spaces.toml").write_text(high, encoding="utf-8")
    lifts = json.loads(RUN.invoke(app, ["lift", str(plan), "--json"]).stdout)["lifts"]
    assert {lift["index"] for lift in lifts if "car" in lift["journey"]["name"]} == {None}
    shown = " ".join(RUN.invoke(app, ["lift", str(plan)]).stdout.split())
    assert "out of" in shown


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--into", "cra"], 'no load space and no flight "cra"'),
        (["--need", "bx"], 'fills no container "bx"'),
        (["--containers", "bx"], 'fills no container "bx"'),
        (["--picture", "boot.png"], "expected a file .svg"),
    ],
)
def test_wrong_use_is_told(plan: Path, words: list[str], message: str) -> None:
    """Exit status 2, and what to do."""
    done = RUN.invoke(app, ["load", str(plan), "--effort", "1", *words])
    assert (done.exit_code, message in done.output) == (2, True), done.output
