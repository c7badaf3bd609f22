"""Printing labels from the command line: options, messages and the file that is written."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from typer.testing import CliRunner

from packdown.cli import app
from packdown.files import write_plan
from packdown.model import Steps, short_id
from packdown.store.location import ENVIRONMENT
from support.label_plans import plan_with
from support.pages import codes_in, drawn, opened
from support.stow_plans import stowing_plan

RUN = CliRunner()


def run(*words: str | Path) -> tuple[int, str, str]:
    """Run a command; return its exit status, standard output and standard error."""
    result = RUN.invoke(app, [str(word) for word in words])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture(scope="module")
def plan_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plan of three packed containers."""
    path = tmp_path_factory.mktemp("labels") / "plan.json"
    write_plan(plan_with(3, ["One", "Two", "Three 倉"]), path)
    return path


def test_labels_are_written_beside_the_plan(plan_file: Path) -> None:
    """One label a container; talk goes to standard error, and says what no font has."""
    status, shown, said = run("labels", plan_file)
    assert (status, shown) == (0, "")
    assert "1 page" in said
    assert "actual size" in said
    assert "倉" in said
    page = opened(plan_file.with_name("labels.pdf").read_bytes())[0]
    assert {code.text for code in codes_in(drawn(page))} == {
        short_id(f"box-{number}") for number in (1, 2, 3)
    }


def test_some_containers_on_another_sheet_from_another_label(
    plan_file: Path, tmp_path: Path
) -> None:
    """All options together; the middle of label 30 of 65 is at 170.0 + 19.05 mm from the left."""
    output = tmp_path / "some.pdf"
    words = ("--sheet", "a4-65", "--start", "30", "--shift", "-0.5,1.5 mm", "--edges")
    box = short_id("box-2").lower()
    assert run("labels", plan_file, "-o", output, *words, "--containers", box)[0] == 0
    (code,) = codes_in(drawn(opened(output.read_bytes())[0]))
    assert code.text == short_id("box-2")
    left, top = 4.75 + 4 * 40.6 - 0.5, 10.7 + 5 * 21.2 + 1.5
    assert left < code.where.left < code.where.right < left + 38.1
    assert top < code.where.top < code.where.bottom < top + 21.2


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--sheet", "a4-9"), "letter-30"),
        (("--start", "9"), "has 8 labels"),
        (("--shift", "1"), "two lengths"),
        (("--shift", "1,2,3"), "two lengths"),
        (("--shift", "left,1"), "two lengths"),
        (("--shift", "1,-11"), "at most 10 mm"),
        (("--containers", "box-9"), "did you mean"),
        (("-o", "labels.txt"), "one PDF file"),
        (("-o", "nowhere/labels.pdf"), "cannot be written"),
    ],
)
def test_wrong_use_is_told(plan_file: Path, words: tuple[str, ...], told: str) -> None:
    """Exit status 2, what was expected, and no traceback."""
    status, shown, said = run("labels", plan_file, *words)
    assert (status, shown) == (2, "")
    assert told in said


def test_a_code_is_what_find_and_show_accept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From plan to paper, from the code on the paper to what the store knows of the container."""
    monkeypatch.delenv(ENVIRONMENT, raising=False)
    monkeypatch.chdir(tmp_path)
    write_plan(
        stowing_plan({"long": ["crate#1", "mill/wall"], "small": ["crate#2"]}), Path("p.json")
    )
    assert run("labels", "p.json")[0] == 0
    assert run("stow", "p.json", "--yes")[0] == 0
    codes = codes_in(drawn(opened(Path("labels.pdf").read_bytes())[0]))
    found = {json.loads(run("find", code.text, "--json")[1])["hits"][0]["name"] for code in codes}
    assert found == {"long", "small"}
    shown = {json.loads(run("show", code.text, "--json")[1])["box"]["id"] for code in codes}
    assert shown == found


def test_a_plan_that_fills_nothing_has_no_labels(tmp_path: Path) -> None:
    """There is nothing to print."""
    path = tmp_path / "plan.json"
    write_plan(plan_with(1, fill=()), path)
    status, _, said = run("labels", path)
    assert status == 2
    assert "fills no container" in said


def test_a_missing_plan_is_named(tmp_path: Path) -> None:
    """As for every command on plans."""
    status, _, said = run("labels", tmp_path / "plan.json")
    assert status == 2
    assert "plan.json" in said


def test_lists_are_written_beside_the_plan(plan_file: Path) -> None:
    """One page a container; the smallest of all options."""
    status, shown, said = run("lists", plan_file)
    assert (status, shown) == (0, "")
    assert "3 pages" in said
    assert len(opened(plan_file.with_name("packing-lists.pdf").read_bytes())) == 3


def test_a_list_of_one_container_on_letter_paper(plan_file: Path, tmp_path: Path) -> None:
    """Letter is 8.5 in wide: 612 points."""
    output = tmp_path / "one.pdf"
    words = ("--containers", "box-3", "--paper", "letter", "-o", output)
    assert run("lists", plan_file, *words)[0] == 0
    (page,) = opened(output.read_bytes())
    assert page.get_width() == pytest.approx(612, abs=0.5)
    (code,) = codes_in(drawn(page))
    assert code.text == short_id("box-3")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--paper", "a5"), "known"),
        (("--containers", "box-9"), "did you mean"),
        (("-o", "lists.html"), "one PDF file"),
    ],
)
def test_wrong_use_of_lists_is_told(plan_file: Path, words: tuple[str, ...], told: str) -> None:
    """Exit status 2, and what was expected."""
    status, shown, said = run("lists", plan_file, *words)
    assert (status, shown) == (2, "")
    assert told in said


def test_a_book_is_printed_on_either_paper(tmp_path: Path) -> None:
    """By the name of its file; a wrong paper is named."""
    plan_file, output = tmp_path / "plan.json", tmp_path / "book.pdf"
    no_steps = Steps(take_down=(), rebuild=())
    write_plan(replace(plan_with(1), builds=(), steps=no_steps), plan_file)
    status, shown, said = run("book", plan_file, "-o", output, "--paper", "letter")
    assert (status, shown, "pages" in said) == (0, "", True)
    assert opened(output.read_bytes())[0].get_width() == pytest.approx(8.5 * 72, abs=1)
    status, _, said = run("book", plan_file, "-o", output, "--paper", "lettre")
    assert status == 2
    assert 'no paper "lettre"' in said
