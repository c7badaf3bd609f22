"""Starting the program: a search is answered in short, in the same words."""

import subprocess
import sys
from pathlib import Path

import pytest

from packdown.__main__ import _simple_search
from support.commands import run
from support.stores import file_store, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan(
    {"long": [f"crate#{n}" for n in range(1, 13)], "small": ["mill/wall", "tile#1"]}
)


def program(*words: str) -> tuple[int, str, str]:
    """Run the program as a user does."""
    done = subprocess.run(
        [sys.executable, "-m", "packdown", *words], check=False, capture_output=True, text=True
    )
    return done.returncode, done.stdout, done.stderr


@pytest.mark.parametrize(
    "words",
    [
        ["crate"],
        ["crate", "--all"],
        ["--json", "mill", "wall"],
        ["xyzzy"],
        ["crate", "--json", "--all"],
        ["--store", "nowhere.db", "crate"],
        ["crate", "--sideways"],
        [],
    ],
)
def test_the_short_way_says_the_same(words: list[str], tmp_path: Path) -> None:
    """Words, errors and exit status are those of the full command line."""
    store = file_store(tmp_path)
    stowed(store, PLAN)
    if "--store" not in words:
        words = [*words, "--store", str(store.file)]
    status, shown, said = program("find", *words)
    full_status, full_shown, full_said = run("find", *words)
    assert (status, shown) == (full_status, full_shown)
    if "--sideways" not in words and len(words) > 2:
        assert said == full_said


def test_the_short_way_loads_little(tmp_path: Path) -> None:
    """A search loads neither the libraries of the command line nor those that write."""
    stowed(file_store(tmp_path), PLAN)
    code = (
        "import sys, packdown.__main__ as start\n"
        f"sys.argv = ['packdown', 'find', 'crate', '--store', {str(tmp_path)!r}]\n"
        "try:\n    start.main()\nexcept SystemExit as end:\n    assert end.code == 0\n"
        "heavy = {'typer', 'rich', 'pydantic', 'sqlalchemy', 'alembic', 'numpy', 'packdown.cli'}\n"
        "assert not heavy & sys.modules.keys(), heavy & sys.modules.keys()\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


def test_only_simple_searches_take_the_short_way() -> None:
    """Whatever else is said goes to the full command line."""
    assert _simple_search(["find", "old", "crate", "--json"]) == ("old crate", None, False, True)
    for said in (["show", "long"], ["find"], ["find", "-o", "a.svg"], ["find", "a", "--store"], []):
        assert _simple_search(said) is None


def test_the_version() -> None:
    """The full command line is still there."""
    assert program("--version")[1].startswith("packdown ")
