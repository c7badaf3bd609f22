"""Plan files: what is written is read again, and what is wrong is said."""

import json
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdown.data import data_folder
from packdown.errors import InputError, UsageError
from packdown.files import (
    plan_json,
    plan_schema,
    read_plan,
    steps_json,
    write_plan,
    write_schema,
    write_text,
)
from packdown.geometry import Cuboid, WayUp
from packdown.model import NotPacked, Piece, Plan, Prefer
from support.plans import GOOD

LENGTHS = st.integers(-(10**9), 10**9)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
CUBOIDS = st.lists(st.builds(Cuboid, *[LENGTHS] * 6), min_size=1, max_size=4).map(tuple)
PIECES = st.builds(
    Piece,
    id=TEXTS,
    part=TEXTS,
    name=TEXTS,
    build=st.none() | TEXTS,
    weight_g=st.integers(1, 10**6),
    cuboids_um=CUBOIDS,
    core_um=CUBOIDS,
    ways_up=st.lists(st.sampled_from(WayUp), unique=True).map(tuple),
    carry_limit_g=st.none() | st.integers(0, 10**6),
    magnets=st.integers(0, 99),
    contains=st.lists(st.tuples(TEXTS, st.integers(1, 99)), max_size=3).map(tuple),
)


@pytest.fixture(name="read_text")
def reader_of_text(tmp_path: Path) -> Callable[[str], Plan]:
    """Return a function that reads a plan from text."""

    def read(text: str) -> Plan:
        path = tmp_path / "plan.json"
        path.write_text(text, encoding="utf-8")
        return read_plan(path)

    return read


def altered(alter: Callable[[dict[str, Any]], object]) -> str:
    """Return the good plan as JSON with a change in it."""
    data = json.loads(plan_json(GOOD))
    alter(data)
    return json.dumps(data)


def test_what_is_written_is_read_again(tmp_path: Path) -> None:
    """The plan made by hand comes back equal."""
    path = tmp_path / "plan.json"
    write_plan(GOOD, path)
    assert read_plan(path) == GOOD


@given(
    pieces=st.lists(PIECES, max_size=3).map(tuple),
    workspace=TEXTS,
    seed=st.integers(0, 2**63),
    prefer=st.sampled_from(Prefer),
    not_packed=st.lists(st.builds(NotPacked, item=TEXTS, reason=TEXTS), max_size=2).map(tuple),
    support=st.floats(0, 1),
)
def test_any_plan_is_read_again(
    tmp_path_factory: pytest.TempPathFactory,
    support: float,
    **changes: Any,  # noqa: ANN401
) -> None:
    """Whatever stands in its texts and numbers, a plan comes back equal."""
    box = GOOD.containers[0]
    fill = (replace(box.fill[0], support=support), *box.fill[1:])
    plan = replace(GOOD, containers=(replace(box, fill=fill),), **changes)
    path = tmp_path_factory.mktemp("plan") / "plan.json"
    write_plan(plan, path)
    assert read_plan(path) == plan


def test_the_same_plan_gives_the_same_text() -> None:
    """Writing adds nothing of its own, such as a date."""
    assert plan_json(GOOD) == plan_json(replace(GOOD))
    assert json.loads(plan_json(GOOD))["steps"]["take_down"][0]["from"] == "table"


def test_numbers_of_a_cuboid_stand_on_one_line() -> None:
    """The file can be read by people too; text that looks like a list is left alone."""
    text = "[\n  1,\n  2\n]"
    plan = replace(GOOD, workspace=text)
    assert json.loads(plan_json(plan))["workspace"] == text
    assert "[0, 0, 0, 64000, 64000, 8000]" in plan_json(plan)


def test_steps_alone_have_the_fields_of_the_plan() -> None:
    """Lists of steps are written as the plan file has them."""
    steps = json.loads(steps_json({"rebuild": GOOD.steps.rebuild}))
    assert steps == {"rebuild": json.loads(plan_json(GOOD))["steps"]["rebuild"]}


@pytest.mark.parametrize("share", [0.02, 0.3, 0.7, 0.99])
def test_a_file_cut_short(read_text: Callable[[str], Plan], share: float) -> None:
    """The line at which it ends is named."""
    whole = plan_json(GOOD)
    text = whole[: int(len(whole) * share)]
    with pytest.raises(InputError, match="cut short") as caught:
        read_text(text)
    assert caught.value.problems[0].entry.startswith("line ")
    assert int(caught.value.problems[0].entry[5:]) >= text.rstrip().count("\n") - 1


