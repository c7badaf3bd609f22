"""The plan file: a plan as JSON, its schema, and what can be wrong with it."""

import json
import re
from collections.abc import Mapping
from functools import cache
from math import isfinite
from pathlib import Path
from typing import Any, NoReturn

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from packdown.errors import InputError, Problem
from packdown.files.atomic import write_text
from packdown.files.place import ABSENT, Place, show
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

FORMAT = "packdown-plan"
VERSION = 1
_NUMBERS = re.compile(r"\[\n\s+(-?[\d.]+(?:,\n\s+-?[\d.]+)*)\n\s+\]")
_MESSAGES = {
    "missing": "is missing",
    "too_long": "has too many values",
    "unexpected_keyword_argument": "unknown field",
}
_GAP = re.compile(r",\n\s+")


@cache
def _adapter() -> TypeAdapter[Plan]:
    return TypeAdapter(Plan)


def plan_json(plan: Plan) -> str:
    """Return a plan as the text of a plan file; the same plan gives the same text."""
    return _readable(_adapter().dump_json(plan, by_alias=True, indent=1).decode())


def steps_json(steps: Mapping[str, tuple[Step, ...]]) -> str:
    """Return lists of steps by name as JSON, with the fields of the plan file."""
    adapter = TypeAdapter(dict[str, tuple[Step, ...]])
    return _readable(adapter.dump_json(dict(steps), by_alias=True, indent=1).decode())


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
    found: list[Problem] = []
    place = Place(name, found)
    _check_head(text, place)
    if found:
        raise InputError(found)
    try:
        return _adapter().validate_json(text, strict=True, extra="forbid", by_alias=True)
    except ValidationError as error:
        for details in error.errors(include_url=False):
            _report(details, place)
        raise InputError(found) from error


def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema of the plan file, version 1; unknown fields are not allowed."""
    schema = _adapter().json_schema(by_alias=True)
    for definition in (schema, *schema["$defs"].values()):
        if definition["type"] == "object":
            definition["additionalProperties"] = False
        if "description" in definition:
            definition["description"] = definition["description"].partition("\n")[0]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def write_schema(path: Path) -> None:
    """Write the schema as the file ``plan.schema.json`` that ships with the program."""
    write_text(json.dumps(plan_schema(), indent=1) + "\n", path)


def _readable(text: str) -> str:
    """Put lists of numbers on one line; a line break cannot occur inside JSON strings."""
    return _NUMBERS.sub(lambda match: f"[{_GAP.sub(', ', match[1])}]", text)


def _check_head(text: str, place: Place) -> None:
    """Report what is no JSON, no plan, or a plan of a later version."""
    try:
        data = json.loads(text, parse_constant=_refuse, parse_float=_finite)
    except json.JSONDecodeError as error:
        end = text.rstrip()
        cut = error.pos >= len(end) or (end[0] == "{" and end[-1] != "}")
        what = "the file is cut short" if cut else f"is not JSON: {error.msg}"
        place.at(f"line {error.lineno}").report(what, "make the plan again" if cut else "")
        return
    except RecursionError:
        place.report("is nested too deeply")
        return
    except ValueError as error:
        place.report(f"is not JSON: {error}")
        return
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        place.at("format").report(f'is no plan file: expected "format": "{FORMAT}"')
        return
    version = data.get("version", ABSENT)
    if not isinstance(version, int) or isinstance(version, bool) or version < VERSION:
        place.at("version").expected(f"{VERSION}", version)
    elif version > VERSION:
        place.at("version").report(
            f"made by a later Packdown: version {version}", "update Packdown"
        )


def _refuse(constant: str) -> NoReturn:
    raise ValueError(f"{constant} is no number")


def _finite(text: str) -> float:
    return float(text) if isfinite(float(text)) else _refuse(text)


def _report(details: ErrorDetails, place: Place) -> None:
    for step in details["loc"]:
        place = place.at(step)
    kind, message = details["type"], details["msg"]
    if kind in _MESSAGES:
        place.report(_MESSAGES[kind])
    elif kind == "value_error":
        place.report(str(details["ctx"]["error"]))
    else:
        place.report(f"{message[0].lower()}{message[1:]}, not {show(details['input'])}")
