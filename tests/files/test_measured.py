"""Strength from readings of a scale, worked out by hand."""

import doctest
from pathlib import Path
from typing import Any

import pint
import pytest

from packdown.files import measured, read_workspace
from packdown.files.measured import bend, hold
from packdown.files.place import Place
from packdown.model import JointKind
from support.workspaces import altered, write


def problems(value: object, reader: object) -> list[str]:
    """Return what a reader says about a value."""
    place = Place("packdown.toml", [])
    reader(value, place)  # type: ignore[operator]
    return [problem.message for problem in place.found]


def test_half_of_the_least_pull_counts() -> None:
    """2.4 kg on two keys: 1.2 kg each, of which 600 g are relied on."""
    place = Place("packdown.toml", [])
    assert hold({"read": ["2.6 kg", "2.4 kg", "3 kg"], "connections": 2}, place) == 600
    assert hold({"read": "1.6 kg"}, place) == 800
    assert hold("1.2 kg", place) == 1_200
    assert not place.found


@pytest.mark.parametrize(
    ("grams", "lever_mm", "keys"), [(150, 64, 2), (190, 50, 1), (1_234, 128, 4)]
)
def test_a_moment_is_force_times_lever(grams: int, lever_mm: int, keys: int) -> None:
    """The conversion agrees with a general library of units, rounded down to millinewton-metres."""
    units: Any = pint.UnitRegistry()
    moment = grams * units.gram_force * lever_mm * units.mm / keys / 2
    value = {"read": f"{grams} g", "lever": f"{lever_mm} mm", "connections": keys}
    found = bend(value, Place("packdown.toml", []))
    assert found == int(moment.to("mN * m").magnitude)


def test_the_example_of_the_guide() -> None:
    """The worked example beside the reader is right."""
    assert doctest.testmod(measured).failed == 0
    assert doctest.testmod(measured).attempted == 2


def test_readings_reach_the_joints(tmp_path: Path) -> None:
    """Two keys between two slabs bear twice the 23 mN m of one; a stated figure still holds."""
    table = '[bends]\nkeyed = { read = ["160 g", "150 g"], lever = "64 mm", connections = 2 }\n'
    found = read_workspace(write(tmp_path, altered("packdown.toml", "[key]", f"{table}[key]")))
    assert found.settings.bends_mnm[JointKind.KEYED] == 23
    joints = [joint for build in found.builds for joint in build.joints]
    assert {j.bends_mnm for j in joints if j.kind is JointKind.KEYED and j.connections == 2} == {46}


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ({"read": "150 g"}, "is missing"),
        ({"read": [], "lever": "64 mm"}, "at least 1"),
        ({"read": "150 g", "lever": "64 mm", "conections": 2}, "unknown key"),
        ({"read": "150 g", "lever": "64 mm", "connections": 0}, "from 1"),
        ({"read": "0 g", "lever": "64 mm"}, "above 0"),
        ("much", "a number from 0"),
    ],
)
def test_wrong_readings_are_told(value: object, says: str) -> None:
    """What is wrong is said, and reading goes on."""
    assert any(says in message for message in problems(value, bend)), problems(value, bend)
