"""Called by Alembic: run the revisions on the connection of the store, in its transaction."""

from alembic import context

from packdown.store.revision import VERSION_TABLE
from packdown.store.schema import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    version_table=VERSION_TABLE,
    transactional_ddl=True,
)
context.run_migrations()
