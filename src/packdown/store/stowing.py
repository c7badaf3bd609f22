"""Stowing: recording that a plan was carried out, wholly or for some containers."""

import zlib
from collections.abc import Collection
from dataclasses import dataclass
from functools import partial
from hashlib import sha256

from packdown.errors import StoreError, UsageError, nearest
from packdown.model import Plan, meant
from packdown.store.connection import NoStoreError, Rows, Store
from packdown.store.differences import Difference
from packdown.store.journal import Change, changing, load_rows
from packdown.store.plan_rows import Catalogue, plan_rows
from packdown.store.schema import TABLES, containers
from packdown.store.stowed_state import DEFINED, StowedState, compare

__all__ = ["Preview", "preview_stow", "stow"]

_OTHERS = "SELECT DISTINCT workspace FROM plans ORDER BY workspace"


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
    other_workspaces
        Names of the workspaces whose plans were stowed so far, if this one is not among them.
    """

    containers: tuple[str, ...]
    differences: tuple[Difference, ...]
    after_change: int
    other_workspaces: tuple[str, ...] = ()


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
    planned = plan_rows(plan, catalogue)
    try:
        with store.reading() as rows:
            before = StowedState.load(partial(load_rows, rows))
            last = rows.rows("SELECT MAX(id) FROM changes")[0][0] or 0
            others = _other_workspaces(rows, plan)
    except NoStoreError:
        before, last, others = StowedState.load(lambda _table: {}), 0, ()
    named = before.renamed(planned)
    return Preview(
        containers=chosen,
        differences=compare(named, named.stowed(planned, chosen, last + 1)),
        after_change=last,
        other_workspaces=others,
    )


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
        others = _other_workspaces(change, plan)
        before = StowedState.load(change.load)
        named = before.renamed(planned)
        after = named.stowed(planned, chosen, change.id)
        plan_id = _add_plan(change, plan, document)
        for container in chosen:
            after.rows[containers.name][container,]["plan_id"] = plan_id
        for table in DEFINED:
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
        containers=chosen,
        differences=compare(named, after),
        after_change=change.id - 1,
        other_workspaces=others,
    )


def _other_workspaces(rows: Rows, plan: Plan) -> tuple[str, ...]:
    names = [name for (name,) in rows.rows(_OTHERS)]
    return () if plan.workspace in names else tuple(names)


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