# text of the file, entry of the only problem, words of its text
@pytest.mark.parametrize(
    ("text", "entry", "words"),
    [
        ('{\n"format": packdown}', "line 2", "is not JSON: Expecting value"),
        ("", "line 1", "the file is cut short"),
        ("[]", "format", 'is no plan file: expected "format": "packdown-plan"'),
        ('{"format": "packing-list"}', "format", "is no plan file"),
        (altered(lambda p: p.update(version=2)), "version",
         "made by a later Packdown: version 2 (update Packdown)"),
        (altered(lambda p: p.update(version="1")), "version", "expected 1, not '1'"),
        (altered(lambda p: p.pop("version")), "version", "is missing; expected 1"),
        (altered(lambda p: p.pop("steps")), "steps", "is missing"),
        (altered(lambda p: p["pieces"][1].update(wieght_g=1)), "pieces[1].wieght_g",
         "unknown field"),
        (altered(lambda p: p["pieces"][1].update(weight_g="40")), "pieces[1].weight_g",
         "input should be a valid integer, not '40'"),
        (altered(lambda p: p["pieces"][1].update(weight_g=True)), "pieces[1].weight_g",
         "not True"),
        (altered(lambda p: p["pieces"][1].update(weight_g=4.5)), "pieces[1].weight_g",
         "not 4.5"),
        (altered(lambda p: p["pieces"][0]["ways_up"].append("sideways")), "pieces[0].ways_up[6]",
         "not 'sideways'"),
        (altered(lambda p: p["containers"][0]["fill"][0]["cuboids_um"][0].pop()),
         "containers[0].fill[0].cuboids_um[0][5]", "is missing"),
        (altered(lambda p: p["containers"][0]["fill"][0]["cuboids_um"][0].append(1)),
         "containers[0].fill[0].cuboids_um[0]", "has too many values"),
        (altered(lambda p: p["items"][0].update(tender=[99])), "items[0]",
         "tender names a cuboid it has not"),
        (plan_json(GOOD).replace('"support": 1.0', '"support": NaN'), "", "NaN is no number"),
        (plan_json(GOOD).replace('"support": 1.0', '"support": 1e999'), "", "1e999 is no number"),
        ("[" * 100_000, "", "is nested too deeply"),
    ],
)  # fmt: skip
def test_what_is_no_plan(
    read_text: Callable[[str], Plan], text: str, entry: str, words: str
) -> None:
    """One slip, one problem, with the file and the path of the entry."""
    with pytest.raises(InputError) as caught:
        read_text(text)
    assert [(p.file, p.entry) for p in caught.value.problems] == [("plan.json", entry)]
    assert words in str(caught.value)
    assert caught.value.exit_code == 2


def test_all_problems_of_a_plan_come_at_once(read_text: Callable[[str], Plan]) -> None:
    """Three slips are three problems."""

    def alter(plan: dict[str, Any]) -> None:
        plan["prefer"] = "both"
        plan["rules"].pop("place_s")
        plan["builds"][0]["proved"] = "yes"

    with pytest.raises(InputError) as caught:
        read_text(altered(alter))
    assert {problem.entry for problem in caught.value.problems} == {
        "prefer",
        "rules.place_s",
        "builds[0].proved",
    }


def test_a_plan_that_is_not_there(tmp_path: Path) -> None:
    """The file is named."""
    with pytest.raises(InputError, match=r"gone\.json: cannot be read"):
        read_plan(tmp_path / "gone.json")


def test_the_schema_that_ships_is_that_of_the_plan(tmp_path: Path) -> None:
    """After a change of the plan, `write_schema` has to be run."""
    write_schema(tmp_path / "schema.json")
    shipped = data_folder("shared") / "plan.schema.json"
    assert shipped.read_bytes() == (tmp_path / "schema.json").read_bytes()
    assert json.loads(shipped.read_text(encoding="utf-8")) == plan_schema()


def test_the_schema_names_every_field_and_no_other() -> None:
    """Each object of the schema has the fields that the plan has, and allows no more."""
    schema = plan_schema()
    data = json.loads(plan_json(GOOD))
    assert set(schema["properties"]) == set(data)
    step, placement = schema["$defs"]["Step"], schema["$defs"]["Placement"]
    assert set(step["properties"]) == set(data["steps"]["rebuild"][0])
    assert set(placement["properties"]) == set(data["containers"][0]["fill"][0])
    objects = [d for d in schema["$defs"].values() if d["type"] == "object"]
    assert all(definition["additionalProperties"] is False for definition in objects)


def test_writing_replaces_the_file_and_leaves_nothing_else(tmp_path: Path) -> None:
    """The new text is there, whole, with the permissions of the old file."""
    path = tmp_path / "note.txt"
    write_text("old", path)
    path.chmod(0o640)
    write_text("naïve\n", path)
    assert path.read_bytes() == "naïve\n".encode()
    assert path.stat().st_mode & 0o777 == 0o640
    assert [entry.name for entry in tmp_path.iterdir()] == ["note.txt"]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_while_writing_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """If the disk fails before the end, the old file is whole and nothing is left behind."""
    path = tmp_path / "note.txt"
    write_text("old", path)

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os if step == "fsync" else Path, step, fail)
    with pytest.raises(UsageError, match="No space left on device"):
        write_text("new", path)
    assert path.read_text(encoding="utf-8") == "old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["note.txt"]


def test_the_new_file_is_on_the_disk_before_the_old_one_goes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The text is synced, then put in place, then the folder is synced."""
    calls: list[str] = []
    sync, swap = os.fsync, Path.replace

    def fsync(handle: int) -> None:
        calls.append("fsync")
        sync(handle)

    def replaced(self: Path, target: Path) -> Path:
        calls.append(self.read_text(encoding="utf-8"))
        return swap(self, target)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "replace", replaced)
    write_text("new", tmp_path / "note.txt")
    assert calls == ["fsync", "new", "fsync"]


def test_writing_into_no_folder(tmp_path: Path) -> None:
    """The user is told which file cannot be written."""
    with pytest.raises(UsageError, match="cannot be written"):
        write_text("new", tmp_path / "nowhere" / "note.txt")
