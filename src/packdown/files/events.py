"""Events: events/NAME.toml in a workspace."""

import re
from collections.abc import Mapping
from pathlib import Path

from packdown.errors import InputError, Problem, nearest
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import flag, length, list_of, text, weight, whole
from packdown.model import Event, Limits, Part, Session, Wish, Workspace
from packdown.units import Rounding, parse_time

__all__ = ["event_names", "read_event"]

FOLDER = "events"
MAX_DAYS = 60
MAX_WORTH = 1_000
MAX_TIME_S = 24 * 3_600
_CLOCK = re.compile(r"([01]?\d|2[0-3]):([0-5]\d)")


def event_names(folder: Path) -> tuple[str, ...]:
    """Return the names of the events of a workspace."""
    paths = (folder / FOLDER).glob("*.toml")
    return tuple(sorted(path.stem for path in paths if not _is_blank(path)))


def _is_blank(path: Path) -> bool:
    """Whether nothing but comments is in a file, as in that of a new workspace."""
    lines = (line.strip() for line in path.read_bytes().splitlines())
    return all(not line or line.startswith(b"#") for line in lines)


def read_event(folder: Path, name: str, workspace: Workspace) -> Event:
    """Read one event of a workspace.

    Parameters
    ----------
    folder
        The workspace's folder; the event is ``events/NAME.toml`` in it.
    name
        Name of the event.
    workspace
        What is read from the rest of the folder.

    Raises
    ------
    InputError
        With every problem of the file.
    """
    found: list[Problem] = []
    place = Place(f"{FOLDER}/{name}.toml", found)
    path = folder / FOLDER / f"{name}.toml"
    root = None
    if path.is_file():
        root = read_toml(path, place)
    else:
        place.report("there is no such event", nearest(name, event_names(folder)))
    if root is None:
        raise InputError(found)
    words = root.get("name", text, name)
    limits = _limits(root.table("limits"), workspace)
    entries = root.table("sessions").entries()
    sessions = [_session(own, entry, workspace) for own, entry in entries]
    if not sessions:
        place.at("sessions").report("expected at least one session", "such as [sessions.morning]")
    root.done()
    if found:
        raise InputError(found)
    usable = sorted((one for one in sessions if one), key=lambda session: session.begins)
    return Event(id=name, name=words, sessions=tuple(usable), limits=limits)


def _limits(table: Table, workspace: Workspace) -> Limits:
    known = {container.id for container in workspace.containers}
    names = table.find("containers", list_of(text, least=1))
    for index, own in enumerate(names or ()):
        here = table.place.at("containers").at(index)
        if own not in known:
            here.report(f'there is no container "{own}"', nearest(own, known))
        elif own in (names or ())[:index]:
            here.report(f'the container "{own}" is named twice')
    spaces = {space.id for space in workspace.load_spaces}
    space = table.find("load_space", text)
    if space is not None and space not in spaces:
        here = table.place.at("load_space")
        here.report(f'there is no load space "{space}"', nearest(space, spaces))
    sides = table.find("table", list_of(length(Rounding.DOWN), 2, 2))
    found = Limits(
        containers=names,
        most_containers=table.find("most_containers", whole(1)),
        weight_g=table.find("weight", weight(Rounding.DOWN)),
        load_space=space,
        journeys=table.get("journeys", whole(1, 99), 1),
        set_up_s=table.find("set_up", _time),
        strike_s=table.find("strike", _time),
        helpers=table.get("helpers", whole(1, 99), 1),
        table_um=(sides[0], sides[1]) if sides else None,
    )
    table.done()
    return found


def _session(own: str, table: Table, workspace: Workspace) -> Session | None:
    words = table.get("name", text, own)
    day = table.get("day", whole(1, MAX_DAYS), 1)
    start, end = table.need("start", _clock), table.need("end", _clock)
    tables = table.get("tables", whole(1, 999), 1)
    builds = [_build_wish(each, workspace) for each in table.tables("builds")]
    _check_twice(table, "builds", [wish.build for wish in builds if wish])
    parts = {part.id: part for part in workspace.parts}
    pieces = [_piece_wish(each, parts) for each in table.tables("pieces")]
    _check_twice(table, "pieces", [wish.part for wish in pieces if wish])
    if not builds and not pieces:
        table.place.report("wants nothing", "say which builds, or which pieces")
    if not table.done():
        return None
    if end <= start:
        hint = "make two sessions of one that goes on past midnight"
        table.place.at("end").report("is not after its start", hint)
        return None
    return Session(
        id=own,
        name=words,
        day=day,
        start_s=start,
        end_s=end,
        tables=tables,
        wishes=tuple(wish for wish in (*builds, *pieces) if wish),
    )


def _check_twice(table: Table, key: str, names: list[str | None]) -> None:
    for index, own in enumerate(names):
        if own in names[:index]:
            table.place.at(key).at(index).report(f'"{own}" is wanted twice')


def _build_wish(table: Table, workspace: Workspace) -> Wish | None:
    known = {build.id for build in (*workspace.builds, *workspace.designs)}
    build = table.need("id", text)
    must, worth = _value(table)
    usable = table.done()
    if usable and build not in known:
        table.place.at("id").report(f'there is no build "{build}"', nearest(build, known))
    return Wish(build=build, must=must, worth=worth) if usable else None


def _piece_wish(table: Table, parts: Mapping[str, Part]) -> Wish | None:
    part = table.need("part", text)
    count = table.get("count", whole(1), 1)
    must, worth = _value(table)
    usable = table.done()
    if usable and part not in parts:
        table.place.at("part").report(f'unknown part "{part}"', nearest(part, parts))
    return Wish(part=part, count=count, must=must, worth=worth) if usable else None


def _value(table: Table) -> tuple[bool, int]:
    return table.get("must", flag, False), table.get("worth", whole(1, MAX_WORTH), 1)


def _clock(value: object, place: Place) -> int:
    """Read a time of day as seconds since midnight."""
    match = _CLOCK.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        place.expected('a time of day such as "09:30"', value)
        return 0
    return 3_600 * int(match[1]) + 60 * int(match[2])


def _time(value: object, place: Place) -> int:
    """Read a time such as "45 min" in whole seconds, above 0 and up to a day."""
    try:
        seconds = parse_time(value) if isinstance(value, str) else 0
    except ValueError as error:
        place.report(str(error))
        return 1
    if not 0 < seconds <= MAX_TIME_S:
        place.expected('a time such as "45 min", up to 24 h', value)
        return 1
    return seconds
