"""Sets: what one boxed set contains, so that several copies of it are one line in the counts."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from packdown.errors import Problem, nearest
from packdown.files.parts import Parts
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import MAX_COUNT, text, whole

__all__ = ["NO_SETS", "SETS_FILE", "Sets", "read_sets", "written_sets"]

SETS_FILE = "sets.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sets:
    """All sets that are named.

    Parameters
    ----------
    by_id
        For each set what one of it comes to: how many pieces of which parts; None stands for one
        that is named but cannot be used.
    complete
        Whether the file could be read; if not, any name may be that of a set.
    """

    by_id: Mapping[str, Mapping[str, int] | None]
    complete: bool


NO_SETS = Sets(by_id={}, complete=True)


def written_sets(folder: Path, found: list[Problem]) -> dict[str, dict[str, object]]:
    """Return for every set the keys and values that the file gives."""
    path = folder / SETS_FILE
    table = read_toml(path, Place(path.name, found)) if path.exists() else None
    return {name: entry.plain() for name, entry in table.table("sets").entries()} if table else {}


def read_sets(folder: Path, found: list[Problem], parts: Parts) -> Sets:
    """Read sets.toml, if there is one, and add up what sets inside of sets come to."""
    path = folder / SETS_FILE
    if not path.exists():
        return NO_SETS
    root = read_toml(path, Place(path.name, found))
    if root is None:
        return Sets(by_id={}, complete=False)
    tables = dict(root.table("sets").entries())
    root.done()
    contents = {name: _contents(name, table, tables, parts) for name, table in tables.items()}
    for name, table in tables.items():
        if name in parts.by_id:
            table.place.report(f'"{name}" is a part, too', "give the set another name")
    order = _order(contents, tables)
    by_id: dict[str, Mapping[str, int] | None] = dict.fromkeys(tables)
    for name in order:
        by_id[name] = _sum(contents[name], by_id, tables[name])
    return Sets(by_id=by_id, complete=True)


def _contents(name: str, table: Table, names: Iterable[str], parts: Parts) -> dict[str, int] | None:
    """Read what one set contains; None if there was a problem with it."""
    table.get("name", text, name)
    if "contains" not in table:
        table.place.at("contains").report(
            "is missing; expected parts or sets with their numbers, such as { wall = 4 }"
        )
    inside = table.table("contains")
    known = {*parts.by_id, *names}
    contents = {}
    for word in inside:
        contents[word] = inside.need(word, whole(1))
        if word not in known and parts.complete:
            inside.place.at(word).report(
                f'there is no part and no set "{word}"', nearest(word, known)
            )
    if inside.usable and not contents and "contains" in table:
        inside.place.report("expected at least one part or set")
    return contents if table.done() else None


def _order(
    contents: Mapping[str, Mapping[str, int] | None], tables: Mapping[str, Table]
) -> list[str]:
    """Return the sets so that each comes after those it contains; report those in a circle."""
    graph = {
        name: [word for word in inside or () if word in contents]
        for name, inside in contents.items()
    }
    while True:
        try:
            return list(TopologicalSorter(graph).static_order())
        except CycleError as error:
            circle = error.args[1][::-1]
            tables[circle[0]].place.at("contains").report(
                f"contains itself: {' contains '.join(circle[:8])}", "take one of them out"
            )
            for name in circle:
                graph[name] = []


def _sum(
    inside: Mapping[str, int] | None, by_id: Mapping[str, Mapping[str, int] | None], table: Table
) -> Mapping[str, int] | None:
    """Add up what one set comes to; None if something in it cannot be used."""
    if inside is None:
        return None
    total: dict[str, int] = {}
    for word, number in inside.items():
        part_of = by_id.get(word, {word: 1})
        if part_of is None:
            return None
        for part, each in part_of.items():
            total[part] = total.get(part, 0) + number * each
    for part, number in total.items():
        if number > MAX_COUNT:
            table.place.at("contains").report(
                f"comes to {number:,} pieces of {part}, more than {MAX_COUNT:,}"
            )
            return None
    return total
