"""JSON documents of frozen data: plans and loads, their schemas, and what is wrong with them."""

import json
import re
from math import isfinite
from typing import Any, NoReturn, TypeVar

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from packdown.errors import InputError, Problem
from packdown.files.place import ABSENT, Place, show

__all__ = ["document_json", "parse_document", "readable", "schema_of"]

T = TypeVar("T")

VERSION = 1
_NUMBERS = re.compile(r"\[\n\s+(-?[\d.]+(?:,\n\s+-?[\d.]+)*)\n\s+\]")
_MESSAGES = {
    "missing": "is missing",
    "too_long": "has too many values",
    "unexpected_keyword_argument": "unknown field",
}
_GAP = re.compile(r",\n\s+")


def document_json(adapter: TypeAdapter[T], value: T) -> str:
    """Return data as the text of a document; the same data give the same text."""
    return readable(adapter.dump_json(value, by_alias=True, indent=1).decode())


def parse_document(adapter: TypeAdapter[T], text: str, name: str, kind: str) -> T:
    """Return the data that the text of a document stands for.

    Parameters
    ----------
    adapter
        Of the type of the data.
    text
        The text.
    name
        What to call it where something is wrong with it.
    kind
        What it is, such as ``plan``; its format is ``packdown-plan``.

    Raises
    ------
    InputError
        With everything that is wrong in it.
    """
    found: list[Problem] = []
    place = Place(name, found)
    _check_head(text, place, kind)
    if found:
        raise InputError(found)
    try:
        return adapter.validate_json(text, strict=True, extra="forbid", by_alias=True)
    except ValidationError as error:
        for details in error.errors(include_url=False):
            _report(details, place)
        raise InputError(found) from error


def schema_of(adapter: TypeAdapter[T]) -> dict[str, Any]:
    """Return the JSON Schema of a document; unknown fields are not allowed."""
    schema = adapter.json_schema(by_alias=True)
    for definition in (schema, *schema["$defs"].values()):
        if definition["type"] == "object":
            definition["additionalProperties"] = False
        if "description" in definition:
            definition["description"] = definition["description"].partition("\n")[0]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def readable(text: str) -> str:
    """Put lists of numbers on one line; a line break cannot occur inside JSON strings."""
    return _NUMBERS.sub(lambda match: f"[{_GAP.sub(', ', match[1])}]", text)


def _check_head(text: str, place: Place, kind: str) -> None:
    """Report what is no JSON, no such document, or one of a later version."""
    try:
        data = json.loads(text, parse_constant=_refuse, parse_float=_finite)
    except json.JSONDecodeError as error:
        end = text.rstrip()
        cut = error.pos >= len(end) or (end[0] == "{" and end[-1] != "}")
        what = "the file is cut short" if cut else f"is not JSON: {error.msg}"
        place.at(f"line {error.lineno}").report(what, f"make the {kind} again" if cut else "")
        return
    except RecursionError:
        place.report("is nested too deeply")
        return
    except ValueError as error:
        place.report(f"is not JSON: {error}")
        return
    if not isinstance(data, dict) or data.get("format") != f"packdown-{kind}":
        place.at("format").report(f'is no {kind} file: expected "format": "packdown-{kind}"')
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
