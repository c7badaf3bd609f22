"""Moving pieces by hand: into another container, or out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packdown.errors import UsageError
from packdown.store.choosing import choose_pieces
from packdown.store.connection import Rows, Store
from packdown.store.finding import box_of
from packdown.store.journal import Change, Row, changing
from packdown.store.records import Box
from packdown.store.schema import pieces as pieces_table
from packdown.store.settling import PLACE

__all__ = ["OUT", "Moved", "load_pieces", "move", "placed"]

OUT = "out"
"""What the user says for a place that is no container."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What a move did.

    Parameters
    ----------
    change
        Number of the change.
    pieces
        Ids of the pieces that moved.
    box
        Where they are now; None is out.
    weight_g, payload_g
        What lies in that container now, and what may be put into it.
    """

    change: int
    pieces: tuple[str, ...]
    box: Box | None
    weight_g: int = 0
    payload_g: int = 0


def move(
    store: Store,
    names: Sequence[str],
    to: str,
    *,
    source: str | None = None,
    number: int | None = None,
    event: str | None = None,
) -> Moved:
    """Record that pieces were moved by hand.

    Parameters
    ----------
    store
        The store.
    names
        What was moved, see `choose_pieces`.
    to
        Id, short id or name of a container, or ``out``.
    source
        The container they were taken from; None for wherever they are.
    number
        How many of each were moved; None for all.
    event
        What they are out for.

    Raises
    ------
    UsageError
        If there are no such pieces or is no such container, or if all are there already.
    """
    if event and to != OUT:
        raise UsageError("only what is out can be out for an event", hint=f"say --to {OUT}")
    with changing(store, "move") as change:
        box = None if to == OUT else box_of(change, to)
        taken_from = box_of(change, source) if source else None
        chosen = dict.fromkeys(
            piece
            for name in names
            for piece in choose_pieces(change, name, source=taken_from, number=number)
        )
        before = load_pieces(change, chosen)
        after = [placed(row, box, event, change.id) for row in before]
        columns = ("state", "container_id") if box else ("state", "event")
        moved = [
            new
            for old, new in zip(before, after, strict=True)
            if any(old[column] != new[column] for column in columns)
        ]
        if not moved:
            raise UsageError(f"all of that is already {_where(box)}")
        change.save(pieces_table, moved)
        change.summary = f"moved {_gist(names, len(moved))} {_where(box, event)}"
        gross = _load(change, box, moved)
    return Moved(
        change=change.id,
        pieces=tuple(row["id"] for row in moved),
        box=box,
        weight_g=gross[0],
        payload_g=gross[1],
    )


def load_pieces(change: Change, names: Iterable[str]) -> list[Row]:
    """Load pieces by their ids, in that order."""
    wanted = [(name,) for name in names]
    rows = change.load_keys(pieces_table, wanted)
    return [rows[key] for key in wanted]


def placed(row: Row, box: Box | None, event: str | None, change: int) -> Row:
    """Return a piece once it was put by hand into a container, or taken out of all."""
    place: tuple[str | int | None, ...]
    if box:
        place = ("stowed", box.id, None, None, box.id, change)
    else:
        place = ("out", None, None, event, row["container_id"] or row["seen_in"], change)
    return {**row, **dict(zip(PLACE, place, strict=True))}


def _where(box: Box | None, event: str | None = None) -> str:
    if box:
        return f"to {box.name}"
    return f"out for {event}" if event else "out"


def _gist(names: Sequence[str], number: int) -> str:
    shown = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    return shown if number == len(names) else f"{shown} ({number} pieces)"


def _load(rows: Rows, box: Box | None, moved: Sequence[Row]) -> tuple[int, int]:
    """Return what lies in a container once pieces have come into it, and what may."""
    if box is None:
        return 0, 0
    sql = "SELECT COALESCE(SUM(weight_g), 0) FROM pieces WHERE container_id = :box"
    inside = rows.rows(sql, box=box.id)[0][0]
    payload = rows.rows("SELECT payload_g FROM containers WHERE id = :box", box=box.id)[0][0]
    return int(inside) + sum(row["weight_g"] for row in moved), int(payload)
