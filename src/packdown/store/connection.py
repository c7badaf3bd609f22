"""The connection to the store; no other module opens one.

A store in a file is read through SQLite's own driver and written through SQLAlchemy, since loading
SQLAlchemy takes longer than a search. The statements are the same, and a store in any other
database is read and written through SQLAlchemy.
"""

import os
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from packdown.errors import StoreError
from packdown.store.location import file_of
from packdown.store.revision import REVISION, REVISIONS, VERSION_TABLE
from packdown.store.trouble import explained

if TYPE_CHECKING:
    from sqlalchemy import Connection, Engine

__all__ = ["NoStoreError", "Rows", "ServerRows", "Store"]

BUSY_S = 20.0
"""How long to wait for another program that is writing, in seconds."""
_PASSWORD = re.compile(r"(://[^:/@]*:)[^@]*@")
_VERSION = f"SELECT version_num FROM {VERSION_TABLE}"  # noqa: S608 - our own constant
_LOCK_OF_POSTGRES = "SELECT pg_advisory_xact_lock(7061636)"


class NoStoreError(StoreError):
    """There is no store at this address yet."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f"{name}: there is no store yet",
            hint="packdown stow PLAN makes one; --store says where another is",
        )


class Rows(Protocol):
    """What can be asked for rows: a store that is read, or one that is being changed."""

    def rows(self, sql: str, /, **values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a statement in portable SQL, its values named ``:value``."""


class _FileRows:
    """Rows of a store in a file."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def rows(self, sql: str, /, **values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a statement."""
        return self._connection.execute(sql, values).fetchall()


class ServerRows:
    """Rows of a store through SQLAlchemy."""

    def __init__(self, connection: "Connection") -> None:
        self._connection = connection

    def rows(self, sql: str, /, **values: object) -> list[tuple[Any, ...]]:
        """Return the rows of a statement."""
        from sqlalchemy import text

        return [tuple(row) for row in self._connection.execute(text(sql), values)]


class Store:
    """One store; every use opens a connection, and closes it.

    Parameters
    ----------
    url
        Its address, see `packdown.store.location.store_url`.
    busy_s
        How long to wait for another program that is writing, in seconds.
    """

    def __init__(self, url: str, *, busy_s: float = BUSY_S) -> None:
        try:
            self.file = file_of(url)
        except ValueError as error:
            raise StoreError(str(error), hint="name a file") from error
        self._url = url
        self._busy_s = busy_s

    @property
    def name(self) -> str:
        """What to call it: its file, or its address without a password."""
        if self.file:
            return str(self.file)
        return _PASSWORD.sub(r"\1***@", self._url)

    @contextmanager
    def reading(self) -> Iterator[Rows]:
        """Read the store as it is at one moment.

        Raises
        ------
        StoreError
            If there is none, or it cannot be read.
        """
        with explained(self.name), self._opened() as (rows, revision):
            if revision == REVISION:
                yield rows
                return
        _check_revision(self.name, revision)
        if revision is None:
            raise NoStoreError(self.name)
        with self.writing():
            pass  # to bring the tables up to date
        with explained(self.name), self._opened() as (rows, _):
            yield rows

    @contextmanager
    def writing(self) -> "Iterator[Connection]":
        """Change the store in one transaction, alone; what fails leaves it as it was.

        A store that is not there is made.

        Raises
        ------
        StoreError
            If it cannot be written.
        """
        with explained(self.name):
            engine = self._engine()
            try:
                with engine.connect() as connection, connection.begin():
                    self._prepare(connection)
                    yield connection
            finally:
                engine.dispose()

    @contextmanager
    def _opened(self) -> Iterator[tuple[Rows, str | None]]:
        """Open the store for reading; say its revision, or None where there are no tables."""
        if self.file:
            if not self.file.exists():
                raise NoStoreError(self.name)
            with closing(_open_file(self.file, self._busy_s)) as connection:
                connection.execute("BEGIN")
                yield _FileRows(connection), _revision_of_file(connection, self.name)
            return
        from sqlalchemy import inspect

        engine = self._engine()
        try:
            with engine.connect().execution_options(isolation_level="REPEATABLE READ") as server:
                rows = ServerRows(server)
                known = inspect(server).has_table(VERSION_TABLE)
                yield rows, rows.rows(_VERSION)[0][0] if known else None
        finally:
            engine.dispose()

    def _prepare(self, connection: "Connection") -> None:
        """Wait for other writers, and bring the tables up to date."""
        from sqlalchemy import inspect, select, text

        from packdown.store.schema import collection

        if connection.dialect.name == "postgresql":
            connection.execute(text(_LOCK_OF_POSTGRES))
        inspector = inspect(connection)
        revision = None
        if inspector.has_table(VERSION_TABLE):
            revision = connection.execute(text(_VERSION)).scalar()
        elif self.file and inspector.get_table_names():
            raise _foreign(self.name)
        _check_revision(self.name, revision)
        if revision != REVISION:
            from packdown.store.migrate import upgrade

            upgrade(connection)
        connection.execute(select(collection.c.id).with_for_update())

    def _engine(self) -> "Engine":
        from sqlalchemy import NullPool, create_engine, event
        from sqlalchemy.exc import ArgumentError, NoSuchModuleError

        if self.file and not self.file.parent.is_dir():
            raise StoreError(f"{self.file}: there is no such folder", hint="make it first")
        try:
            engine = create_engine(self._url, poolclass=NullPool)
        except (ArgumentError, NoSuchModuleError) as error:
            raise StoreError(f"{self.name} is no address of a database") from error
        except ModuleNotFoundError as error:
            raise StoreError(
                f"{self.name}: the driver {error.name} is missing",
                hint="for PostgreSQL: pip install 'packdown[postgres]'",
            ) from error
        if self.file:
            event.listen(engine, "connect", self._set_up_file)
            event.listen(engine, "begin", _begin)
        return engine

    def _set_up_file(self, connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # transactions begin where we say so
        connection.execute(f"PRAGMA busy_timeout = {int(self._busy_s * 1000)}")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA journal_mode = WAL")


def _begin(connection: "Connection") -> None:
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def _open_file(path: Path, busy_s: float) -> sqlite3.Connection:
    """Open a file for reading, also where nothing beside it can be written."""
    options = "mode=rw"
    if not os.access(path.parent, os.W_OK) and not Path(f"{path}-wal").exists():
        options = "immutable=1"  # nobody can be writing it
    return sqlite3.connect(
        f"{path.resolve().as_uri()}?{options}", uri=True, timeout=busy_s, isolation_level=None
    )


def _revision_of_file(connection: sqlite3.Connection, name: str) -> str | None:
    tables = {row[0] for row in connection.execute("SELECT name FROM sqlite_master")}
    if VERSION_TABLE in tables:
        revision: str = connection.execute(_VERSION).fetchone()[0]
        return revision
    if tables:
        raise _foreign(name)
    return None


def _foreign(name: str) -> StoreError:
    return StoreError(f"{name} is a database, but no store of Packdown", hint="name another file")


def _check_revision(name: str, revision: str | None) -> None:
    if revision is not None and revision not in REVISIONS:
        raise StoreError(f"{name} was made by a later Packdown", hint="update Packdown")
