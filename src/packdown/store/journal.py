"""Changes: each is one transaction, is journalled row by row, and can be undone.

The journal is only ever added to. Undoing a change is a change of its own, which names the one
that it undoes; it can be undone in turn.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, Table, bindparam

from packdown.store.connection import Rows, ServerRows, Store
from packdown.store.moments import now
from packdown.store.schema import STATE, TABLES

__all__ = ["Change", "Key", "Row", "changing", "load_rows"]

Row = dict[str, Any]
"""A row by the names of its columns."""
Key = tuple[Any, ...]
"""The values of a row's primary key."""


def load_rows(rows: Rows, table: Table, where: str = "", **values: object) -> dict[Key, Row]:
    """Return rows of a table by their keys.

    Parameters
    ----------
    rows
        A store that is read or changed.
    table
        The table.
    where
        A condition in portable SQL, or nothing for all rows.
    values
        Values that the condition names.
    """
    names = [column.name for column in table.columns]
    condition = f" WHERE {where}" if where else ""
    sql = f"SELECT {', '.join(names)} FROM {table.name}{condition}"  # noqa: S608 - our own words
    found = [dict(zip(names, row, strict=True)) for row in rows.rows(sql, **values)]
    return {_key(table, row): row for row in found}


MANY = 50
"""From so many rows of a table on it is read as a whole."""


class Change:
    """One change under way.

    State is first loaded, then saved or removed: so its journal knows what was there before.

    Parameters
    ----------
    id
        Number in the history, counted from 1.
    at
        When it is made.
    summary
        What it does, in a sentence; to be set before it is complete.
    undoes
        The change that it undoes, if any; likewise.
    """

    def __init__(self, connection: Connection, verb: str) -> None:
        self._connection = connection
        self._server = ServerRows(connection)
        self._before: dict[str, dict[Key, Row]] = {table.name: {} for table in STATE}
        self._after: dict[str, dict[Key, Row | None]] = {table.name: {} for table in STATE}
        self._verb = verb
        self.id: int = 1 + (self.rows("SELECT MAX(id) FROM changes")[0][0] or 0)
        self.at = now()
        self.summary = ""
        self.undoes: int | None = None

    def rows(self, sql: str, /, **values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a statement; what this change saved is not yet among them."""
        return self._server.rows(sql, **values)

    def load_keys(self, table: Table, keys: Iterable[Key]) -> dict[Key, Row]:
        """Return the rows of some keys, as far as they are there."""
        wanted = set(keys)
        if len(wanted) > MANY:
            return {key: row for key, row in self.load(table).items() if key in wanted}
        found: dict[Key, Row] = {}
        for key in wanted:
            columns = [column.name for column in table.primary_key]
            condition = " AND ".join(f"{column} = :{column}" for column in columns)
            found |= self.load(table, condition, **dict(zip(columns, key, strict=True)))
        return found

    def load(self, table: Table, where: str = "", **values: object) -> dict[Key, Row]:
        """Return rows of a table of state by their keys.

        Parameters
        ----------
        table
            The table.
        where
            A condition in portable SQL, or nothing for all rows.
        values
            Values that the condition names.
        """
        rows = load_rows(self, table, where, **values)
        self._before[table.name].update({key: dict(row) for key, row in rows.items()})
        return rows

    def save(self, table: Table, rows: Iterable[Row]) -> None:
        """Write rows of a table of state: loaded ones are replaced, others are new."""
        for row in rows:
            self._after[table.name][_key(table, row)] = dict(row)

    def remove(self, table: Table, keys: Iterable[Key]) -> None:
        """Delete loaded rows of a table of state."""
        for key in keys:
            self._after[table.name][key] = None

    def add(self, table: Table, rows: Iterable[Row]) -> None:
        """Add to a table of records."""
        found = list(rows)
        if found:
            self._connection.execute(table.insert(), found)

    @property
    def is_empty(self) -> bool:
        """Whether no row of state differs from what it was."""
        return not any(self._written(table) for table in STATE)

    def _written(self, table: Table) -> list[tuple[Key, Row | None, Row | None]]:
        before = self._before[table.name]
        return [
            (key, before.get(key), after)
            for key, after in self._after[table.name].items()
            if before.get(key) != after
        ]

    def finish(self) -> None:
        """Write all rows and the journal."""
        self.add(
            TABLES["changes"],
            [
                {
                    "id": self.id,
                    "at": self.at,
                    "verb": self._verb,
                    "summary": self.summary,
                    "undoes": self.undoes,
                }
            ],
        )
        journal: list[Row] = []
        for table in STATE:
            written = self._written(table)
            self._write(table, written)
            for key, before, after in written:
                journal.append(
                    {
                        "change_id": self.id,
                        "number": len(journal) + 1,
                        "table_name": table.name,
                        "key": _json(key),
                        "before": None if before is None else _json(before),
                        "after": None if after is None else _json(after),
                    }
                )
        self.add(TABLES["change_rows"], journal)

    def _write(self, table: Table, written: list[tuple[Key, Row | None, Row | None]]) -> None:
        fresh = [after for _, before, after in written if before is None and after is not None]
        changed = [after for _, before, after in written if before is not None and after]
        gone = [before for _, before, after in written if before is not None and after is None]
        keys = [column.name for column in table.primary_key]
        match = [table.c[name] == bindparam(f"old_{name}") for name in keys]

        def bound(row: Row) -> Row:
            return {f"old_{name}": row[name] for name in keys}

        if gone:
            self._connection.execute(table.delete().where(*match), [bound(row) for row in gone])
        if changed:
            names = [column.name for column in table.columns if column.name not in keys]
            values: dict[str, Any] = {name: bindparam(f"new_{name}") for name in names}
            self._connection.execute(
                table.update().where(*match).values(values),
                [bound(row) | {f"new_{name}": row[name] for name in names} for row in changed],
            )
        if fresh:
            self._connection.execute(table.insert(), fresh)


@contextmanager
def changing(store: Store, verb: str) -> Iterator[Change]:
    """Make one change: all of it, or nothing if anything fails.

    Parameters
    ----------
    store
        The store.
    verb
        What the history calls it.
    """
    with store.writing() as connection:
        change = Change(connection, verb)
        yield change
        change.finish()


def _key(table: Table, row: Mapping[str, Any]) -> Key:
    return tuple(row[column.name] for column in table.primary_key)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
