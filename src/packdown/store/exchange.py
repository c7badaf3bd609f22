"""Contents and counts as plain rows, for tables that other programs read and write."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from packdown.errors import InputError, Problem, UsageError, nearest
from packdown.geometry import Cuboid
from packdown.model import place_in_words
from packdown.store.connection import Rows, Store
from packdown.store.finding import box_of
from packdown.store.journal import Row, changing
from packdown.store.moving import load_pieces, placed
from packdown.store.records import Box, State
from packdown.store.schema import pieces

__all__ = ["Content", "CountedLine", "Stated", "contents", "counts", "put_contents"]

_ALL = """
SELECT p.id, p.part_id, COALESCE(v.name, q.name), b.name, p.state, p.container_id, p.condition,
       p.event, i.name, i.layer, i.x0_um, i.y0_um, i.z0_um, i.x1_um, i.y1_um, i.z1_um,
       c.length_um, c.width_um, c.height_um
FROM pieces p
JOIN parts q ON q.id = p.part_id
LEFT JOIN builds b ON b.id = p.build_id
LEFT JOIN individuals v ON v.piece_id = p.id
LEFT JOIN containers c ON c.id = p.container_id
LEFT JOIN items i ON i.container_id = p.container_id AND i.number = p.item_number
{where}
ORDER BY p.container_id, i.number, p.id
"""
_COUNTS = """
SELECT c.id, c.at, k.container_id, l.what, l.expected, l.found, l.broken
FROM counts k
JOIN changes c ON c.id = k.change_id
JOIN count_lines l ON l.change_id = k.change_id
ORDER BY c.id, l.number
"""
_CONDITIONS = ("whole", "broken")


class Content(NamedTuple):
    """One piece and where it is: a row of the table of contents.

    The place is the id of a container, or one of the words for being in none.
    """

    piece: str
    part: str
    name: str
    build: str
    place: str
    condition: str
    event: str
    item: str
    layer: int | None
    where: str


class CountedLine(NamedTuple):
    """One line of one count."""

    change: int
    at: str
    container: str
    what: str
    expected: int
    found: int
    broken: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """Where someone says that a piece is.

    Parameters
    ----------
    piece
        Its id.
    place
        A container, or ``out``, ``missing`` or ``unstowed``.
    condition
        ``whole``, ``broken``, or nothing for as before.
    event
        What it is out for, or nothing.
    entry
        Where that is said, to name it in errors.
    """

    piece: str
    place: str
    condition: str = ""
    event: str = ""
    entry: str = ""


def contents(rows: Rows, box: Box | None = None) -> tuple[Content, ...]:
    """Return every piece and where it is, or only what lies in one container."""
    where = "WHERE p.container_id = :box" if box else ""
    values = {"box": box.id} if box else {}
    return tuple(_content(row) for row in rows.rows(_ALL.format(where=where), **values))


def _content(row: tuple[object, ...]) -> Content:
    piece, part, name, build, state, container, condition, event, item, layer, *rest = row
    where = ""
    if layer is not None:
        where = place_in_words(Cuboid(*rest[:6]), tuple(rest[6:]))  # type: ignore[arg-type]
    return Content(
        piece=str(piece),
        part=str(part),
        name=str(name),
        build=str(build or ""),
        place=str(container or state),
        condition=str(condition),
        event=str(event or ""),
        item=str(item or ""),
        layer=None if layer is None else int(str(layer)),
        where=where,
    )


def counts(rows: Rows) -> tuple[CountedLine, ...]:
    """Return every line of every count, the first count first."""
    return tuple(CountedLine(*row) for row in rows.rows(_COUNTS))


def put_contents(store: Store, stated: Sequence[Stated], source: str) -> tuple[str, ...]:
    """Record where pieces are by someone's table; return the ids of those that changed.

    Parameters
    ----------
    store
        The store.
    stated
        Where pieces are said to be; those that are not named stay as they are.
    source
        What to call the table in errors and in the history.

    Raises
    ------
    InputError
        If the store has no such piece or container, with every problem; nothing is then recorded.
    UsageError
        If everything is already as it is said to be.
    """
    with changing(store, "import") as change:
        known = {row[0] for row in change.rows("SELECT id FROM pieces")}
        problems = []
        said: dict[str, tuple[Stated, Box | None]] = {}
        for one in stated:
            try:
                said[one.piece] = (one, _understood(change, one, known, said))
            except UsageError as error:
                problems.append(
                    Problem(file=source, entry=one.entry, message=error.message, hint=error.hint)
                )
        if problems:
            raise InputError(problems)
        before = load_pieces(change, said)
        after = [_as_stated(row, *said[row["id"]], change.id) for row in before]
        changed = [new for old, new in zip(before, after, strict=True) if old != new]
        if not changed:
            raise UsageError(f"{source}: everything is already recorded so")
        change.save(pieces, changed)
        change.summary = f"took over {len(changed)} places from {source}"
    return tuple(row["id"] for row in changed)


def _understood(
    rows: Rows, one: Stated, known: set[str], said: dict[str, tuple[Stated, Box | None]]
) -> Box | None:
    if one.piece not in known:
        raise UsageError(f"the store has no piece {one.piece}", hint=nearest(one.piece, known))
    if one.piece in said:
        raise UsageError(f"{one.piece} is there twice")
    if one.condition and one.condition not in _CONDITIONS:
        raise UsageError(f"{one.piece}: expected whole or broken, not {one.condition}")
    if one.place in set(State) - {State.STOWED}:
        return None
    return box_of(rows, one.place)


def _as_stated(row: Row, one: Stated, box: Box | None, change: int) -> Row:
    row = {**row, "condition": one.condition or row["condition"]}
    if box:
        return row if row["container_id"] == box.id else placed(row, box, None, change)
    event = one.event or None if one.place == State.OUT else None
    if (row["state"], row["event"]) == (one.place, event):
        return row
    return placed(row, None, event, change) | {"state": one.place}
