"""Builds described anew in another detail: drawn, listed, in sub-units or as a whole."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from packdown.errors import InputError, UsageError
from packdown.files.lumping import between, contents_of, lump, lumps
from packdown.files.rewriting import drawn_entry, listed_entry
from packdown.files.toml_text import entry_text
from packdown.files.workspace import Standing, read_standing
from packdown.geometry import Cuboid, WayUp, bounds
from packdown.model import Piece
from packdown.units import format_length, format_size, format_weight

__all__ = ["Converted", "Detail", "convert"]

Entry = dict[str, object]
_GENERAL = ("name", "needed", "tags", "stands")


class Detail(StrEnum):
    """In which detail a build is described."""

    DRAWN = "drawn"
    LISTED = "listed"
    UNITS = "sub-units"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Converted:
    """A build described anew.

    Parameters
    ----------
    file
        The file it is in.
    build
        Its id.
    text
        Its new table as TOML.
    complete
        Whether it can be read as it is; if not, comments say what has to be added.
    lost
        What the new description cannot say.
    """

    file: Path
    build: str
    text: str
    complete: bool
    lost: tuple[str, ...] = ()


def convert(folder: Path, build: str, to: Detail, cell_um: int | None = None) -> Converted:
    """Describe a build in another detail and keep all that is known of it.

    Parameters
    ----------
    folder
        The workspace.
    build
        Id of the build.
    to
        The wanted detail. From less detail to more, a draft says what has to be added.
    cell_um
        For a drawing, the length of a cell; otherwise what gives the plainest drawing.

    Raises
    ------
    InputError
        If there is anything wrong with the build.
    UsageError
        If there is no such build, or it is already described so.
    """
    standing = read_standing(folder, build)
    if standing.problems:
        raise InputError(standing.problems)
    file, entry = _entry(folder, build)
    known = {key: entry[key] for key in _GENERAL if key in entry}
    spoken_of = _spoken_of(folder, build)
    now = _detail(entry)
    if to is now:
        raise UsageError(f'The build "{build}" is {to} already.')
    lost: tuple[str, ...] = ()
    complete = to in {Detail.UNITS, Detail.MEASURED} or bool(standing.spots)
    if not complete:
        text = _draft(build, known, standing, to)
    elif to is Detail.DRAWN:
        text = entry_text("builds", build, known | drawn_entry(standing, entry, cell_um, spoken_of))
    elif to is Detail.LISTED:
        text = entry_text("builds", build, known | listed_entry(standing, entry))
    else:
        inside, lost = _units(standing) if to is Detail.UNITS else _whole(standing)
        text = entry_text("builds", build, known | inside)
        if spoken_of:
            names = ", ".join(sorted(spoken_of))
            lost = (*lost, f"pieces that packdown.toml names ({names}): take them out there")
    return Converted(file=file, build=build, text=text, complete=complete, lost=lost)


def _entry(folder: Path, build: str) -> tuple[Path, Mapping[str, object]]:
    """Return the file of a build, and its table as it stands there."""
    for path in sorted((folder / "builds").glob("*.toml")):
        builds = tomllib.loads(path.read_text(encoding="utf-8-sig")).get("builds", {})
        if build in builds:
            return path, builds[build]
    raise UsageError(f'There is no build "{build}" in {folder}.')


def _spoken_of(folder: Path, build: str) -> set[str]:
    """Return the pieces of a build, as its file names them, that groups of packdown.toml name."""
    head = tomllib.loads((folder / "packdown.toml").read_text(encoding="utf-8-sig"))
    named = (
        piece
        for kind in ("keep_together", "keep_apart")
        for group in head.get(kind, ())
        for piece in group.get("pieces", ())
    )
    start = f"{build}/"
    return {piece.removeprefix(start) for piece in named if piece.startswith(start)}


def _detail(entry: Mapping[str, object]) -> Detail:
    if "size" in entry:
        return Detail.MEASURED
    if "units" in entry:
        return Detail.UNITS
    both = "place" in entry or "blocks" in entry
    return Detail.LISTED if both and "plan" not in entry else Detail.DRAWN


def _whole(standing: Standing) -> tuple[Entry, tuple[str, ...]]:
    """Describe a build as one measured thing."""
    one = lump(standing.pieces)
    lost = ("which joints there are and what may be split: it will be packed as it is",)
    counted = contents_of(standing.pieces, placed=bool(standing.spots))
    entry = _measured(one.box, one.weight_g, one.ways_up, one.carry_g)
    return entry | ({"contains": dict(counted)} if counted else {}), lost


def _units(standing: Standing) -> tuple[Entry, tuple[str, ...]]:
    """Describe a build in units: its storeys if its pieces are placed, else one for the whole."""
    placed = bool(standing.spots)
    units = lumps(standing.pieces, standing.joints)
    names = [f"unit-{number}" for number in range(1, len(units) + 1)] if placed else ["whole"]
    rows: list[Entry] = []
    for name, unit in zip(names, units, strict=True):
        row: Entry = {"id": name}
        row |= _measured(unit.box, unit.weight_g, unit.ways_up, unit.carry_g)
        row["at"] = [format_length(um) for um in unit.box[:3]]
        counted = contents_of(unit.pieces, placed=placed)
        rows.append(row | ({"contains": dict(counted)} if counted else {}))
    joints: list[Entry] = [
        {"between": [names[a], names[b]], "kind": str(kind), "connections": count}
        for a, b, kind, count in between(units, standing.joints)
    ]
    entry: Entry = {"units": rows}
    if joints:
        entry["joints"] = joints
    alone = [n for n, u in zip(names, units, strict=True) if all(p.alone for p in u.pieces)]
    lost = ("joints within the units, and wishes about them",) if placed else ()
    return entry | ({"alone": alone} if alone else {}), lost


def _measured(box: Cuboid, weight_g: int, ways: tuple[WayUp, ...], carry_g: int | None) -> Entry:
    entry: Entry = {
        "size": [format_length(um) for um in box.size],
        "weight": f"{weight_g} g",
    }
    if ways != tuple(WayUp):
        entry["ways_up"] = [str(way) for way in ways]
    if carry_g is not None:
        entry["carry"] = f"{carry_g} g" if carry_g else "none"
    return entry


def _draft(build: str, known: Entry, standing: Standing, to: Detail) -> str:
    """Say what is known of a build of which no piece was placed, and what has to be added."""
    lines = [
        "# Known so far. Put every piece in its place below, then take these lines away.",
    ]
    for piece in standing.pieces:
        inside = ", ".join(f"{count} x {part}" for part, count in piece.contains)
        box = bounds(piece.cuboids_um)
        at = ", ".join(format_length(um) for um in box[:3])
        lines.append(
            f"# {piece.part}: {format_size(box.size)}, {format_weight(piece.weight_g)}, at {at}: "
            f"{inside or 'nothing was counted in it'}"
        )
    for joint in standing.joints:
        pair = " and ".join(piece.partition("/")[2] for piece in joint.pieces)
        lines.append(f"# {pair}: {joint.kind}, {joint.connections} connections")
    parts = list(contents_of(standing.pieces, placed=False))
    if to is Detail.LISTED:
        each: list[Entry] = [{"id": f"{part}-1", "part": part, "at": []} for part in parts]
        rows: Entry = {"place": each}
    else:
        letters = (chr(code) for code in range(ord("a"), ord("z") + 1))
        symbols = dict(zip(letters, parts, strict=False))
        rows = {"symbols": symbols, "plan": _empty_plan(standing.pieces, standing.square_um)}
    heading, _, rest = entry_text("builds", build, known | rows).partition("\n")
    return "\n".join([heading, *lines, rest])


def _empty_plan(pieces: tuple[Piece, ...], square_um: int | None) -> str:
    """Return a drawing of empty cells as large as a build."""
    size = bounds(cuboid for piece in pieces for cuboid in piece.cuboids_um).size
    across, deep = (max(1, -(-side // (square_um or max(size)))) for side in size[:2])
    return "\n".join([" ".join("." * min(across, 60))] * min(deep, 60)) + "\n"
