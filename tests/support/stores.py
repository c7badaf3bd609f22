"""Stores for tests: in a file, and on PostgreSQL where a server is at hand."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from uuid import uuid4

from sqlalchemy import NullPool, create_engine, text

from packdown.files import plan_json
from packdown.model import Plan
from packdown.store.connection import Store
from packdown.store.schema import STATE, TABLES
from packdown.store.stowing import Preview, stow
from support.stow_plans import CATALOGUE

SCHEMAS = Path(__file__).resolve().parent.parent / "store" / "schemas"
"""Stores of earlier versions, as statements that make them."""
SERVER = "PACKDOWN_TEST_POSTGRES"
"""Environment variable with the address of a PostgreSQL database that tests may fill."""
NO_SERVER = f"no PostgreSQL server: {SERVER} is not set"


def file_store(folder: Path) -> Store:
    """Return a store in a file of a folder; it is not there yet."""
    return Store(f"sqlite:///{folder / 'packdown.db'}")


@contextmanager
def server_store() -> Iterator[Store]:
    """Lend a store in a schema of its own on the server."""
    url = os.environ[SERVER]
    schema = f"test_{uuid4().hex[:12]}"
    engine = create_engine(url, poolclass=NullPool)
    with engine.begin() as connection:
        connection.execute(text(f"CREATE SCHEMA {schema}"))
    try:
        mark = "&" if "?" in url else "?"
        yield Store(f"{url}{mark}options=-csearch_path%3D{schema}")
    finally:
        with engine.begin() as connection:
            connection.execute(text(f"DROP SCHEMA {schema} CASCADE"))
        engine.dispose()


def address(store: Store) -> str:
    """Return the address that another program can open the store by."""
    return store._url


def released(revision: str, folder: Path) -> Store:
    """Return a store as an earlier version of the program left it.

    It stowed the box of the hand-made plan, then all of it.
    """
    store = file_store(folder)
    assert store.file is not None
    with closing(sqlite3.connect(store.file)) as file:
        file.executescript((SCHEMAS / f"{revision}.sql").read_text(encoding="utf-8"))
    return store


def stowed(store: Store, plan: Plan, *only: str) -> Preview:
    """Stow a plan, or some containers of it."""
    return stow(store, plan, plan_json(plan), only=only or None, catalogue=CATALOGUE)


def everything(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Return all rows of all tables, in the order of their keys."""
    with store.reading() as rows:
        return {
            name: rows.rows(
                f"SELECT {', '.join(c.name for c in table.columns)} FROM {name} "  # noqa: S608
                f"ORDER BY {', '.join(c.name for c in table.primary_key)}"
            )
            for name, table in TABLES.items()
        }


def state(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Return all rows that can change; the history can only grow."""
    rows = everything(store)
    return {table.name: rows[table.name] for table in STATE}


def places(store: Store) -> dict[str, str]:
    """Return where each piece is: its container, or its state."""
    with store.reading() as rows:
        return dict(rows.rows("SELECT id, COALESCE(container_id, state) FROM pieces ORDER BY id"))
