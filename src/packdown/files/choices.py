"""Figures of several plans to choose from, as ``packdown trade-off --json`` prints them."""

from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from packdown.errors import InputError, Problem
from packdown.files.place import Place
from packdown.files.table import read_text
from packdown.model import Choice

__all__ = ["read_choices"]

HINT = "make it anew: packdown trade-off --json"


def read_choices(path: Path) -> tuple[Choice, ...]:
    """Read the figures of plans to choose from.

    Parameters
    ----------
    path
        A file that holds what ``packdown trade-off --json`` printed.

    Raises
    ------
    InputError
        If it holds anything else, with everything that is wrong in it.
    """
    found: list[Problem] = []
    place = Place(path.name, found)
    text = read_text(path, place)
    if text is None:
        raise InputError(found)
    try:
        return TypeAdapter(tuple[Choice, ...]).validate_json(text, strict=True, extra="forbid")
    except ValidationError as error:
        for details in error.errors(include_url=False):
            entry = place
            for step in details["loc"]:
                entry = entry.at(step)
            entry.report(details["msg"][:1].lower() + details["msg"][1:], HINT)
        raise InputError(found) from error
