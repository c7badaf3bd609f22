"""Parts and counts go out and in again without loss."""

import shutil
from pathlib import Path

import openpyxl
import pytest

from packdown.data import data_folder
from packdown.files import new_workspace
from packdown.files.counts import read_counts
from packdown.files.parts import read_parts
from packdown.model import Part
from support.commands import run
from support.workspaces import FILES, write

EXTRA = """
[parts."mauer-ö"]
name = "=1+1, and  two blanks"
weight = "7 g"
size = ["1.001 mm", "2 mm", "3 mm"]
carry = "none"
alone = true
tags = ["a, b", "c"]
[parts.arch_2]
weight = "9 g"
cuboids = [
    { from = ["0 mm", "0 mm", "0 mm"], to = ["4 mm", "4 mm", "9 mm"] },
    { from = ["0 mm", "0 mm", "9 mm"], to = ["12 mm", "4 mm", "12 mm"] },
]
core = [{ from = ["0 mm", "0 mm", "0 mm"], to = ["4 mm", "4 mm", "9 mm"] }]
ways_up = ["upright", "on-side"]
magnets = 3
bagged = true
"""


def read(folder: Path) -> tuple[dict[str, Part | None], dict[str, int]]:
    """Return the parts of a workspace and how many of each are owned."""
    parts = read_parts(folder, [])
    counts = {part: count for part, (count, _) in read_counts(folder, [], parts).items()}
    return dict(parts.by_id), counts


@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
@pytest.mark.parametrize("example", ["saltworks", "quarry"])
def test_export_then_import_is_identity(example: str, suffix: str, tmp_path: Path) -> None:
    """A new workspace gets exactly the same parts, slots and cores included, and counts."""
    old = tmp_path / "old"
    if example == "saltworks":
        shutil.copytree(data_folder("examples") / example, old)
    else:
        write(old, FILES | {"parts.toml": FILES["parts.toml"] + EXTRA})
    table = tmp_path / f"table.{suffix}"
    assert run("export", old, "-o", table)[0] == 0
    new_workspace(tmp_path / "new")
    status, _, talk = run("import", table, tmp_path / "new", "--yes")
    assert status == 0, talk
    new, counted = read(tmp_path / "new")
    before, owned = read(old)
    assert counted == owned
    assert set(new) == set(before)
    for part, one in before.items():
        assert new[part] == one
    again = tmp_path / f"again.{suffix}"
    assert run("export", tmp_path / "new", "-o", again)[0] == 0
    if suffix == "csv":
        lines = sorted(table.read_text(encoding="utf-8").splitlines())
        assert sorted(again.read_text(encoding="utf-8").splitlines()) == lines
    status, _, talk = run("import", table, old)
    assert (status, "nothing to write" in talk) == (0, True)


