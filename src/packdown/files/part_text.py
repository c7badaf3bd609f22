"""Entries of parts.toml as text."""

import json
import re
from collections.abc import Iterable, Mapping

from packdown.geometry import Cuboid
from packdown.units import format_length

__all__ = ["Entry", "cuboid_tables", "part_text", "short_name", "toml_value"]

Entry = Mapping[str, object]
_LONG = 96
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_NAME = re.compile(r"[^\w-]+")


def short_name(words: str) -> str:
    """Make a short name of letters, digits, - and _ from any words.

    >>> short_name("Wall (2 x 1), left.v3")
    'wall-2-x-1-left-v3'
    """
    name = _NAME.sub("-", words.strip().casefold()).strip("-")
    return name or "part"


def cuboid_tables(solid: Iterable[Cuboid]) -> list[dict[str, list[str]]]:
    """Return cuboids as the tables with ``from`` and ``to`` that a file holds."""
    return [
        {
            "from": [format_length(at) for at in cuboid[:3]],
            "to": [format_length(at) for at in cuboid[3:]],
        }
        for cuboid in solid
    ]


def part_text(
    part: str, entry: Entry, remarks: Mapping[str, str] | None = None, kind: str = "parts"
) -> str:
    """Return one part as the text of a table of parts.toml.

    Parameters
    ----------
    part
        Its id.
    entry
        Keys and values, as the file holds them.
    remarks
        What to say behind the lines of some keys.
    kind
        The name of the tables; sets are written in the same way.
    """
    lines = [f"[{kind}.{_key(part)}]"]
    for key, value in entry.items():
        line = f"{key} = {toml_value(value)}"
        if len(line) > _LONG and isinstance(value, list) and isinstance(value[0], dict):
            line = "\n".join([f"{key} = [", *(f"  {toml_value(each)}," for each in value), "]"])
        remark = (remarks or {}).get(key)
        lines.append(f"{line}  # {remark}" if remark else line)
    return "\n".join(lines) + "\n"


def _key(name: str) -> str:
    return name if _BARE.fullmatch(name) else toml_value(name)


def toml_value(value: object) -> str:
    """Return a value as TOML, in one line."""
    if isinstance(value, dict):
        inside = ", ".join(f"{_key(str(key))} = {toml_value(each)}" for key, each in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(toml_value(each) for each in value) + "]"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return json.dumps(value)
