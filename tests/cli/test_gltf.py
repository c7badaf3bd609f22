"""Exporting solids from the command line: what is written, and what is refused."""

from pathlib import Path
from typing import Any

import pytest
import trimesh
from typer.testing import CliRunner

from packdown.cli import app
from packdown.files import write_plan
from support.book_plan import book_plan

RUN = CliRunner()
PLAN = book_plan()
BUILD, CRATE = PLAN.builds[0], PLAN.containers[0]
JOIN = next(step for step in PLAN.steps.rebuild if step.build == BUILD.id and step.stays)


def run(*words: str | Path) -> tuple[int, str]:
    """Run a command; return its exit status and standard error."""
    result = RUN.invoke(app, ["gltf", *(str(word) for word in words)])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert result.stdout == ""
    return result.exit_code, result.stderr


def _nodes(file: Path) -> int:
    """Count the solids in a file."""
    scene: Any = trimesh.load(file)
    return len(scene.graph.nodes_geometry)


@pytest.fixture(scope="module")
def plan_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The plan as a file."""
    path = tmp_path_factory.mktemp("gltf") / "plan.json"
    write_plan(PLAN, path)
    return path


def test_a_container_and_a_build_are_written(plan_file: Path, tmp_path: Path) -> None:
    """Beside the plan under their ids, or where told."""
    status, said = run(plan_file, "--container", CRATE.id)
    assert (status, "kB" in said) == (0, True)
    whole = _nodes(plan_file.with_name(f"{CRATE.id}.glb"))
    target = tmp_path / "first.glb"
    assert run(plan_file, "--container", CRATE.id, "--layer", "1", "-o", target)[0] == 0
    first = _nodes(target)
    assert 1 < first < whole
    target = tmp_path / "build.glb"
    assert run(plan_file, "--build", BUILD.id, "--step", str(JOIN.n), "-o", target)[0] == 0
    assert _nodes(target) == len(JOIN.pieces) + len(JOIN.stays)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "either --container ID or --build ID"),
        (("--container", CRATE.id, "--build", BUILD.id), "either --container ID or --build ID"),
        (("--container", "gray-crate"), f'did you mean "{CRATE.id}"'),
        (("--build", "x"), 'the plan has no build "x"'),
        (("--container", CRATE.id, "--layer", "99"), "--layer 99"),
        (("--container", CRATE.id, "--step", "1"), "--step with --build"),
        (("--build", BUILD.id, "--layer", "1"), "--layer goes with --container"),
        (("--build", BUILD.id, "--step", "9999"), str(JOIN.n)),
        (("--build", BUILD.id, "-o", "build.obj"), "name it .glb"),
    ],
)
def test_what_cannot_be_exported_is_said(
    plan_file: Path, words: tuple[str, ...], told: str
) -> None:
    """Exit status 2, and what to say instead."""
    status, said = run(plan_file, *words)
    assert status == 2
    assert told in said
