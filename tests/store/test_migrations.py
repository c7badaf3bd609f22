"""From nothing, and from every schema that was ever released, to the present one."""

from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from packdown.store import migrate
from packdown.store.connection import Store
from packdown.store.revision import REVISION, REVISIONS, VERSION_TABLE
from packdown.store.schema import METADATA, STATE, TABLES
from support.stores import stowed
from support.stow_plans import stowing_plan


def test_every_revision_is_known() -> None:
    """The scripts stand in one line, and the program knows them in this order."""
    config = Config()
    config.set_main_option("script_location", str(migrate._SCRIPTS))
    scripts = ScriptDirectory.from_config(config)
    walked = [script.revision for script in scripts.walk_revisions()]
    assert tuple(reversed(walked)) == REVISIONS
    assert scripts.get_current_head() == REVISION


def test_the_migrations_make_the_schema(store: Store) -> None:
    """What they lead to from nothing is what the program writes to."""
    stowed(store, stowing_plan({"long": ["crate#1"]}))
    with store.writing() as connection:
        context = MigrationContext.configure(connection, opts={"version_table": VERSION_TABLE})
        assert compare_metadata(context, METADATA) == []


def test_state_is_journalled_and_records_are_not() -> None:
    """Every table is one or the other."""
    records = {
        "collection", "changes", "change_rows", "plans",
        "stowings", "stowed_containers", "counts", "count_lines",
    }  # fmt: skip
    assert {table.name for table in STATE} == TABLES.keys() - records
