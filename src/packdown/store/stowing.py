"""Stowing: recording that a plan was carried out, wholly or for some containers."""

import zlib
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import partial
from hashlib import sha256

from sqlalchemy import Table

from packdown.errors import StoreError, UsageError, nearest
from packdown.model import Plan, meant
from packdown.store.connection import NoStoreError, Store
from packdown.store.differences import Difference, differences
from packdown.store.journal import Change, Key, Row, changing, load_rows
from packdown.store.plan_rows import Catalogue, PlanRows, plan_rows
from packdown.store.schema import (
    TABLES,
    builds,
    containers,
    contents,
    individuals,
    items,
    parts,
    pieces,
)
from packdown.store.settling import settle

__all__ = ["Preview", "preview_stow", "stow"]

Load = Callable[[Table], dict[Key, Row]]
_DEFINED = (parts, builds, containers, pieces, contents, items, individuals)


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What stowing a plan would change.

    Parameters
    ----------
    containers
        Ids of the containers that are filled.
    differences
        Pieces that would be somewhere else than before.
    after_change
        Number of the last change of the store that this takes into account.
    """

    containers: tuple[str, ...]
    differences: tuple[Difference, ...]
    after_change: int


def preview_stow(
    store: Store,
    plan: Plan,
    *,
    only: Collection[str] | None = None,
    catalogue: Catalogue | None = None,
) -> Preview:
    """Return what stowing a plan would change; nothing is written.

    Parameters
    ----------
    store
        The store; it need not be there yet.
    plan
        A plan that was verified.
    only
        Ids or short ids of the containers that were filled; None for all of the plan.
    catalogue
        What the workspace says beyond the plan.

    Raises
    ------
    UsageError
        If the plan has no such container.
    StoreError
        If the store cannot be read.
    """
    chosen = _chosen(plan, only)
    try:
        with store.reading() as rows:
            before = _State.load(partial(load_rows, rows))
            last = rows.rows("SELECT MAX(id) FROM changes")[0][0] or 0
    except NoStoreError:
        before, last = _State.load(lambda _table: {}), 0
    after = before.stowed(plan_rows(plan, catalogue), chosen, last + 1)
    return Preview(containers=chosen, differences=_differences(before, after), after_change=last)


def stow(
    store: Store,
    plan: Plan,
    document: str,
    *,
    only: Collection[str] | None = None,
    catalogue: Catalogue | None = None,
    after_change: int | None = None,
) -> Preview:
    """Record that a plan was carried out; return what changed.

    Parameters
    ----------
    store
        The store; it is made if it is not there.
    plan
        A plan that was verified.
    document
        The text of its file.
    only
        Ids or short ids of the containers that were filled; None for all of the plan.
    catalogue
        What the workspace says beyond the plan.
    after_change
        Number of the last change that the user has seen; None for any.

    Raises
    ------
    UsageError
        If the plan has no such container.
    StoreError
        If the store cannot be written, or was changed after what the user has seen.
    """
    chosen = _chosen(plan, only)
    planned = plan_rows(plan, catalogue)
    with changing(store, "stow") as change:
        if after_change is not None and change.id != after_change + 1:
            raise StoreError(
                f"{store.name}: someone changed it meanwhile", hint="look again, then stow"
            )
        before = _State.load(change.load)
        after = before.stowed(planned, chosen, change.id)
        plan_id = _add_plan(change, plan, document)
        for container in chosen:
            after.rows[containers.name][container,]["plan_id"] = plan_id
        for table in _DEFINED:
            old, new = before.rows[table.name], after.rows[table.name]
            change.remove(table, old.keys() - new.keys())
            change.save(table, new.values())
        change.add(TABLES["stowings"], [{"change_id": change.id, "plan_id": plan_id}])
        change.add(
            TABLES["stowed_containers"],
            [{"change_id": change.id, "container_id": container} for container in chosen],
        )
        change.summary = _summary(plan, chosen)
    return Preview(
        containers=chosen, differences=_differences(before, after), after_change=change.id - 1
    )


@dataclass(frozen=True, slots=True)
class _State:
    """Everything of the store that stowing reads or writes: rows by table and key."""

    rows: Mapping[str, dict[Key, Row]]

    @classmethod
    def load(cls, load: Load) -> "_State":
        return cls({table.name: load(table) for table in _DEFINED})

    def pieces(self) -> dict[str, Row]:
        return {str(row["id"]): row for row in self.rows[pieces.name].values()}

    def stowed(self, plan: PlanRows, chosen: Collection[str], change: int) -> "_State":
        """Return the state once the chosen containers are filled as planned."""
        rows = {name: dict(table) for name, table in self.rows.items()}
        for table, planned in ((parts, plan.parts), (builds, plan.builds)):
            for row in planned:
                known = {"name": row["id"], "tags": ""} | rows[table.name].get((row["id"],), {})
                said = {column: value for column, value in row.items() if value is not None}
                rows[table.name][row["id"],] = known | said
        for row in plan.containers:
            old = rows[containers.name].get((row["id"],))
            _check_short_id(row, rows[containers.name].values())
            rows[containers.name][row["id"],] = {**row, "plan_id": old and old["plan_id"]}
        kept = rows[items.name].items()
        rows[items.name] = {key: row for key, row in kept if key[0] not in chosen} | {
            (row["container_id"], row["number"]): row
            for row in plan.items
            if row["container_id"] in chosen
        }
        own = {row["id"] for row in plan.pieces}
        rows[contents.name] = {
            key: row for key, row in rows[contents.name].items() if key[0] not in own
        } | {(row["piece_id"], row["part_id"]): row for row in plan.contents}
        before = self.pieces()
        known_pieces = before | {row["id"]: _renewed(before, row) for row in plan.pieces}
        special = {key[0] for key in rows[individuals.name]}
        settled = settle(known_pieces, plan, chosen, special, change)
        rows[pieces.name] = {(piece,): row for piece, row in settled.items()}
        return _State(rows)


def _renewed(before: Mapping[str, Row], row: Row) -> Row:
    """Return a piece as the plan describes it, where the store says it is."""
    old = before.get(row["id"], row)
    return {**old, **{column: row[column] for column in ("part_id", "build_id", "weight_g")}}


def _check_short_id(row: Row, others: Collection[Row]) -> None:
    for other in others:
        if other["short_id"] == row["short_id"] and other["id"] != row["id"]:
            raise UsageError(
                f"the containers {other['id']} and {row['id']} have the same short id, "
                f"{row['short_id']}",
                hint="rename one of them in containers.toml",
            )


def _chosen(plan: Plan, only: Collection[str] | None) -> tuple[str, ...]:
    known = {container.id: container for container in plan.containers}
    if only is None:
        return tuple(known)
    chosen = []
    for name in only:
        container = meant(name, known)
        if container is None:
            raise UsageError(f"the plan has no container {name}", hint=nearest(name, known))
        chosen.append(container)
    return tuple(dict.fromkeys(chosen))


def _differences(before: _State, after: _State) -> tuple[Difference, ...]:
    names = {
        table.name: {row["id"]: row["name"] for row in after.rows[table.name].values()}
        for table in (parts, builds, containers)
    }
    named = {
        row["piece_id"]: row["name"] or row["piece_id"]
        for row in after.rows[individuals.name].values()
    }
    return differences(before.pieces(), after.pieces(), named, names)


def _add_plan(change: Change, plan: Plan, document: str) -> int:
    digest = sha256(document.encode()).hexdigest()
    found = change.rows("SELECT id FROM plans WHERE digest = :digest", digest=digest)
    if found:
        return int(found[0][0])
    number = 1 + (change.rows("SELECT MAX(id) FROM plans")[0][0] or 0)
    row = {
        "id": number,
        "digest": digest,
        "workspace": plan.workspace,
        "added_at": change.at,
        "document": zlib.compress(document.encode()),
    }
    change.add(TABLES["plans"], [row])
    return number


def _summary(plan: Plan, chosen: Collection[str]) -> str:
    if len(chosen) == len(plan.containers):
        return f"stowed the plan of {plan.workspace}"
    return f"stowed {', '.join(chosen)} by the plan of {plan.workspace}"
