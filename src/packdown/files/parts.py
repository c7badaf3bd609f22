"""Parts and how many are owned: parts.toml, parts.csv and counts.csv."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from packdown.errors import Problem, nearest
from packdown.files.place import ABSENT, Place
from packdown.files.rows import read_rows
from packdown.files.shapes import read_shape, read_slots
from packdown.files.table import Table, read_toml
from packdown.files.values import (
    MAX_COUNT,
    STAND_IN,
    carry,
    flag,
    list_of,
    name,
    text,
    ways_up,
    weight,
    whole,
)
from packdown.geometry import WayUp
from packdown.model import Part

__all__ = ["Parts", "number_in", "read_part", "read_parts", "written_parts"]

_LISTS = ("ways_up", "tags")
_COLUMNS = (
    "id",
    "name",
    "length",
    "width",
    "height",
    "weight",
    "ways_up",
    "carry",
    "magnets",
    "bagged",
    "tags",
)
_YES_NO: dict[str, object] = {"yes": True, "no": False, "true": True, "false": False}


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """All parts that are named.

    Parameters
    ----------
    by_id
        The parts; None stands for one that is named but cannot be used.
    places
        Where each of them is defined.
    complete
        Whether every file of parts could be read; if not, any name may be that of a part.
    mirrors
        Parts by those of which they are the mirror image.
    """

    by_id: Mapping[str, Part | None]
    places: Mapping[str, Place]
    complete: bool
    mirrors: Mapping[str, str] = field(default_factory=dict)

    def find(self, part: str, place: Place) -> Part | None:
        """Return a part that can be used; report a name that no part has."""
        if part not in self.by_id and part != STAND_IN and self.complete:
            place.report(f'unknown part "{part}"', nearest(part, self.by_id))
        return self.by_id.get(part)


def read_parts(folder: Path, found: list[Problem]) -> Parts:
    """Read parts.toml and parts.csv, as far as they are there."""
    parts: dict[str, Part | None] = {}
    places: dict[str, Place] = {}
    mirrors: dict[str, tuple[str, Place]] = {}
    complete = True
    path = folder / "parts.toml"
    if path.exists():
        table = read_toml(path, Place(path.name, found))
        complete = table is not None
        if table:
            for part, entry in table.table("parts").entries():
                if "mirror" in entry:
                    mirrors[part] = (entry.need("mirror", text), entry.place.at("mirror"))
                parts[part] = read_part(part, entry)
                places[part] = entry.place
            table.done()
    path = folder / "parts.csv"
    if path.exists():
        rows = read_rows(path, Place(path.name, found), _COLUMNS, _COLUMNS[:6])
        complete = complete and rows is not None
        for row, cells in rows or ():
            part = name(cells.get("id", ABSENT), row.at("id"))
            found_part = read_part(part, Table(_as_table(cells), row))
            if part in parts:
                row.at("id").report(f'the part "{part}" is defined twice')
            parts.setdefault(part, found_part)
            places.setdefault(part, row)
    images = {part: image for part, (image, _) in mirrors.items()}
    both = {image: part for part, image in images.items()} | images
    result = Parts(by_id=parts, places=places, complete=complete, mirrors=both)
    for image, place in mirrors.values():
        result.find(image, place)
    return result


def written_parts(folder: Path, found: list[Problem]) -> dict[str, tuple[str, dict[str, object]]]:
    """Return for every part the file that defines it, and the keys and values it gives there."""
    written: dict[str, tuple[str, dict[str, object]]] = {}
    path = folder / "parts.toml"
    table = read_toml(path, Place(path.name, found)) if path.exists() else None
    if table:
        for part, entry in table.table("parts").entries():
            written[part] = (path.name, entry.plain())
    path = folder / "parts.csv"
    if path.exists():
        for _, cells in read_rows(path, Place(path.name, found), _COLUMNS, _COLUMNS[:6]) or ():
            written.setdefault(cells.get("id", ""), (path.name, _as_table(cells)))
    return written


def read_part(part: str, table: Table) -> Part | None:
    """Read one part; None if there was a problem with it."""
    words = table.get("name", text, part)
    weight_g = table.need("weight", weight())
    ways = table.get("ways_up", ways_up, tuple(WayUp))
    carry_limit = table.get("carry", carry, None)
    magnets = table.get("magnets", whole(0, MAX_COUNT), 0)
    bagged = table.get("bagged", flag, False)
    alone = table.get("alone", flag, False)
    tags = table.get("tags", list_of(text), ())
    shape = read_shape(table)
    slots = read_slots(table, shape[0] if shape else None)
    if not table.done() or shape is None:
        return None
    return Part(
        id=part,
        name=words,
        cover_um=shape[0],
        core_um=shape[1],
        weight_g=weight_g,
        slots=slots,
        ways_up=ways,
        carry_limit_g=carry_limit,
        magnets=magnets,
        bagged=bagged,
        alone=alone,
        tags=tags,
    )


def _as_table(cells: Mapping[str, str]) -> dict[str, object]:
    """Return a row of parts.csv as the table that parts.toml would hold."""
    table: dict[str, object] = {
        "size": [cells.get(side, ABSENT) for side in ("length", "width", "height")]
    }
    for column in ("name", "weight", "carry"):
        if column in cells:
            table[column] = cells[column]
    for column in _LISTS:
        if column in cells:
            table[column] = [word.strip() for word in cells[column].split(";")]
    if "magnets" in cells:
        table["magnets"] = number_in(cells["magnets"])
    if "bagged" in cells:
        table["bagged"] = _YES_NO.get(cells["bagged"].lower(), cells["bagged"])
    return table


def number_in(cell: str) -> object:
    """Return the whole number in a cell, or the cell as it is."""
    return int(cell) if cell.isdecimal() and len(cell) < 10 else cell
