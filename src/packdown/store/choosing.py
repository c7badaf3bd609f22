"""Which pieces the user means: a piece, an item, a build, a part or what lies in a container."""

from typing import NamedTuple

from packdown.errors import UsageError, nearest
from packdown.model import as_short_id
from packdown.store.connection import Rows
from packdown.store.records import Box

__all__ = ["Choice", "choose_pieces", "find_pieces"]

_MEANINGS = (
    ("piece", "p.id = :name"),
    ("individual", "v.name = :name"),
    ("item", "i.item = :name"),
    ("build", "p.build_id = :name"),
    ("part", "p.part_id = :name"),
    ("container", "p.container_id = :name"),
    ("container", "c.short_id = :short"),
    ("build", "LOWER(b.name) = LOWER(:name)"),
    ("part", "LOWER(q.name) = LOWER(:name)"),
    ("item", "LOWER(i.name) = LOWER(:name)"),
    ("individual", "LOWER(v.name) = LOWER(:name)"),
)
"""What a name can stand for, tried in this order."""
_PIECES = """
SELECT p.id, COALESCE(v.name, q.name), p.container_id, p.state
FROM pieces p
JOIN parts q ON q.id = p.part_id
LEFT JOIN builds b ON b.id = p.build_id
LEFT JOIN containers c ON c.id = p.container_id
LEFT JOIN items i ON i.container_id = p.container_id AND i.number = p.item_number
LEFT JOIN individuals v ON v.piece_id = p.id
WHERE {condition}
ORDER BY COALESCE(LENGTH(i.lift_first), 0), COALESCE(p.item_number, 0) DESC, p.id
"""
_NAMES = """
SELECT id FROM builds UNION SELECT id FROM parts UNION SELECT id FROM containers
UNION SELECT name FROM builds UNION SELECT name FROM parts
"""


class Choice(NamedTuple):
    """A piece that a name can stand for, and where it is."""

    piece: str
    name: str
    container: str | None
    state: str


def choose_pieces(
    rows: Rows, name: str, *, source: Box | None = None, number: int | None = None
) -> tuple[str, ...]:
    """Return the ids of the pieces that a name stands for, the easiest to reach first.

    Parameters
    ----------
    rows
        The store.
    name
        Id of a piece, of an item of the plan, of a build, of a part or of a container, a short
        id, or one of their names.
    source
        Only pieces in this container.
    number
        Only so many of them.

    Raises
    ------
    UsageError
        If there are no such pieces, too few, or if it is unclear which ones are meant.
    """
    pieces = find_pieces(rows, name)
    if source:
        pieces = [piece for piece in pieces if piece.container == source.id]
        if not pieces:
            raise UsageError(f"no {name} lies in {source.name}", hint="packdown find says where")
    if number is None:
        return tuple(one.piece for one in pieces)
    if number > len(pieces):
        there = "there is only 1" if len(pieces) == 1 else f"there are only {len(pieces)}"
        raise UsageError(f"{number} x {name} were asked for, {there}")
    if number < len(pieces) and len({one[2:] for one in pieces}) > 1:
        raise UsageError(
            f"pieces called {name} lie in several places", hint="say which container with --from"
        )
    return tuple(one.piece for one in pieces[:number])


def find_pieces(rows: Rows, name: str) -> list[Choice]:
    """Return all pieces that a name stands for, see `choose_pieces`.

    Raises
    ------
    UsageError
        If there are none.
    """
    for _, condition in _MEANINGS:
        values = {"short": as_short_id(name) or ""} if ":short" in condition else {"name": name}
        found = rows.rows(_PIECES.format(condition=condition), **values)
        if found:
            return [Choice(*row) for row in found]
    known = [row[0] for row in rows.rows(_NAMES)]
    raise UsageError(f"the store has no {name}", hint=nearest(name, known))
