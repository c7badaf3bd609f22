"""What a table would change in a workspace."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from packdown.errors import Problem
from packdown.files.adding import Added, NewPart, add_parts
from packdown.files.count_text import ChangedCounts, change_counts
from packdown.files.part_text import part_text
from packdown.files.parts import read_part, written_parts
from packdown.files.place import Place
from packdown.files.sets import SETS_FILE, written_sets
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
    parts, sets, counts
        The three files.
    new, changed, same
        Ids of parts and sets that are added, that change, and that are there already.
    kept
        Parts that say something else and are left as they are, with the file that defines them.
    estimated
        Ids of new parts whose weight is estimated.
    """

    parts: Added
    sets: Added
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
    sets = written_sets(folder, found)
    known.update({name: (SETS_FILE, entry) for name, entry in sets.items() if name not in known})
    by_words: dict[str, str | None] = {}
    for part, (_, entry) in known.items():
        for words in {part.casefold(), str(entry.get("name", part)).casefold()}:
            by_words[words] = None if words in by_words else part

    def find(words: str) -> str | None:
        return words if words in known else by_words.get(words.casefold())

    return known, find


@dataclass(slots=True)
class _Sorted:
    """Parts and sets sorted by what becomes of them."""

    parts: dict[str, NewPart] = field(default_factory=dict)
    sets: dict[str, NewPart] = field(default_factory=dict)
    new: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    same: list[str] = field(default_factory=list)
    kept: list[tuple[str, str]] = field(default_factory=list)
    estimated: list[str] = field(default_factory=list)

    def sort(self, name: str, file: str, *, same: bool, replace: bool) -> bool:
        """Note what becomes of one; say whether it is to be written."""
        if not file:
            self.new.append(name)
        elif same:
            self.same.append(name)
        elif replace:
            self.changed.append(name)
        else:
            self.kept.append((name, file))
        return not file or (replace and not same)


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
        The parts and sets that are there.
    place
        Takes every problem, with the cell.
    estimate
        Returns a weight in grams for a size, where the table gives none; None to ask for it.
    replace
        Whether parts of parts.toml, and sets, that say something else are replaced.
    """
    found = _Sorted()
    for line in lines:
        file, old = known.get(line.part, ("", {}))
        if file == SETS_FILE or (not file and "contains" in line.entry):
            _sort_set(line, file, old, found, replace=replace)
        else:
            _sort_part(line, file, old, found, place, estimate, replace=replace)
    if place.found:
        return None
    counts = {line.part: line.count for line in lines if line.count is not None}
    return Changes(
        parts=add_parts(folder / "parts.toml", found.parts, replace=replace),
        sets=add_parts(folder / SETS_FILE, found.sets, replace=replace, kind="sets"),
        counts=change_counts(folder / "counts.csv", counts),
        new=tuple(found.new),
        changed=tuple(found.changed),
        same=tuple(found.same),
        kept=tuple(found.kept),
        estimated=tuple(found.estimated),
    )


def _sort_set(
    line: Line, file: str, old: dict[str, object], found: _Sorted, *, replace: bool
) -> None:
    entry = dict(old)
    entry.update({key: line.entry[key] for key in ("name", "contains") if key in line.entry})
    if "name" not in old and entry.get("name") == line.part:
        entry.pop("name")
    if found.sort(line.part, file, same=entry == old, replace=replace):
        text = part_text(line.part, entry, kind="sets")
        found.sets[line.part] = NewPart(entry=entry, text=text)


def _sort_part(
    line: Line,
    file: str,
    old: dict[str, object],
    found: _Sorted,
    place: Place,
    estimate: Estimate | None,
    *,
    replace: bool,
) -> None:
    entry = _merged(line, old, place, estimate)
    if entry is None:
        return
    remarks: dict[str, str] = {}
    if "weight" not in old and "weight" not in line.entry:
        found.estimated.append(line.part)
        remarks["weight"] = "estimate: weigh one"
    part = read_part(line.part, Table(entry, Place(place.file, place.found, line.where)))
    before = read_part(line.part, Table(old, Place("", []))) if old else None
    can_replace = replace and file == "parts.toml"
    if part and found.sort(line.part, file, same=part == before, replace=can_replace):
        text = part_text(line.part, entry, remarks)
        found.parts[line.part] = NewPart(entry=entry, text=text)


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