def test_text_never_becomes_a_formula(tmp_path: Path) -> None:
    """A name that begins with = is text in a workbook."""
    write(tmp_path / "old", FILES | {"parts.toml": FILES["parts.toml"] + EXTRA})
    run("export", tmp_path / "old", "-o", tmp_path / "table.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "table.xlsx").active
    cells = [cell for row in sheet.iter_rows() for cell in row]
    assert "=1+1, and  two blanks" in [cell.value for cell in cells]
    assert {cell.data_type for cell in cells} <= {"s", "n"}


def test_a_file_is_replaced_only_when_that_is_confirmed(tmp_path: Path) -> None:
    """An older export is not overwritten unasked."""
    write(tmp_path / "old")
    table = tmp_path / "table.csv"
    table.write_text("mine", encoding="utf-8")
    assert run("export", tmp_path / "old", "-o", table)[0] == 2
    assert table.read_text(encoding="utf-8") == "mine"
    assert run("export", tmp_path / "old", "-o", table, "--yes")[0] == 0
    assert run("export", tmp_path / "old")[1] == table.read_text(encoding="utf-8")
    assert '"id": "slab"' in run("export", tmp_path / "old", "--json")[1]


def test_counts_alone_by_the_name_of_a_part(tmp_path: Path) -> None:
    """A list of names and numbers changes counts.csv, whose comments stay."""
    counts = "# counted by hand\npart,count\nslab,6\nfence,4   # old\nlamp,3\n".replace(
        "   # old", ""
    )
    folder = write(tmp_path / "old", FILES | {"counts.csv": counts})
    table = tmp_path / "list.csv"
    table.write_text("Piece,Qty\nSlab,8\nLAMP,3\nheap,2\n", encoding="utf-8")
    status, shown, _ = run("import", table, folder, "--yes")
    assert status == 0
    assert "6 before" in shown
    text = (folder / "counts.csv").read_text(encoding="utf-8")
    assert text == "# counted by hand\npart,count\nslab,8\nfence,4\nlamp,3\nheap,2\n"
    assert (folder / "parts.toml").read_text(encoding="utf-8") == FILES["parts.toml"]


def test_parts_that_differ_are_left_unless_told_otherwise(tmp_path: Path) -> None:
    """What parts.toml says of slots and the like stays when a size is replaced."""
    folder = write(tmp_path / "old")
    table = tmp_path / "list.csv"
    table.write_text("id,weight\nslab,61 g\nlamp,6 g\n", encoding="utf-8")
    status, shown, _ = run("import", table, folder, "--yes")
    assert status == 0
    assert "differs from parts.toml" in shown
    assert (folder / "parts.toml").read_text(encoding="utf-8") == FILES["parts.toml"]
    status, shown, _ = run("import", table, folder, "--yes", "--replace")
    assert status == 0
    assert "differs from parts.csv" in shown
    parts, _ = read(folder)
    assert parts["slab"] is not None
    assert parts["slab"].weight_g == 61
    assert len(parts["slab"].slots) == 8


def test_weights_that_are_missing_are_estimated_when_asked(tmp_path: Path) -> None:
    """Without a column of weights the row is named, or --material fills them in."""
    folder = write(tmp_path / "old")
    table = tmp_path / "list.csv"
    table.write_text("name,size,qty\nTower,60 x 60 x 120 mm,2\n", encoding="utf-8")
    status, _, talk = run("import", table, folder, "--yes")
    assert (status, "gives no weight" in talk, "line 2" in talk) == (2, True, True)
    assert run("import", table, folder, "--yes", "--material", "PLA")[0] == 0
    parts, counts = read(folder)
    assert parts["tower"] is not None
    assert 150 < parts["tower"].weight_g < 250  # 432 cm3, 1.24 g/cm3, 0.30 to 0.45 of it
    assert counts["tower"] == 2


def test_what_was_said_once_is_remembered(tmp_path: Path) -> None:
    """columns.toml holds what was said; people may edit it, and mistakes in it are named."""
    folder = write(tmp_path / "old")
    table = tmp_path / "list.csv"
    table.write_text("Ding;Maße;Masse;Menge\nTurm;6 x 6 x 12;0,2;2\n", encoding="utf-8")
    said = ["--column", "Ding=name", "--column", "Maße=size", "--column", "Masse=weight"]
    status, _, talk = run("import", table, folder, *said, "--yes")
    assert status == 2
    assert "no unit" in talk
    said += ["--column", "Menge=count", "--units", "cm", "--weights", "kg", "--decimal", "comma"]
    assert run("import", table, folder, *said, "--yes")[0] == 0
    text = (folder / "columns.toml").read_text(encoding="utf-8")
    assert '"Maße" = "size"' in text
    assert 'decimal = "comma"' in text
    table.write_text("Menge;Ding\n3;turm\n", encoding="utf-8")
    assert run("import", table, folder, "--yes")[0] == 0
    assert read(folder)[1]["turm"] == 3
    assert (folder / "columns.toml").read_text(encoding="utf-8") == text
    (folder / "columns.toml").write_text('[columns]\nDing = "nmae"\n', encoding="utf-8")
    status, _, talk = run("import", table, folder, "--yes")
    assert (status, 'did you mean "name"?' in talk) == (2, True)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--column", "A=b"), "HEADING=FIELD"),
        (("--units", "ell"), "unknown unit"),
        (("--encoding", "no-such"), "no-such"),
        (("--sheet", "Nowhere"), ""),
    ],
)
def test_wrong_use_is_answered(words: tuple[str, ...], said: str, tmp_path: Path) -> None:
    """What cannot be done as asked ends with status 2 and a sentence."""
    folder = write(tmp_path / "old")
    table = tmp_path / "list.csv"
    table.write_text("name,colour\nTower,red\n", encoding="utf-8")
    status, _, talk = run("import", table, folder, *words)
    assert status == 2
    assert said in talk
    assert "Traceback" not in talk


def test_a_table_without_a_heading_shows_what_it_found(tmp_path: Path) -> None:
    """The first row is shown, with the fields that a column may hold."""
    folder = write(tmp_path / "old")
    table = tmp_path / "list.csv"
    table.write_text("Tower,60,60,120\nWall,64,16,64\n", encoding="utf-8")
    status, _, talk = run("import", table, folder)
    assert status == 2
    assert "line 1, column 1" in talk
    assert "'Tower', '60'" in talk
    assert "--column" in talk
    table.write_bytes(b"\n\n")
    assert "is empty" in run("import", table, folder)[2]
    assert "no workspace" in run("import", table, tmp_path)[2]
