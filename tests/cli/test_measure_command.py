"""Measuring at the command line: shown first, written only when that is confirmed."""

import json
import signal
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from packdown.files import new_workspace, read_workspace
from packdown.measuring import measure_files
from support.commands import run, run_at_terminal
from support.meshes import generated, write_stl
from support.workspaces import FILES, write

SHAPES = {shape.name: shape for shape in generated()}


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """A folder with a box, an arch and a sheet that encloses nothing."""
    folder = tmp_path / "meshes"
    folder.mkdir()
    for name in ("box", "arch"):
        write_stl(SHAPES[name].triangles, folder / f"{name}.stl")
    return folder


def test_what_was_measured_is_shown_and_nothing_is_written(files: Path) -> None:
    """A table of all pieces; the unit is marked as a guess."""
    before = sorted(files.iterdir())
    status, shown, talk = run("measure", files)
    assert status == 0
    assert "50 x 30 x 20" in shown
    assert "mm?" in shown
    assert "--units" in talk
    assert sorted(files.iterdir()) == before


def test_data_for_other_programs(files: Path) -> None:
    """With --json all that is known of every piece, and what was refused."""
    write_stl(np.zeros((1, 3, 3)), files / "nothing.stl")
    status, shown, talk = run("measure", files, "--units", "mm", "--json")
    assert status == 2
    assert "nothing.stl" in talk
    data = json.loads(shown)
    assert [one["part"] for one in data["parts"]] == ["arch", "box"]
    assert "area" in data["problems"][0]["message"]
    arch = data["parts"][0]
    assert len(arch["cover_um"]) == 3
    assert arch["volume_cm3"] == 16 * 16 * 40 * 2 / 1000 + 64 * 16 * 20 / 1000
    assert arch["weight_g"]["low"] <= arch["weight_g"]["usual"] <= arch["weight_g"]["high"]


def test_parts_are_added_to_a_workspace(files: Path, tmp_path: Path) -> None:
    """What was there stays, the workspace reads, and a second time changes nothing."""
    folder = write(tmp_path / "quarry", FILES | {"parts.toml": "# mine\n" + FILES["parts.toml"]})
    before = (folder / "parts.toml").read_text(encoding="utf-8")
    status, _, talk = run("measure", files, "--add", folder)
    assert status == 2
    assert "--yes" in talk
    assert (folder / "parts.toml").read_text(encoding="utf-8") == before
    status, _, talk = run("measure", files, "--add", folder, "--yes", "--core")
    assert status == 0
    assert "new: arch, box" in talk
    after = (folder / "parts.toml").read_text(encoding="utf-8")
    assert after.startswith(before.rstrip())
    parts = {part.id: part for part in read_workspace(folder).parts}
    assert len(parts["arch"].cover_um) == 3
    assert parts["arch"].core_um == parts["arch"].cover_um
    status, _, talk = run("measure", files, "--add", folder, "--yes", "--core")
    assert status == 0
    assert "Nothing to write" in talk
    assert (folder / "parts.toml").read_text(encoding="utf-8") == after


def test_parts_that_differ_are_replaced_only_when_that_is_said(files: Path, tmp_path: Path) -> None:
    """A part that is there already is left as it is, or replaced where it stands."""
    folder = write(tmp_path / "quarry", FILES)
    run("measure", files, "--add", folder, "--yes")
    write_stl(SHAPES["box"].triangles * 2, files / "box.stl")
    _, _, talk = run("measure", files, "--add", folder, "--yes")
    assert "left as it is" in talk
    status, _, talk = run("measure", files, "--add", folder, "--yes", "--replace")
    assert status == 0
    assert "replaced: box" in talk
    parts = tomllib.loads((folder / "parts.toml").read_text(encoding="utf-8"))["parts"]
    assert parts["box"]["size"] == ["100 mm", "60 mm", "40 mm"]
    assert list(parts) == ["slab", "fence", "heap", "arch", "box"]


def test_parts_go_into_a_file(files: Path, tmp_path: Path) -> None:
    """With -o the same text stands in a file of its own."""
    target = tmp_path / "measured.toml"
    assert run("measure", files, "-o", target, "--yes")[0] == 0
    assert list(tomllib.loads(target.read_text(encoding="utf-8"))["parts"]) == ["arch", "box"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--resolution", "2"), "no unit"),
        (("--resolution", "1 um"), "0.1 mm"),
        (("--infill", "much"), "percentage"),
        (("--infill", "140%"), "100%"),
        (("--material", "PLB"), "unknown material"),
        (("--add", "nowhere"), "no workspace"),
        (("--add", ".", "-o", "x"), "not both"),
    ],
)
def test_wrong_use_is_answered(files: Path, words: tuple[str, ...], said: str) -> None:
    """What cannot be done as asked ends with status 2 and a sentence."""
    status, _, talk = run("measure", files, *words)
    assert status == 2
    assert said in talk


def test_a_folder_without_meshes_is_named(tmp_path: Path) -> None:
    """An empty folder, and a file that is not there."""
    assert "holds no mesh files" in run("measure", tmp_path)[2]
    assert "is not there" in run("measure", tmp_path / "gone.stl")[2]


def test_files_of_one_name_get_different_ids(files: Path) -> None:
    """The second of two files of one name gets a number."""
    (files / "more").mkdir()
    write_stl(SHAPES["ring"].triangles, files / "more" / "Box.stl")
    parts = json.loads(run("measure", files, "--json")[1])["parts"]
    assert sorted(one["part"] for one in parts) == ["arch", "box", "box-2"]


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
def test_guessed_units_are_asked_about(files: Path, tmp_path: Path) -> None:
    """At a terminal the guess is part of the question; no answer writes nothing."""
    new_workspace(tmp_path / "mine")
    before = (tmp_path / "mine" / "parts.toml").read_text(encoding="utf-8")
    status, _, talk = run_at_terminal(tmp_path, "n\n", "measure", str(files), "--add", "mine")
    assert status == 1
    assert "guessed as mm" in talk
    assert (tmp_path / "mine" / "parts.toml").read_text(encoding="utf-8") == before


def test_ctrl_c_stops_and_writes_nothing(
    files: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was begun is finished and shown, the rest is left out, the status is 1."""

    def interrupted(*args: Any, **options: Any) -> Iterator[Any]:  # noqa: ANN401 - any arguments
        for outcome in measure_files(*args, **options):
            yield outcome
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr("packdown.measuring.measure_files", interrupted)
    target = tmp_path / "parts.toml"
    status, shown, talk = run("measure", files, "-o", target, "--yes")
    assert status == 1
    assert "Stopped after 1 files" in talk
    assert "arch" in shown
    assert "box" not in shown
    assert not target.exists()
