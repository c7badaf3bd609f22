"""The plan file: a plan as JSON, its schema, and what can be wrong with it."""

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from packdown.errors import InputError, Problem
from packdown.files.atomic import write_text
from packdown.files.documents import document_json, parse_document, readable, schema_of
from packdown.files.place import Place
from packdown.files.table import read_text
from packdown.model import Plan, Step

__all__ = [
    "parse_plan",
    "plan_json",
    "plan_schema",
    "read_plan",
    "steps_json",
    "write_plan",
    "write_schema",
]


@cache
def _adapter() -> TypeAdapter[Plan]:
    return TypeAdapter(Plan)


def plan_json(plan: Plan) -> str:
    """Return a plan as the text of a plan file; the same plan gives the same text."""
    return document_json(_adapter(), plan)


def steps_json(steps: Mapping[str, tuple[Step, ...]]) -> str:
    """Return lists of steps by name as JSON, with the fields of the plan file."""
    adapter = TypeAdapter(dict[str, tuple[Step, ...]])
    return readable(adapter.dump_json(dict(steps), by_alias=True, indent=1).decode())


def write_plan(plan: Plan, path: Path) -> None:
    """Write a plan file in one step: at no instant is the old file lost or the new one partial.

    Raises
    ------
    UsageError
        If the file cannot be written.
    """
    write_text(plan_json(plan) + "\n", path)


def read_plan(path: Path) -> Plan:
    """Read a plan file.

    Raises
    ------
    InputError
        If the file is no plan this version can read, with everything that is wrong in it.
    """
    found: list[Problem] = []
    text = read_text(path, Place(path.name, found))
    if text is None:
        raise InputError(found)
    return parse_plan(text, path.name)


def parse_plan(text: str, name: str) -> Plan:
    """Return the plan that the text of a plan file stands for.

    Parameters
    ----------
    text
        The text.
    name
        What to call it where something is wrong with it.

    Raises
    ------
    InputError
        As for `read_plan`.
    """
    return parse_document(_adapter(), text, name, "plan")


def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema of the plan file, version 1; unknown fields are not allowed."""
    return schema_of(_adapter())


def write_schema(path: Path) -> None:
    """Write the schema as the file ``plan.schema.json`` that ships with the program."""
    write_text(json.dumps(plan_schema(), indent=1) + "\n", path)
