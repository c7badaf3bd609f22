"""An empty workspace explains itself, and its examples are right."""

import re
from pathlib import Path

import pytest

from packdown.errors import UsageError
from packdown.files import event_names, new_workspace, read_workspace
from packdown.model import Grade, JointKind
from support.workspaces import problems_in


def activate(folder: Path) -> None:
    """Take away the # of every example; lines that explain have # and one blank."""
    for path in folder.rglob("*"):
        if path.is_file():
            text = path.read_text(encoding="utf-8")
            path.write_text(re.sub(r"^#(?! \S)", "", text, flags=re.MULTILINE), encoding="utf-8")


def test_an_empty_workspace_lacks_only_its_collection(tmp_path: Path) -> None:
    """As it is, the one problem is that there is nothing to pack."""
    new_workspace(tmp_path / "mine")
    (problem,) = problems_in(tmp_path / "mine")
    assert "the collection is empty" in problem.message
    assert event_names(tmp_path / "mine") == ()


def test_the_examples_are_a_workspace(tmp_path: Path) -> None:
    """With all examples in use it has all three kinds of build and reads without a problem."""
    new_workspace(tmp_path)
    activate(tmp_path)
    workspace = read_workspace(tmp_path)
    assert [build.grade for build in workspace.builds] == [
        Grade.PLACED,
        Grade.PLACED,
        Grade.UNITS,
        Grade.MEASURED,
    ]
    kinds = {joint.kind for build in workspace.builds for joint in build.joints}
    assert kinds == set(JointKind)
    assert {container.id for container in workspace.containers} == {
        "blue",
        "top-drawer",
        "low-drawer",
    }
    assert workspace.loose
    assert workspace.keep_together
    assert workspace.keep_apart


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path) -> None:
    """Nothing is written where anything could be overwritten."""
    (tmp_path / "note.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(UsageError, match="is not empty"):
        new_workspace(tmp_path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["note.txt"]


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    """The user is told that it cannot be made."""
    (tmp_path / "note").write_text("mine", encoding="utf-8")
    with pytest.raises(UsageError, match="cannot be made"):
        new_workspace(tmp_path / "note")
