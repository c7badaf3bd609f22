"""A workspace: a folder of text files, read and checked as a whole."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from packdown.errors import InputError, Problem, UsageError, nearest
from packdown.files.builds import Builds, read_builds, used_parts
from packdown.files.checks import check_containers, check_filled
from packdown.files.containers import read_containers
from packdown.files.counts import COUNTS_FILE, Count, read_counts
from packdown.files.defaults import read_defaults
from packdown.files.groups import Groups, members_of, read_groups
from packdown.files.load_spaces import read_load_spaces
from packdown.files.parts import Parts, read_parts
from packdown.files.place import Place
from packdown.files.sets import SETS_FILE, read_sets
from packdown.files.settings import (
    read_bends,
    read_clearance,
    read_factors,
    read_holds,
    read_lifting,
    read_magnet,
    read_rules,
)
from packdown.files.spots import Spot
from packdown.files.table import Table, read_toml
from packdown.files.values import length, size, text, weight
from packdown.geometry import Vector
from packdown.model import Build, Joint, Piece, Settings, Workspace, loose_piece
from packdown.units import Rounding

__all__ = ["Standing", "read_builds_of", "read_standing", "read_workspace"]

HEAD = "packdown.toml"
FILES = (
    HEAD,
    "parts.toml",
    "parts.csv",
    SETS_FILE,
    COUNTS_FILE,
    "columns.toml",
    "containers.toml",
    "load_spaces.toml",
)
KEY_WEIGHT_G = 1
KEY_SIZE_UM = (12_000, 8_000, 3_000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One build as far as it can be put together.

    Parameters
    ----------
    pieces
        Its pieces, those that overlap or float among them.
    joints, spots
        The joints between them, and where placed pieces are said to stand.
    square_um
        The square of the grid, in micrometres; None where there is none.
    problems
        What is wrong with it.
    """

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    spots: tuple[Spot, ...]
    square_um: int | None
    problems: tuple[Problem, ...]


def read_workspace(folder: Path) -> Workspace:
    """Read the folder of text files that describes a collection.

    Parameters
    ----------
    folder
        Holds ``packdown.toml``, ``containers.toml``, ``parts.toml`` or ``parts.csv``,
        ``sets.toml``, ``counts.csv`` and ``builds/*.toml``; the first two must be there.

    Raises
    ------
    InputError
        With every problem of every file.
    """
    if not folder.is_dir():
        raise InputError([Problem(file=str(folder), entry="", message="there is no such folder")])
    found: list[Problem] = []
    _check_names(folder, found)
    head = _open_head(folder, found)
    name = head.need("name", text)
    settings, clearance_um = _settings(head)
    parts = read_parts(folder, found)
    counts = read_counts(folder, found, parts, read_sets(folder, found, parts))
    builds = _builds(folder, found, head, parts, settings)
    containers = read_containers(folder, found, clearance_um)
    spaces = read_load_spaces(folder, found, read_defaults().spaces)
    loose = [] if found else _loose(parts, counts, builds.usable)
    together, apart = _groups(head, parts, builds, loose, whole=not found)
    key_weight_g, key_size_um = _key(head.table("key"))
    head.done()
    usable = [container for container in containers.values() if container]
    if not found:
        check_filled(Place(HEAD, found), builds.usable, loose)
    if not found:
        place = Place("containers.toml", found, "containers")
        check_containers(place, usable, builds.usable, loose, parts, settings)
    if found:
        raise InputError(found)
    return Workspace(
        name=name,
        settings=settings,
        parts=tuple(part for part in parts.by_id.values() if part),
        loose=tuple(loose),
        builds=builds.usable,
        containers=tuple(usable),
        designs=builds.designs,
        owned=tuple((part, owned) for part, (owned, _) in counts.items()),
        keep_together=together,
        keep_apart=apart,
        key_weight_g=key_weight_g,
        key_size_um=key_size_um,
        load_spaces=spaces.vehicles,
        flights=spaces.flights,
    )


def read_standing(folder: Path, build: str) -> Standing:
    """Read one build as far as it can be put together, to be drawn.

    Raises
    ------
    InputError
        If its pieces cannot be put in their places, with all that is wrong in its files.
    UsageError
        If there is no such build.
    """
    found: list[Problem] = []
    builds = read_builds_of(folder, found)
    if build not in builds.by_id and builds.complete:
        raise UsageError(
            f'There is no build "{build}" in {folder}.', hint=nearest(build, builds.by_id)
        )
    contents = builds.standing.get(build)
    if not contents or not contents.pieces:
        raise InputError(found)
    return Standing(
        pieces=contents.pieces,
        joints=contents.joints,
        spots=contents.spots,
        square_um=builds.square_um,
        problems=tuple(problem for problem in found if not _of_another(problem, build)),
    )


