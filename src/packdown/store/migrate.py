"""Bringing the tables of a store up to this version of the program."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, text

from packdown.store.moments import now
from packdown.store.revision import REVISION

__all__ = ["upgrade"]

_SCRIPTS = Path(__file__).with_name("migrations")


def upgrade(connection: Connection, to: str = REVISION) -> None:
    """Run the migrations that are missing, in the transaction of the connection.

    Parameters
    ----------
    connection
        In a transaction that nobody else writes beside; the caller commits it.
    to
        Revision to reach.
    """
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, to)
    if not _has_row(connection):
        connection.execute(text("INSERT INTO collection VALUES (1, :at)"), {"at": now()})


def _has_row(connection: Connection) -> bool:
    return bool(connection.execute(text("SELECT COUNT(*) FROM collection")).scalar())
