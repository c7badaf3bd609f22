"""Commands on single builds: draw, convert."""

import json
from pathlib import Path

import pytest

from support.commands import run
from support.drawn_builds import HALL, workspace


@pytest.fixture(name="yard")
def yard_workspace(tmp_path: Path) -> Path:
    """Return the folder of a workspace with the hall."""
    return workspace(tmp_path / "yard", HALL)


def test_a_build_is_drawn_at_once(yard: Path, tmp_path: Path) -> None:
    """Characters on standard output, a picture in a file, data as JSON."""
    status, shown, talk = run("draw", "hall", yard, "-o", tmp_path / "hall.svg")
    assert status == 0
    assert [line for line in shown.splitlines() if "mm:" in line] == [
        "0 mm: F 9 x floor",
        "8 mm: W 10 x wall, P 2 x post",
        "58 mm: F 9 x floor",
        "66 mm: W 6 x wall, C 2 x hook, P 2 x post",
    ]
    assert "hall.svg" in talk
    assert (tmp_path / "hall.svg").read_text(encoding="utf-8").startswith("<svg ")
    data = json.loads(run("draw", "hall", yard, "--json")[1])
    assert data["letters"]["floor"] == "F"
    assert len(data["storeys"][0]["pieces"]) == 9


def test_a_build_with_mistakes_is_drawn_all_the_same(yard: Path) -> None:
    """What overlaps is shown, then said; the exit status is that of bad input."""
    file = yard / "builds" / "yard.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("cell = 2", 'cell = "60 mm"'), encoding="utf-8")
    status, shown, talk = run("draw", "hall", yard)
    assert status == 2
    assert "9 x floor" in shown
    assert "overlap by 4 mm" in talk


def test_what_is_missing_from_a_drawing_is_said(yard: Path) -> None:
    """A symbol of the file without a part, but nothing of what is wrong with other builds."""
    file = yard / "builds" / "yard.toml"
    rest = "[symbols]\nt = 'telescope'\n[builds.other]\nsize = 3\n"
    file.write_text(HALL.replace("Fw^ Fw^w>", "Ft  Fw^w>") + rest, encoding="utf-8")
    status, shown, talk = run("draw", "hall", yard)
    assert status == 2
    assert "0 mm: F 9 x floor" in shown
    assert 'unknown part "telescope"' in talk
    assert "builds.other" not in talk


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("hell",), 'did you mean "hall"?'),
        (("hall", "-o", "hall.png"), "expected a file .svg"),
    ],
)
def test_wrong_use_is_named(yard: Path, words: tuple[str, ...], said: str) -> None:
    """A build that is not there, and a kind of file that cannot be written."""
    status, shown, talk = run("draw", words[0], yard, *words[1:])
    assert (status, shown) == (2, "")
    assert said in talk


def test_a_build_is_described_anew_when_confirmed(yard: Path) -> None:
    """Printed first; written only when asked to and confirmed, the other builds untouched."""
    file = yard / "builds" / "yard.toml"
    other = "[builds.b]\n# kept\nsize = ['9 mm', '9 mm', '9 mm']\nweight = '9 g'\n"
    file.write_text(f"# yard\n{HALL}{other}", encoding="utf-8")
    before = file.read_text(encoding="utf-8")
    status, shown, talk = run("convert", "hall", yard, "--to", "measured")
    assert status == 0
    assert 'weight = "' in shown
    assert "No longer said" in talk
    status, _, talk = run("convert", "hall", yard, "--to", "measured", "--write")
    assert status == 2
    assert "nobody is there to confirm" in talk
    assert file.read_text(encoding="utf-8") == before
    assert run("convert", "hall", yard, "--to", "sub-units", "--write", "--yes")[0] == 0
    after = file.read_text(encoding="utf-8")
    assert "unit-1" in after
    assert "# kept" in after
    assert run("check", yard)[0] == 0
    status, _, talk = run("convert", "hall", yard, "--to", "drawn", "--write", "--yes")
    assert status == 2
    assert "a draft is not written" in talk
    assert file.read_text(encoding="utf-8") == after
    assert json.loads(run("convert", "hall", yard, "--to", "measured", "--json")[1])["complete"]
