"""Builds: placed piece by piece, in measured units, or measured as a whole."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import NamedTuple

from packdown.errors import Problem, nearest
from packdown.files.joints import joints_of, read_joint_notes
from packdown.files.parts import Parts
from packdown.files.place import Place
from packdown.files.placed import Site, read_placed, read_site
from packdown.files.spots import Spot, place_pieces
from packdown.files.standing import check_detail, check_floating, check_overlaps
from packdown.files.table import Table, read_toml
from packdown.files.values import (
    MAX_LENGTH_UM,
    STAND_IN,
    carry,
    flag,
    length,
    list_of,
    name,
    size,
    text,
    ways_up,
    weight,
    whole,
)
from packdown.geometry import Cuboid, WayUp, drop_height, translate
from packdown.model import Build, Grade, Joint, Piece, Settings
from packdown.units import Rounding

__all__ = ["Builds", "Contents", "read_builds", "used_parts"]

WHOLE = "whole"
_AT = list_of(length(Rounding.NEAREST, low=-MAX_LENGTH_UM), 2, 3)
_GRADE_BY_KEY = {
    "plan": Grade.PLACED,
    "blocks": Grade.PLACED,
    "place": Grade.PLACED,
    "units": Grade.UNITS,
    "size": Grade.MEASURED,
}


class Contents(NamedTuple):
    """What a build consists of: its pieces, its joints, and where the file says all that."""

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...] = ()
    spots: tuple[Spot, ...] = ()
    place: Place | None = None


_NOTHING = Contents(pieces=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Builds:
    """All builds that are named.

    Parameters
    ----------
    by_id
        The builds; None stands for one that is named but cannot be used.
    complete
        Whether every file of builds could be read.
    standing
        What every build consists of that could be put together, whatever is wrong with it.
    square_um
        The square of the grid; None where there is none.
    """

    by_id: Mapping[str, Build | None]
    complete: bool
    standing: Mapping[str, Contents] = field(default_factory=dict)
    square_um: int | None = None

    @property
    def usable(self) -> tuple[Build, ...]:
        """The builds that can be used, as they stand."""
        return tuple(build for build in self.by_id.values() if build and build.stands)

    @property
    def designs(self) -> tuple[Build, ...]:
        """The builds that can be used, but are not put together."""
        return tuple(build for build in self.by_id.values() if build and not build.stands)


def read_builds(
    folder: Path, found: list[Problem], parts: Parts, square_um: int | None, settings: Settings
) -> Builds:
    """Read all files of builds, in the order of their names."""
    builds: dict[str, Build | None] = {}
    standing: dict[str, Contents] = {}
    complete = True
    for path in sorted((folder / "builds").glob("*.toml")):
        file = read_toml(path, Place(f"builds/{path.name}", found))
        if file is None:
            complete = False
            continue
        site = read_site(file, parts, square_um)
        for build, entry in file.table("builds").entries():
            found_build, contents = _build(build, entry, site, settings)
            if build in builds:
                entry.place.report(f'the build "{build}" is defined twice')
            builds.setdefault(build, found_build)
            standing.setdefault(build, contents._replace(place=entry.place))
        file.done()
    return Builds(by_id=builds, complete=complete, standing=standing, square_um=square_um)


def used_parts(builds: Iterable[Build]) -> Counter[str]:
    """Count the pieces of each part that builds use."""
    used: Counter[str] = Counter()
    for build in builds:
        for piece in build.pieces:
            if build.grade is Grade.PLACED:
                used[piece.part] += 1
            else:
                used.update(dict(piece.contains))
    return used


def _build(
    build: str, table: Table, site: Site, settings: Settings
) -> tuple[Build | None, Contents]:
    """Return a build if all is right with it, and what it consists of as far as that is known."""
    before = len(table.place.found)
    words = table.get("name", text, build)
    needed = table.find("needed", whole(1))
    tags = table.get("tags", list_of(text), ())
    stands = table.get("stands", flag, True)
    grades = {grade for key, grade in _GRADE_BY_KEY.items() if key in table}
    if len(grades) != 1:
        table.place.report(
            "expected exactly one way to describe it: plan, place or both; units; or size"
        )
        return None, _NOTHING
    (grade,) = grades
    found: Contents | None
    if grade is Grade.PLACED:
        found = _placed(build, table, site, settings)
    elif grade is Grade.UNITS:
        found = _units(build, table, site.parts, settings)
    else:
        found = _measured(build, words, table, site.parts)
    if not stands and grade is not Grade.PLACED:
        hint = "measured builds stand as they are: leave out stands"
        table.place.at("stands").report("a design is described by place", hint)
    if found is None:
        return None, _NOTHING
    if len(table.place.found) > before:
        return None, found
    sound = Build(
        id=build,
        name=words,
        grade=grade,
        pieces=found.pieces,
        joints=found.joints,
        needed=needed,
        tags=tags,
        stands=stands,
    )
    return sound, found


def _placed(build: str, table: Table, site: Site, settings: Settings) -> Contents | None:
    spots = read_placed(table, site)
    names = {spot.id for spot in spots}
    notes = read_joint_notes(table, names, slotted=True)
    alone = _alone(build, table, names)
    if not table.done() or not spots or any(spot.part is None for spot in spots):
        return None
    if not check_detail(table.place, spots):
        return None
    pieces, slots = place_pieces(build, spots)
    places = [spot.place for spot in spots]
    check_overlaps(pieces, places)
    joints = joints_of(build, pieces, slots, notes, settings)
    return _checked(table.place, pieces, joints, alone, places)._replace(spots=spots)


def _units(build: str, table: Table, parts: Parts, settings: Settings) -> Contents | None:
    pieces: list[Piece] = []
    places: list[Place] = []
    for each in table.tables("units"):
        piece = _unit(build, each, parts, pieces)
        if piece.part != STAND_IN and any(piece.id == other.id for other in pieces):
            each.place.at("id").report(f'the unit "{piece.part}" is there twice')
        pieces.append(piece)
        places.append(each.place)
    if not pieces:
        table.place.at("units").report("expected at least one unit")
    names = {piece.part for piece in pieces}
    notes = read_joint_notes(table, names, slotted=False)
    alone = _alone(build, table, names)
    if not table.done():
        return None
    check_overlaps(pieces, places)
    joints = joints_of(build, pieces, [()] * len(pieces), notes, settings)
    return _checked(table.place, pieces, joints, alone, places)


def _unit(build: str, table: Table, parts: Parts, before: Sequence[Piece]) -> Piece:
    own = table.need("id", name)
    at = table.need("at", _AT) or (0, 0)
    piece = _box(build, own, table.get("name", text, own), table, parts)
    table.done()
    below = [cuboid for other in before for cuboid in other.core_um]
    lying = translate(piece.core_um, at[0], at[1], 0)
    z = at[2] if len(at) == 3 else drop_height(lying, below)
    solid = translate(lying, 0, 0, z)
    return replace(piece, cuboids_um=solid, core_um=solid)


def _measured(build: str, words: str, table: Table, parts: Parts) -> Contents | None:
    piece = replace(_box(build, WHOLE, words, table, parts), part=build)
    return Contents(pieces=(piece,)) if table.done() else None


def _box(build: str, own: str, words: str, table: Table, parts: Parts) -> Piece:
    """Read something of which only size, weight and contents were measured."""
    sides = table.need("size", size(Rounding.UP))
    solid = (Cuboid(0, 0, 0, *sides),)
    contains = table.table("contains")
    counted = tuple((part, contains.need(part, whole(1))) for part in contains)
    for part, _ in counted:
        parts.find(part, contains.place.at(part))
    return Piece(
        id=f"{build}/{own}",
        part=own,
        name=words,
        build=build,
        weight_g=table.need("weight", weight()),
        cuboids_um=solid,
        core_um=solid,
        ways_up=table.get("ways_up", ways_up, tuple(WayUp)),
        carry_limit_g=table.get("carry", carry, None),
        contains=counted,
    )


def _alone(build: str, table: Table, names: Collection[str]) -> set[str]:
    """Read which pieces travel alone."""
    found = set()
    for index, piece in enumerate(table.get("alone", list_of(text), ())):
        if piece in names:
            found.add(f"{build}/{piece}")
        elif piece != STAND_IN:
            place = table.place.at("alone").at(index)
            place.report(f'unknown piece "{piece}"', nearest(piece, names))
    return found


def _checked(
    place: Place,
    pieces: Sequence[Piece],
    joints: tuple[Joint, ...],
    alone: Collection[str],
    places: Sequence[Place],
) -> Contents:
    """Mark what travels alone; report what floats, and what is to be alone but must stay joined."""
    check_floating(pieces, joints, places)
    marked = tuple(replace(p, alone=True) if p.id in alone else p for p in pieces)
    lonely = {piece.id for piece in marked if piece.alone}
    for joint in joints:
        for one, other in (joint.pieces, joint.pieces[::-1]):
            if joint.fixed and one in lonely:
                names = (piece.partition("/")[2] for piece in (one, other))
                what = "{} travels alone, but its joint with {} must stay".format(*names)
                place.report(what, "leave out one of the two wishes")
    return Contents(pieces=marked, joints=joints)
