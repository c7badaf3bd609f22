"""The history, and taking back what it tells of."""

import json
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Table
from sqlalchemy.exc import IntegrityError

from packdown.errors import UsageError
from packdown.store.connection import Rows, Store
from packdown.store.journal import Change, Key, Row, changing
from packdown.store.schema import TABLES

__all__ = ["Entry", "history", "undo"]

_ENTRIES = """
SELECT c.id, c.at, c.verb, c.summary, c.undoes, COUNT(r.number)
FROM changes c LEFT JOIN change_rows r ON r.change_id = c.id
GROUP BY c.id, c.at, c.verb, c.summary, c.undoes
ORDER BY c.id DESC
"""
_ROWS = """
SELECT table_name, key, before, after FROM change_rows WHERE change_id = :change
ORDER BY number DESC
"""
_LATER = "undo the later one first; packdown history lists them"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One change of the history.

    Parameters
    ----------
    id
        Its number, counted from 1.
    at
        When it was made.
    verb, summary
        What it did, in one word and in a sentence.
    undoes
        The change that it undid, if any.
    num_rows
        How many rows it wrote.
    stands
        Whether it has not been undone.
    """

    id: int
    at: str
    verb: str
    summary: str
    undoes: int | None
    num_rows: int
    stands: bool


def history(rows: Rows) -> tuple[Entry, ...]:
    """Return all changes, the newest first."""
    entries = []
    undone: set[int] = set()
    for number, at, verb, summary, undoes, num_rows in rows.rows(_ENTRIES):
        stands = number not in undone
        if stands and undoes is not None:
            undone.add(undoes)
        entries.append(
            Entry(
                id=number,
                at=at,
                verb=verb,
                summary=summary,
                undoes=undoes,
                num_rows=num_rows,
                stands=stands,
            )
        )
    return tuple(entries)


def undo(store: Store, number: int | None = None) -> Entry:
    """Take back a change; that is a change of its own.

    Parameters
    ----------
    store
        The store.
    number
        The change to take back; None for the last one that stands and is no undoing itself.

    Returns
    -------
    Entry
        What was taken back.

    Raises
    ------
    UsageError
        If there is no such change, it is undone already, or a later one builds on it.
    """
    try:
        return _undo(store, number)
    except IntegrityError as error:
        which = "the last change" if number is None else f"change {number}"
        raise UsageError(
            f"{which} cannot be undone: a later one builds on it", hint=_LATER
        ) from error


def _undo(store: Store, number: int | None) -> Entry:
    with changing(store, "undo") as change:
        entry = _entry(history(change), number)
        rows: dict[str, list[tuple[Key, Row | None, Row | None]]] = defaultdict(list)
        for table, key, before, after in change.rows(_ROWS, change=entry.id):
            rows[table].append((tuple(json.loads(key)), _row(before), _row(after)))
        for name, written in rows.items():
            _take_back(change, entry.id, TABLES[name], written)
        change.undoes = entry.id
        change.summary = f"undid change {entry.id}: {entry.summary}"
    return entry


def _entry(entries: tuple[Entry, ...], number: int | None) -> Entry:
    if number is None:
        for entry in entries:
            if entry.stands and entry.undoes is None:
                return entry
        raise UsageError("there is nothing to undo")
    for entry in entries:
        if entry.id == number:
            if entry.stands:
                return entry
            raise UsageError(f"change {number} is undone already")
    raise UsageError(f"there is no change {number}", hint="packdown history lists them")


def _take_back(
    change: Change, number: int, table: Table, written: list[tuple[Key, Row | None, Row | None]]
) -> None:
    """Give rows the values they had before; refuse where one has changed since."""
    current = change.load_keys(table, [key for key, _, _ in written])
    empty = {column.name: None for column in table.columns}
    for key, was, became in written:
        now = current.get(key)
        if not _same(now, became):
            raise UsageError(
                f"change {number} cannot be undone: a later one changed "
                f"{' '.join(map(str, key))} again",
                hint=_LATER,
            )
        if was is None:
            change.remove(table, [key])
        else:
            known = {name: value for name, value in was.items() if name in empty}
            change.save(table, [{**empty, **(now or {}), **known}])


def _row(text: str | None) -> Row | None:
    return None if text is None else json.loads(text)


def _same(current: Mapping[str, Any] | None, became: Mapping[str, Any] | None) -> bool:
    """Whether a row is as a change left it, in the columns that it knew."""
    if current is None or became is None:
        return current is became
    return all(current[name] == value for name, value in became.items() if name in current)