def _of_another(problem: Problem, build: str) -> bool:
    """Whether a problem is with another build alone."""
    own = f"builds.{build}"
    return problem.entry.startswith("builds.") and not f"{problem.entry}.".startswith(f"{own}.")


def read_builds_of(folder: Path, found: list[Problem]) -> Builds:
    """Read nothing but the builds of a workspace, and what they need."""
    head = _open_head(folder, found)
    settings, _ = _settings(head)
    parts = read_parts(folder, found)
    return _builds(folder, found, head, parts, settings)


def _open_head(folder: Path, found: list[Problem]) -> Table:
    """Open packdown.toml; where that cannot be read, only this one problem is reported."""
    place = Place(HEAD, found)
    head = None
    if (folder / HEAD).exists():
        head = read_toml(folder / HEAD, place)
    else:
        place.report("is missing", "is this the folder of a workspace?")
    return head or Table(None, Place(HEAD, []))


def _settings(head: Table) -> tuple[Settings, int]:
    """Read the settings, and the distance that containers keep, over the defaults."""
    defaults = read_defaults()
    base = defaults.settings
    rules = head.table("rules")
    settings = replace(
        read_rules(rules, base, defaults.shock_factors),
        effort=read_factors(head.table("effort"), base.effort),
        holds_g=read_holds(head.table("holds"), base.holds_g),
        bends_mnm=read_bends(head.table("bends"), base.bends_mnm),
        lifting=read_lifting(head.table("lifting"), base.lifting),
        magnet=read_magnet(head.table("magnets"), base.magnet),
    )
    clearance_um = read_clearance(rules, defaults.clearance_um)
    rules.done()
    return settings, clearance_um


def _builds(
    folder: Path, found: list[Problem], head: Table, parts: Parts, settings: Settings
) -> Builds:
    """Read the builds, once it is certain how large a square of the grid is."""
    grid = head.table("grid")
    square_um = grid.find("square", length(Rounding.NEAREST))
    if not grid.done() or not head.usable:
        return Builds(by_id={}, complete=False)
    return read_builds(folder, found, parts, square_um, settings)


def _groups(
    head: Table, parts: Parts, builds: Builds, loose: Sequence[Piece], *, whole: bool
) -> tuple[Groups, Groups]:
    """Read the groups; while something else is wrong, check only names that are surely known."""
    members = members_of(parts.by_id, builds.by_id, loose)
    known = {"parts": parts.complete, "builds": builds.complete}
    sure = {kind for kind in members if known.get(kind, whole)}
    return (
        read_groups(head, "keep_together", members, sure),
        read_groups(head, "keep_apart", members, sure),
    )


def _check_names(folder: Path, found: list[Problem]) -> None:
    """Report tables that nobody would read, such as a misspelt counts.csv."""
    for path in sorted(folder.iterdir()):
        if path.suffix.lower() in {".toml", ".csv"} and path.name not in FILES:
            Place(path.name, found).report("is no file of a workspace", nearest(path.name, FILES))


def _key(table: Table) -> tuple[int, Vector]:
    """Read the weight and the size of one loose key."""
    found = (
        table.get("weight", weight(), KEY_WEIGHT_G),
        table.get("size", size(Rounding.UP), KEY_SIZE_UM),
    )
    table.done()
    return found


def _loose(parts: Parts, counts: Mapping[str, Count], builds: Sequence[Build]) -> list[Piece]:
    """Return the pieces that no build uses; report what is used but not owned."""
    used = used_parts(builds)
    loose: list[Piece] = []
    for part_id, (owned, place) in counts.items():
        part = parts.by_id[part_id]
        if used[part_id] > owned:
            each = ((build.id, used_parts([build])[part_id]) for build in builds)
            users = ", ".join(f"{build} {count}" for build, count in each if count)
            place.at("count").report(
                f"builds use {used[part_id]} pieces of {part_id}, but only {owned} are owned: "
                f"{users}",
                "say stands = false in builds that are not put together at present",
            )
        if part:
            loose.extend(
                loose_piece(part, number) for number in range(1, owned - used[part_id] + 1)
            )
    return loose
