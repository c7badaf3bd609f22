"""The guides and the checks that run them agree."""

import subprocess
from pathlib import Path

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
