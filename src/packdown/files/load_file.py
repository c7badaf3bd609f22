"""The load file: a loaded vehicle as JSON, and its schema."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from packdown.errors import InputError, Problem
from packdown.files.atomic import write_text
from packdown.files.documents import document_json, parse_document, schema_of
from packdown.files.place import Place
from packdown.files.table import read_text
from packdown.model import Loading

__all__ = ["is_load", "load_json", "load_schema", "read_load", "write_load", "write_load_schema"]


@cache
def _adapter() -> TypeAdapter[Loading]:
    return TypeAdapter(Loading)


def is_load(path: Path) -> bool:
    """Whether a file says of itself that it holds a load, whatever else may be wrong with it."""
    try:
        data = json.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(data, dict) and data.get("format") == "packdown-load"


def load_json(loading: Loading) -> str:
    """Return a load as the text of a load file; the same load gives the same text."""
    return document_json(_adapter(), loading)


def write_load(loading: Loading, path: Path) -> None:
    """Write a load file in one step.

    Raises
    ------
    UsageError
        If the file cannot be written.
    """
    write_text(load_json(loading) + "\n", path)


def read_load(path: Path) -> Loading:
    """Read a load file.

    Raises
    ------
    InputError
        If the file is no load this version can read, with everything that is wrong in it.
    """
    found: list[Problem] = []
    text = read_text(path, Place(path.name, found))
    if text is None:
        raise InputError(found)
    return parse_document(_adapter(), text, path.name, "load")


def load_schema() -> dict[str, Any]:
    """Return the JSON Schema of the load file, version 1; unknown fields are not allowed."""
    return schema_of(_adapter())


def write_load_schema(path: Path) -> None:
    """Write the schema as the file ``load.schema.json`` that ships with the program."""
    write_text(json.dumps(load_schema(), indent=1) + "\n", path)
