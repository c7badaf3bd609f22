"""Adding parts or sets to a file of a workspace without touching what else it says."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from packdown.errors import InputError, Problem, UsageError
from packdown.files.part_text import Entry
from packdown.files.place import Place
from packdown.files.table import read_text

__all__ = ["Added", "NewPart", "add_parts"]

_TABLE = re.compile(r"^\s*\[")


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPart:
    """A part to add.

    Parameters
    ----------
    entry
        Its keys and values.
    text
        The same as text of the file.
    """

    entry: Entry
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """What adding parts makes of a file.

    Parameters
    ----------
    path, text
        The file, and its whole text afterwards.
    new, changed, same
        Ids of parts that were not there, that are replaced, and that say the same already.
    kept
        Ids of parts that say something else and are left as they are.
    """

    path: Path
    text: str
    new: tuple[str, ...]
    changed: tuple[str, ...]
    same: tuple[str, ...]
    kept: tuple[str, ...]


def add_parts(
    path: Path, parts: Mapping[str, NewPart], *, replace: bool = False, kind: str = "parts"
) -> Added:
    """Add parts to the end of a parts.toml, or put them in the place of what it says of them.

    Nothing is written. Comments and everything else in the file stay as they are. With another
    kind, such as ``sets``, the file holds tables of that name instead.

    Raises
    ------
    InputError
        If the file cannot be read.
    UsageError
        If a part cannot be replaced because of how the file is written.
    """
    before = _text(path)
    known = _parts(before, path, kind)
    new = [part for part in parts if part not in known]
    same = [part for part in parts if part in known and known[part] == parts[part].entry]
    others = [part for part in parts if part in known and part not in same]
    text = before
    for part in others if replace else ():
        text = _put(text, part, parts[part].text, path, kind)
    for part in new:
        text = f"{text.rstrip()}\n\n{parts[part].text}" if text.strip() else parts[part].text
    changed = others if replace else []
    wanted = {**known, **{part: parts[part].entry for part in [*new, *changed]}}
    if _parts(text, path, kind) != wanted:
        raise UsageError(
            f"{path.name} is written in a way that parts cannot be added to",
            hint="add them by hand: write them to a file with -o first",
        )
    return Added(
        path=path,
        text=text,
        new=tuple(new),
        changed=tuple(changed),
        same=tuple(same),
        kept=() if replace else tuple(others),
    )


def _text(path: Path) -> str:
    if not path.exists():
        return ""
    found: list[Problem] = []
    text = read_text(path, Place(path.name, found))
    if text is None:
        raise InputError(found)
    return text.replace("\r\n", "\n")


def _parts(text: str, path: Path, kind: str) -> dict[str, Entry]:
    try:
        parts = tomllib.loads(text).get(kind, {})
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        problem = Problem(file=path.name, entry="", message=f"is not TOML: {error}")
        raise InputError([problem]) from error
    return dict(parts) if isinstance(parts, dict) else {}


def _put(text: str, part: str, new: str, path: Path, kind: str) -> str:
    """Put other lines in the place of the table of a part."""
    lines = text.split("\n")
    head = re.compile(rf"^\s*\[\s*{kind}\s*\.\s*[\"']?{re.escape(part)}[\"']?\s*\]")
    starts = [number for number, line in enumerate(lines) if head.match(line)]
    if len(starts) != 1:
        raise UsageError(f"{part} in {path.name} cannot be replaced", hint="change it by hand")
    start = starts[0]
    end = start + 1
    while end < len(lines) and not _TABLE.match(lines[end]):
        end += 1
    while end > start + 1 and (not lines[end - 1].strip() or lines[end - 1].startswith("#")):
        end -= 1
    return "\n".join([*lines[:start], *new.rstrip("\n").split("\n"), *lines[end:]])
