"""Pages of reference are those that the program would write now, and their examples run."""

import doctest
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import packdown
from packdown import api
from packdown.cli.app import COMMANDS
from support.drawn_builds import HALL, workspace
from support.reference import FUNCTIONS, PAGES


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.name))
def test_pages_are_up_to_date(path: Path) -> None:
    """After a change to a command or to the front door: cd tests && python -m support.reference."""
    assert path.read_text(encoding="utf-8") == PAGES[path]()


def test_every_command_and_function_has_an_entry() -> None:
    """Nothing that a user may call is left out."""
    commands, functions = (path.read_text(encoding="utf-8") for path in PAGES)
    for name in (name for group in COMMANDS.values() for name in group):
        assert f"\n## packdown {name}\n" in commands
    assert {function.__name__ for function in FUNCTIONS} == set(api.__all__)
    for name in packdown.__all__:
        assert name in functions


def test_no_two_commands_have_one_name() -> None:
    """Commands come from several modules, and none hides another."""
    names = [name for group in COMMANDS.values() for name in group]
    assert sorted(set(names)) == sorted(names)


def test_the_front_door_is_what_it_says() -> None:
    """Every public name is there, and every function of the front door is public."""
    assert set(api.__all__) <= set(packdown.__all__)
    assert all(hasattr(packdown, name) for name in packdown.__all__)


def test_the_examples_of_the_front_door(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All examples, in the order of the page, in a folder with a workspace."""
    workspace(tmp_path / "yard", HALL)
    monkeypatch.chdir(tmp_path)
    finder, runner = doctest.DocTestFinder(), doctest.DocTestRunner()
    tried = 0
    for function in FUNCTIONS:
        (found,) = finder.find(function, globs=vars(api).copy())
        assert found.examples, function.__name__
        result = runner.run(found)
        tried += result.attempted
        assert not result.failed
    assert tried >= len(FUNCTIONS)


def test_importing_the_front_door_is_light() -> None:
    """No heavy library, and no solver of ours, is loaded by importing the package."""
    code = "import packdown, sys; print(*sys.modules)"
    said = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout.split()
    heavy = {"numpy", "numba", "ortools", "networkx", "pydantic", "rich", "typer", "sqlalchemy"}
    assert not heavy & set(said)
    assert [name for name in said if name.startswith("packdown.")] == [
        "packdown.api",
        "packdown.errors",
    ]


def test_plans_that_break_rules_are_not_stowed(tmp_path: Path) -> None:
    """The store is not even made."""
    home = workspace(tmp_path, HALL)
    plan = packdown.make_plan(packdown.load_workspace(home), effort=1)
    broken = replace(plan, items=plan.items[:-1])
    with pytest.raises(ValueError, match="breaks rules"):
        packdown.stow_plan(broken, home)
    assert not (home / "packdown.db").exists()


def test_a_deadline_ends_the_search(tmp_path: Path) -> None:
    """With half a second a plan comes out that keeps every rule."""
    home = workspace(tmp_path, HALL)
    plan = packdown.make_plan(packdown.load_workspace(home), seconds=0.5)
    assert packdown.verify_plan(plan).ok
