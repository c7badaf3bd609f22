"""What a table would change in a workspace."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from packdown.errors import Problem
from packdown.files.adding import Added, NewPart, add_parts
from packdown.files.count_text import ChangedCounts, change_counts
from packdown.files.part_text import part_text
from packdown.files.parts import read_part, written_parts
from packdown.files.place import Place
from packdown.files.table import Table
from packdown.tables.understanding import Line

__all__ = ["Changes", "Known", "find_changes", "known_parts_of"]

Estimate = Callable[[tuple[int, int, int]], int]
Known = dict[str, tuple[str, dict[str, object]]]
_ORDER = ("name", "size", "shape", "step", "cuboids", "core", "weight", "ways_up", "carry")


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What would be written.

    Parameters
    ----------
    parts, counts
        The two files.
    new, changed, same
        Ids of parts that are added, that change, and that are there already.
    kept
        Parts that say something else and are left as they are, with the file that defines them.
    estimated
        Ids of new parts whose weight is estimated.
    """

    parts: Added
    counts: ChangedCounts
    new: tuple[str, ...]
    changed: tuple[str, ...]
    same: tuple[str, ...]
    kept: tuple[tuple[str, str], ...]
    estimated: tuple[str, ...]

    @property
    def any(self) -> bool:
        """Whether anything would be written."""
        return bool(self.new or self.changed or self.counts.changed)


def known_parts_of(folder: Path, found: list[Problem]) -> tuple[Known, Callable[[str], str | None]]:
    """Return the parts of a workspace as they are written, and what finds one by id or name."""
    known = written_parts(folder, found)
    by_words: dict[str, str | None] = {}
    for part, (_, entry) in known.items():
        for words in {part.casefold(), str(entry.get("name", part)).casefold()}:
            by_words[words] = None if words in by_words else part

    def find(words: str) -> str | None:
        return words if words in known else by_words.get(words.casefold())

    return known, find


def find_changes(
    folder: Path,
    lines: Sequence[Line],
    known: Known,
    place: Place,
    *,
    estimate: Estimate | None,
    replace: bool,
) -> Changes | None:
    """Find what the lines of a table change; None if something is wrong with them.

    Parameters
    ----------
    folder
        The workspace.
    lines
        What the table says.
    known
        The parts that are there.
    place
        Takes every problem, with the cell.
    estimate
        Returns a weight in grams for a size, where the table gives none; None to ask for it.
    replace
        Whether parts of parts.toml that say something else are replaced.
    """
    entries: dict[str, dict[str, object]] = {}
    sorts: dict[str, list[str]] = {"new": [], "changed": [], "same": [], "estimated": []}
    kept: list[tuple[str, str]] = []
    for line in lines:
        file, old = known.get(line.part, ("", {}))
        entry = _merged(line, old, place, estimate)
        if entry is None:
            continue
        if "weight" in entry and "weight" not in {**old, **line.entry}:
            sorts["estimated"].append(line.part)
        part = read_part(line.part, Table(entry, Place(place.file, place.found, line.where)))
        before = read_part(line.part, Table(old, Place("", []))) if old else None
        if part is None:
            continue
        if not old:
            entries[line.part] = entry
            sorts["new"].append(line.part)
        elif part == before:
            sorts["same"].append(line.part)
        elif replace and file == "parts.toml":
            entries[line.part] = entry
            sorts["changed"].append(line.part)
        else:
            kept.append((line.part, file))
    if place.found:
        return None
    counts = {line.part: line.count for line in lines if line.count is not None}
    new = {
        p: NewPart(entry=e, text=part_text(p, e, _remarks(p, sorts))) for p, e in entries.items()
    }
    return Changes(
        parts=add_parts(folder / "parts.toml", new, replace=replace),
        counts=change_counts(folder / "counts.csv", counts),
        new=tuple(sorts["new"]),
        changed=tuple(sorts["changed"]),
        same=tuple(sorts["same"]),
        kept=tuple(kept),
        estimated=tuple(sorts["estimated"]),
    )


def _remarks(part: str, sorts: dict[str, list[str]]) -> dict[str, str]:
    return {"weight": "estimate: weigh one"} if part in sorts["estimated"] else {}


def _merged(
    line: Line, old: dict[str, object], place: Place, estimate: Estimate | None
) -> dict[str, object] | None:
    """Return what parts.toml is to say; None if too little is known."""
    entry = {**old, **line.entry}
    if "cuboids" in entry:
        entry.pop("size", None)  # they say more than a length, a width and a height
    if not {"size", "cuboids"} & set(entry):
        place.at(line.where).report(
            f'there is no part "{line.part}" yet, and this row gives no size',
            "give length, width and height",
        )
        return None
    if "weight" not in entry:
        if estimate is None or line.size_um is None:
            place.at(line.where).report(
                "gives no weight", "add a column of weights, or say --material to estimate them"
            )
            return None
        entry["weight"] = f"{estimate(line.size_um)} g"
    first = [key for key in _ORDER if key in entry]
    return {key: entry[key] for key in [*first, *(key for key in entry if key not in first)]}
