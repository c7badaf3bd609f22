"""What is owned, what is where, and the history of it."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def _key(name: str, kind: type[sa.Integer | sa.String], target: str = "") -> "sa.Column[object]":
    return sa.Column(name, kind(), *_to(target), primary_key=True, autoincrement=False)


def _need(name: str, kind: type[sa.Integer | sa.String], target: str = "") -> "sa.Column[object]":
    return sa.Column(name, kind(), *_to(target), nullable=False)


def _may(name: str, kind: type[sa.Integer | sa.String], target: str = "") -> "sa.Column[object]":
    return sa.Column(name, kind(), *_to(target))


def _to(target: str) -> tuple[sa.ForeignKey, ...]:
    return (sa.ForeignKey(target, deferrable=True, initially="DEFERRED"),) if target else ()


def upgrade() -> None:
    """Make all tables, and the one row that writers lock."""
    _history()
    _records()
    _definitions()
    _pieces()
    _individuals()


def _history() -> None:
    op.create_table(
        "collection",
        _key("id", sa.Integer),
        _need("created_at", sa.String),
        sa.CheckConstraint("id = 1", name="only_one"),
    )
    op.create_table(
        "changes",
        _key("id", sa.Integer),
        _need("at", sa.String),
        _need("verb", sa.String),
        _need("summary", sa.Text),
        _may("undoes", sa.Integer, "changes.id"),
    )
    op.create_table(
        "change_rows",
        _key("change_id", sa.Integer, "changes.id"),
        _key("number", sa.Integer),
        _need("table_name", sa.String),
        _need("key", sa.Text),
        _may("before", sa.Text),
        _may("after", sa.Text),
    )


def _records() -> None:
    op.create_table(
        "plans",
        _key("id", sa.Integer),
        _need("digest", sa.String),
        _need("workspace", sa.Text),
        _need("added_at", sa.String),
        sa.Column("document", sa.LargeBinary(), nullable=False),
        sa.UniqueConstraint("digest"),
    )
    op.create_table(
        "stowings",
        _key("change_id", sa.Integer, "changes.id"),
        _need("plan_id", sa.Integer, "plans.id"),
    )
    op.create_table(
        "stowed_containers",
        _key("change_id", sa.Integer, "stowings.change_id"),
        _key("container_id", sa.String),
    )
    op.create_table(
        "counts",
        _key("change_id", sa.Integer, "changes.id"),
        _need("container_id", sa.String),
    )
    op.create_table(
        "count_lines",
        _key("change_id", sa.Integer, "counts.change_id"),
        _key("number", sa.Integer),
        _need("what", sa.Text),
        _need("expected", sa.Integer),
        _need("found", sa.Integer),
        _need("broken", sa.Integer),
    )


def _definitions() -> None:
    for table in ("parts", "builds"):
        op.create_table(
            table, _key("id", sa.String), _need("name", sa.Text), _need("tags", sa.Text)
        )
    op.create_table(
        "containers",
        _key("id", sa.String),
        sa.Column("short_id", sa.String(6), nullable=False),
        _need("name", sa.Text),
        _need("type", sa.Text),
        *(_need(f"{side}_um", sa.Integer) for side in ("length", "width", "height")),
        _need("tare_g", sa.Integer),
        _need("payload_g", sa.Integer),
        _may("stacked_on", sa.String),
        _may("plan_id", sa.Integer, "plans.id"),
        sa.UniqueConstraint("short_id"),
    )
    op.create_table(
        "items",
        _key("container_id", sa.String, "containers.id"),
        _key("number", sa.Integer),
        _need("item", sa.String),
        _need("name", sa.Text),
        _need("kind", sa.String),
        _need("layer", sa.Integer),
        _may("unpack_step", sa.Integer),
        *(_need(f"{corner}_um", sa.Integer) for corner in ("x0", "y0", "z0", "x1", "y1", "z1")),
        _need("on_top", sa.Text),
        _need("lift_first", sa.Text),
    )


def _pieces() -> None:
    op.create_table(
        "pieces",
        _key("id", sa.String),
        _need("part_id", sa.String, "parts.id"),
        _may("build_id", sa.String, "builds.id"),
        _need("weight_g", sa.Integer),
        _need("condition", sa.String),
        _need("state", sa.String),
        _may("container_id", sa.String, "containers.id"),
        _may("item_number", sa.Integer),
        _may("event", sa.Text),
        _may("seen_in", sa.String, "containers.id"),
        _may("seen_change", sa.Integer, "changes.id"),
        sa.ForeignKeyConstraint(
            ["container_id", "item_number"],
            ["items.container_id", "items.number"],
            deferrable=True,
            initially="DEFERRED",
        ),
        sa.CheckConstraint("state IN ('stowed', 'out', 'missing', 'unstowed')", name="state"),
        sa.CheckConstraint("condition IN ('whole', 'broken')", name="condition"),
        sa.CheckConstraint("(state = 'stowed') = (container_id IS NOT NULL)", name="one_place"),
        sa.CheckConstraint("item_number IS NULL OR container_id IS NOT NULL", name="item_inside"),
    )
    for columns in (
        ["part_id", "build_id"],
        ["build_id"],
        ["container_id", "item_number"],
        ["state"],
        ["event"],
    ):
        op.create_index(None, "pieces", columns)
    op.create_table(
        "contents",
        _key("piece_id", sa.String, "pieces.id"),
        _key("part_id", sa.String, "parts.id"),
        _need("count", sa.Integer),
    )
    op.create_index(None, "contents", ["part_id"])


def _individuals() -> None:
    op.create_table(
        "individuals",
        _key("piece_id", sa.String, "pieces.id"),
        _may("name", sa.Text),
        _need("tags", sa.Text),
    )
    op.create_table(
        "photos",
        _key("piece_id", sa.String, "individuals.piece_id"),
        _key("number", sa.Integer),
        _need("path", sa.Text),
    )
