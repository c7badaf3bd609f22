"""The guides and the checks that run them agree."""

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

from packdown.data import data_folder

ROOT = Path(__file__).resolve().parent.parent


def test_the_checks_run_the_command_of_the_readme() -> None:
    """The line that sets up and tests stands once in the guide, and the checks read it there."""
    guide = (ROOT / "README.md").read_text(encoding="utf-8")
    lines = [line for line in guide.splitlines() if line.startswith("python3 -m venv")]
    assert len(lines) == 2
    assert lines[0].endswith("packdown demo")
    assert "pytest" in lines[1]
    assert "README.md" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_top_level_is_tidy() -> None:
    """Nothing is tracked beside the entries that the guide names."""
    tracked = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout.split()
    top = {name.split("/")[0] for name in tracked if not name.startswith(".")}
    wanted = {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "tests", "containers"}
    assert top == wanted | {"examples", "shared"}


def walk_through() -> list[str]:
    """Return the commands of the guide's walk through the store."""
    guide = (ROOT / "README.md").read_text(encoding="utf-8")
    block = re.search(r"## What is where.*?```\n(.*?)```", guide, flags=re.DOTALL)
    assert block
    return [line.partition("  #")[0].strip() for line in block[1].splitlines()]


def run_line(line: str, folder: Path) -> tuple[int, str]:
    """Run one line of the guide; return its exit status and all that it prints."""
    said, _, command = line.rpartition(" | ")
    program, *words = shlex.split(command)
    assert program == "packdown"
    done = subprocess.run(
        [sys.executable, "-m", "packdown", *words],
        input=said.removeprefix("echo ") + "\n",
        check=False,
        capture_output=True,
        text=True,
        cwd=folder,
    )
    return done.returncode, done.stdout + done.stderr


def test_the_walk_through_the_store(tmp_path: Path) -> None:
    """Every command of the guide does what the guide says, on the example."""
    folder = tmp_path / "packdown-demo"
    shutil.copytree(data_folder("examples") / "saltworks", folder)
    expected = {
        "plan": (0, "rules kept"),
        "stow": (0, "new -> "),
        "find stairs": (0, "layer, "),
        "find stiars": (0, "Stairs: "),
        "where": (0, "in the order in which to open them"),
        "move beacon": (0, "now out."),
        "sweep": (1, "for Open day, last seen in "),
        "undo": (0, "Undone: change "),
        "move gull": (0, "5 pieces now in Foam tray"),
        "show": (0, "    5 x Gull"),
        "count": (1, "  3 x Gull, last seen in Foam tray, moved there on "),
        "history": (0, "missing (undone)"),
        "backup": (0, "saltworks.backup"),
    }
    used = set()
    for line in walk_through():
        status, shown = run_line(line, folder)
        command = line.rpartition("packdown ")[2]
        key = max((key for key in expected if command.startswith(key)), key=len)
        assert (status, expected[key][1] in shown) == (expected[key][0], True), (line, shown)
        used.add(key)
    assert used == set(expected)
    assert (folder / "stairs.svg").exists()
    assert (folder / "saltworks.backup").exists()
