"""Values as the text of a TOML file, and tables put into a file in place of others."""

import json
import re
import tomllib
from collections.abc import Mapping, Sequence

from packdown.errors import UsageError

__all__ = ["entry_text", "key_text", "replaced", "toml_text"]

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def toml_text(value: object) -> str:
    """Return a value as TOML on one line.

    >>> toml_text({"id": "w", "at": [1, "5 mm"], "turn": 90, "glued": True})
    '{ id = "w", at = [1, "5 mm"], turn = 90, glued = true }'
    """
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Mapping):
        inside = ", ".join(f"{key_text(str(k))} = {toml_text(v)}" for k, v in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, Sequence):
        return f"[{', '.join(map(toml_text, value))}]"
    return f"{value}"


def key_text(key: str) -> str:
    """Return a key as TOML.

    >>> key_text("wall-2"), key_text("ä")
    ('wall-2', '"ä"')
    """
    return key if _BARE.fullmatch(key) else toml_text(key)


def entry_text(table: str, name: str, entry: Mapping[str, object]) -> str:
    """Return a table of a file: lists of tables take a line for each, as does all else."""
    lines = [f"[{table}.{key_text(name)}]"]
    for key, value in entry.items():
        if isinstance(value, list) and value and isinstance(value[0], Mapping):
            rows = [f"    {toml_text(each)}," for each in value]
            lines += [f"{key_text(key)} = [", *rows, "]"]
        elif isinstance(value, str) and "\n" in value and "'''" not in value:
            lines += [f"{key_text(key)} = '''", value.rstrip("\n"), "'''"]
        else:
            lines.append(f"{key_text(key)} = {toml_text(value)}")
    return "".join(f"{line}\n" for line in lines)


def replaced(text: str, table: str, name: str, entry: str) -> str:
    """Return a file with one of its tables written anew; all else stays as it is.

    Parameters
    ----------
    text
        The file.
    table, name
        The table ``[table.name]``.
    entry
        Its new text.

    Raises
    ------
    UsageError
        If the table has no heading of its own, so that it cannot be told where it ends.
    """
    keys = rf"(?:{re.escape(name)}|\"{re.escape(name)}\"|'{re.escape(name)}')"
    heading = re.compile(rf"^[ \t]*\[[ \t]*{table}[ \t]*\.[ \t]*{keys}[ \t]*\].*$", re.MULTILINE)
    own = rf"[ \t]*{table}[ \t]*\.[ \t]*{keys}[ \t]*\."
    following = re.compile(rf"^[ \t]*\[{{1,2}}(?!{own})", re.MULTILINE)
    found = heading.search(text)
    refused = UsageError(
        f'The build "{name}" cannot be told from the rest of its file.',
        hint=f"give it a heading [{table}.{name}] of its own, or put the text there by hand",
    )
    if not found:
        raise refused
    end = following.search(text, found.end())
    tail = text[end.start() :] if end else ""
    gap = "\n" if tail else ""
    whole = text[: found.start()] + entry + gap + tail
    wanted = tomllib.loads(text)
    wanted[table][name] = tomllib.loads(entry)[table][name]
    try:
        right = tomllib.loads(whole) == wanted
    except tomllib.TOMLDecodeError:
        right = False
    if not right:
        raise refused
    return whole
