"""Files that mean harm are refused quickly, in little memory, and leave nothing behind.

The program reads them in processes of their own, whose address space is limited where the system
can do so. Seconds are those of the processor, which other work does not disturb.
"""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from support.hostile import MESHES, TABLES
from support.workspaces import write

SECONDS = 5
MEMORY = 2**30
Case = tuple[str, Callable[[], bytes], str]


def everything(folder: Path) -> dict[Path, int]:
    """Return all files in a folder with their sizes."""
    return {path: path.stat().st_size for path in folder.rglob("*") if path.is_file()}


def run_limited(commands: list[list[str]]) -> dict[str, Any]:
    """Run commands one after the other within limits."""
    done = subprocess.run(
        [sys.executable, "-m", "support.running_limited"],
        input=json.dumps(commands),
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
        cwd=Path(__file__).resolve().parent.parent,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )
    assert done.returncode == 0, done.stderr
    result: dict[str, Any] = json.loads(done.stdout)
    return result


def check(outcome: dict[str, Any], words: str) -> str:
    """Check that a command ended with status 2, a reason and in time; return what is wrong."""
    said = " ".join(outcome["said"].split())
    wrong = []
    if outcome["status"] != 2:
        wrong.append(f"status {outcome['status']}")
    if words not in said:
        wrong.append(f"does not say {words!r}")
    if "Traceback" in said or "root:" in said:
        wrong.append("says too much")
    if outcome["seconds"] > SECONDS:
        wrong.append(f"took {outcome['seconds']:.1f} s")
    return f"{', '.join(wrong)}: {said[:600]}" if wrong else ""


def test_meshes_are_refused(tmp_path: Path) -> None:
    """Each mesh file ends with status 2 and a reason; no file appears."""
    commands = []
    for number, (file, make, _) in enumerate(MESHES.values()):
        path = tmp_path / "in" / "some" / f"folder{number}" / file
        path.parent.mkdir(parents=True)
        path.write_bytes(make())
        commands.append(["measure", str(path), "-o", str(tmp_path / "parts.toml"), "--yes"])
    before = everything(tmp_path)
    # The first measures something harmless, so that loading libraries is not counted.
    harmless = tmp_path / "harmless.obj"
    harmless.write_bytes(
        b"v 0 0 0\nv 9 0 0\nv 0 9 0\nv 0 0 9\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n"
    )
    result = run_limited([["measure", str(harmless)], *commands])
    harmless.unlink()
    assert everything(tmp_path) == before
    first, *outcomes = result["outcomes"]
    assert first["status"] == 0, first
    wrong = {
        name: found
        for (name, (_, _, words)), outcome in zip(MESHES.items(), outcomes, strict=True)
        if (found := check(outcome, words))
    }
    assert not wrong
    assert result["memory"] < MEMORY


def test_tables_are_refused(tmp_path: Path) -> None:
    """Each table ends with status 2 and a reason; the workspace is as it was."""
    folder = write(tmp_path / "mine")
    commands = []
    for number, (file, make, _) in enumerate(TABLES.values()):
        path = tmp_path / f"{number}-{file}"
        path.write_bytes(make())
        commands.append(["import", str(path), str(folder), "--yes"])
    before = everything(tmp_path)
    result = run_limited([["export", str(folder)], *commands])
    assert everything(tmp_path) == before
    wrong = {
        name: found
        for (name, (_, _, words)), outcome in zip(
            TABLES.items(), result["outcomes"][1:], strict=True
        )
        if (found := check(outcome, words))
    }
    assert not wrong
    assert result["memory"] < MEMORY


def test_a_name_of_a_file_never_leads_out(tmp_path: Path) -> None:
    """Names of files become short names of parts, whatever they hold."""
    path = tmp_path / "..%2f [parts.x] ; '.obj"
    path.write_bytes(b"v 0 0 0\nv 9 0 0\nv 0 9 0\nv 0 0 9\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n")
    target = tmp_path / "parts.toml"
    result = run_limited([["measure", str(path), "-o", str(target), "--yes"]])
    assert result["outcomes"][0]["status"] == 0
    assert "[parts.2f-parts-x]" in target.read_text(encoding="utf-8")
