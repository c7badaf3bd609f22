"""Load files: written, read back, described by a schema that ships, and refused if broken."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from packdown.data import data_folder
from packdown.errors import InputError
from packdown.files import (
    is_load,
    load_json,
    load_schema,
    read_load,
    write_load,
    write_load_schema,
)
from packdown.geometry import Cuboid
from packdown.planning.loading import load
from support.loads import box, vehicle

ARCHED = replace(vehicle(), blocked_um=(Cuboid(0, 0, 0, 50_000, 100_000, 200_000),))
LOADING = load(ARCHED, [box("a", 6_000), box("b", 160_000)], effort=1)


def test_a_load_is_read_back_as_it_was(tmp_path: Path) -> None:
    """Nothing is lost, and the text is the same each time."""
    path = tmp_path / "load.json"
    write_load(LOADING, path)
    assert read_load(path) == LOADING
    assert is_load(path)
    assert load_json(read_load(path)) + "\n" == path.read_text(encoding="utf-8")


def test_the_schema_that_ships_is_that_of_the_load(tmp_path: Path) -> None:
    """After a change of the load, `write_load_schema` has to be run."""
    write_load_schema(tmp_path / "schema.json")
    shipped = data_folder("shared") / "load.schema.json"
    assert shipped.read_bytes() == (tmp_path / "schema.json").read_bytes()
    assert json.loads(shipped.read_text(encoding="utf-8")) == load_schema()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "the file is cut short"),
        ('{"format": "packdown-plan", "version": 1}', "is no load file"),
        ('{"format": "packdown-load", "version": 2}', "made by a later Packdown"),
        ('{"format": "packdown-load", "version": 1}', "is missing"),
    ],
)
def test_what_is_no_load_is_refused(tmp_path: Path, text: str, words: str) -> None:
    """The reason is told."""
    path = tmp_path / "load.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=words):
        read_load(path)


def test_an_unknown_field_is_refused(tmp_path: Path) -> None:
    """Anything else would be lost in silence."""
    data = json.loads(load_json(LOADING))
    data["space"]["colour"] = "red"
    path = tmp_path / "load.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    with pytest.raises(InputError, match=r"space\.colour: unknown field"):
        read_load(path)
