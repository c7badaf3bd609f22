"""How many pieces an item had when it was put in, so that one sees when some are taken out."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_COUNTED = """
UPDATE items SET num_pieces = (
    SELECT COUNT(*) FROM pieces
    WHERE pieces.container_id = items.container_id AND pieces.item_number = items.number)
"""


def upgrade() -> None:
    """Add the column; of items that are there the pieces are counted as they are now."""
    op.add_column("items", sa.Column("num_pieces", sa.Integer()))
    op.execute(_COUNTED)
