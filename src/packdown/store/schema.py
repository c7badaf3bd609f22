"""The tables of the store.

State may change and is journalled: ``parts``, ``builds``, ``containers``, ``items``, ``pieces``,
``contents``, ``individuals`` and ``photos``. Records are only ever added: ``plans``, ``stowings``,
``counts``, ``changes`` and what belongs to them; they name state by its ids, without foreign keys,
since what they tell of may be gone.

A piece is one row, so it is in exactly one place. What was put into a container as one (an item of
the plan) is a row of ``items``; a piece in it names it by the container and its number there.
"""

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)

__all__ = ["METADATA", "STATE", "TABLES"]

METADATA = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def _to(target: str) -> ForeignKey:
    """Return a foreign key that is checked when the change is complete."""
    return ForeignKey(target, deferrable=True, initially="DEFERRED")


def _need(name: str, kind: type[Integer | String | Text], *keys: ForeignKey) -> Column[object]:
    return Column(name, kind, *keys, nullable=False)


def _key(name: str, kind: type[Integer | String], *keys: ForeignKey) -> Column[object]:
    return Column(name, kind, *keys, primary_key=True, autoincrement=False)


collection = Table(
    "collection",
    METADATA,
    _key("id", Integer),
    _need("created_at", String),
    CheckConstraint("id = 1", name="only_one"),
)
"""One row; writers lock it, so that they come one after the other."""

changes = Table(
    "changes",
    METADATA,
    _key("id", Integer),
    _need("at", String),
    _need("verb", String),
    _need("summary", Text),
    Column("undoes", Integer, _to("changes.id")),
)

change_rows = Table(
    "change_rows",
    METADATA,
    _key("change_id", Integer, _to("changes.id")),
    _key("number", Integer),
    _need("table_name", String),
    _need("key", Text),
    Column("before", Text),
    Column("after", Text),
)
"""Rows that a change wrote, as JSON; nothing before is a new row, nothing after a deleted one."""

plans = Table(
    "plans",
    METADATA,
    _key("id", Integer),
    Column("digest", String, nullable=False, unique=True),
    _need("workspace", Text),
    _need("added_at", String),
    Column("document", LargeBinary, nullable=False),
)
"""Plans that were stowed; the document is the plan file, deflated."""

stowings = Table(
    "stowings",
    METADATA,
    _key("change_id", Integer, _to("changes.id")),
    _need("plan_id", Integer, _to("plans.id")),
)

stowed_containers = Table(
    "stowed_containers",
    METADATA,
    _key("change_id", Integer, _to("stowings.change_id")),
    _key("container_id", String),
)

counts = Table(
    "counts",
    METADATA,
    _key("change_id", Integer, _to("changes.id")),
    _need("container_id", String),
)

count_lines = Table(
    "count_lines",
    METADATA,
    _key("change_id", Integer, _to("counts.change_id")),
    _key("number", Integer),
    _need("what", Text),
    _need("expected", Integer),
    _need("found", Integer),
    _need("broken", Integer),
)

parts = Table("parts", METADATA, _key("id", String), _need("name", Text), _need("tags", Text))

builds = Table("builds", METADATA, _key("id", String), _need("name", Text), _need("tags", Text))

containers = Table(
    "containers",
    METADATA,
    _key("id", String),
    Column("short_id", String(6), nullable=False, unique=True),
    _need("name", Text),
    _need("type", Text),
    _need("length_um", Integer),
    _need("width_um", Integer),
    _need("height_um", Integer),
    _need("tare_g", Integer),
    _need("payload_g", Integer),
    Column("stacked_on", String),
    Column("plan_id", Integer, _to("plans.id")),
)
"""Containers that exist; the plan is the last that was stowed in it."""

items = Table(
    "items",
    METADATA,
    _key("container_id", String, _to("containers.id")),
    _key("number", Integer),
    _need("item", String),
    _need("name", Text),
    _need("kind", String),
    _need("layer", Integer),
    Column("unpack_step", Integer),
    *(_need(f"{corner}_um", Integer) for corner in ("x0", "y0", "z0", "x1", "y1", "z1")),
    _need("on_top", Text),
    _need("lift_first", Text),
    Column("num_pieces", Integer),
)
"""What was put into a container as one, numbered in loading order.

``unpack_step`` is the number of the step of rebuilding that takes it out. ``on_top`` lists the
numbers of what rests on it, ``lift_first`` those of all that must be lifted out before it, in that
order; like ``num_pieces`` they are facts of the plan, whatever has been taken out since.
"""

pieces = Table(
    "pieces",
    METADATA,
    _key("id", String),
    _need("part_id", String, _to("parts.id")),
    Column("build_id", String, _to("builds.id")),
    _need("weight_g", Integer),
    _need("condition", String),
    _need("state", String),
    Column("container_id", String, _to("containers.id")),
    Column("item_number", Integer),
    Column("event", Text),
    Column("seen_in", String, _to("containers.id")),
    Column("seen_change", Integer, _to("changes.id")),
    ForeignKeyConstraint(
        ["container_id", "item_number"],
        ["items.container_id", "items.number"],
        deferrable=True,
        initially="DEFERRED",
    ),
    CheckConstraint("state IN ('stowed', 'out', 'missing', 'unstowed')", name="state"),
    CheckConstraint("condition IN ('whole', 'broken')", name="condition"),
    CheckConstraint("(state = 'stowed') = (container_id IS NOT NULL)", name="one_place"),
    CheckConstraint("item_number IS NULL OR container_id IS NOT NULL", name="item_inside"),
    Index(None, "part_id", "build_id"),
    Index(None, "build_id"),
    Index(None, "container_id", "item_number"),
    Index(None, "state"),
    Index(None, "event"),
)
"""Pieces owned, each in one place; ``seen_in`` is the container it was last seen in."""

contents = Table(
    "contents",
    METADATA,
    _key("piece_id", String, _to("pieces.id")),
    _key("part_id", String, _to("parts.id")),
    _need("count", Integer),
    Index(None, "part_id"),
)
"""What was counted in a piece that was only measured."""

individuals = Table(
    "individuals",
    METADATA,
    _key("piece_id", String, _to("pieces.id")),
    Column("name", Text),
    _need("tags", Text),
)
"""Pieces that are told apart from others of their part."""

photos = Table(
    "photos",
    METADATA,
    _key("piece_id", String, _to("individuals.piece_id")),
    _key("number", Integer),
    _need("path", Text),
)

TABLES = dict(METADATA.tables)
"""Every table by its name."""
STATE = (parts, builds, containers, items, pieces, contents, individuals, photos)
"""Tables whose rows may change; each change of them is journalled and can be undone."""
