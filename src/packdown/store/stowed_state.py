"""All rows that stowing reads or writes, and what they are once it is done."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

from sqlalchemy import Table

from packdown.errors import UsageError
from packdown.store.differences import Difference, differences
from packdown.store.journal import Key, Row
from packdown.store.plan_rows import PlanRows
from packdown.store.renaming import rename
from packdown.store.schema import (
    builds,
    containers,
    contents,
    individuals,
    items,
    parts,
    pieces,
)
from packdown.store.settling import settle

__all__ = ["DEFINED", "StowedState", "compare"]

DEFINED = (parts, builds, containers, pieces, contents, items, individuals)
"""Tables that stowing reads or writes."""
Load = Callable[[Table], dict[Key, Row]]
Rows = dict[Key, Row]


@dataclass(frozen=True, slots=True)
class StowedState:
    """Rows by table and key."""

    rows: Mapping[str, Rows]

    @classmethod
    def load(cls, load: Load) -> "StowedState":
        """Load all rows."""
        return cls({table.name: load(table) for table in DEFINED})

    def pieces(self) -> dict[str, Row]:
        """Return the pieces by their ids."""
        return {str(row["id"]): row for row in self.rows[pieces.name].values()}

    def renamed(self, plan: PlanRows) -> "StowedState":
        """Return the same state with the pieces by the names of a plan."""
        special = {key[0] for table in (individuals, contents) for key in self.rows[table.name]}
        named = rename(self.pieces(), plan, special)
        return StowedState(
            {**self.rows, pieces.name: {(piece,): row for piece, row in named.items()}}
        )

    def stowed(self, plan: PlanRows, chosen: Collection[str], change: int) -> "StowedState":
        """Return the state once the chosen containers are filled as planned."""
        before = self.pieces()
        known = before | {row["id"]: _described(before, row) for row in plan.pieces}
        special = {key[0] for key in self.rows[individuals.name]}
        settled = settle(known, plan, chosen, special, change)
        return StowedState(
            {
                **self.rows,
                parts.name: _named(self.rows[parts.name], plan.parts),
                builds.name: _named(self.rows[builds.name], plan.builds),
                containers.name: _existing(self.rows[containers.name], plan.containers),
                items.name: _filled(self.rows[items.name], plan, chosen),
                contents.name: _counted(self.rows[contents.name], plan),
                pieces.name: {(piece,): row for piece, row in settled.items()},
            }
        )


def compare(before: StowedState, after: StowedState) -> tuple[Difference, ...]:
    """Return which pieces are somewhere else than before."""
    names = {
        table.name: {row["id"]: row["name"] for row in after.rows[table.name].values()}
        for table in (parts, builds, containers)
    }
    named = {
        row["piece_id"]: row["name"] or row["piece_id"]
        for row in after.rows[individuals.name].values()
    }
    return differences(before.pieces(), after.pieces(), named, names)


def _described(before: Mapping[str, Row], row: Row) -> Row:
    """Return a piece as the plan describes it, where the store says it is."""
    old = before.get(row["id"], row)
    return {**old, **{column: row[column] for column in ("part_id", "build_id", "weight_g")}}


def _named(old: Rows, planned: Collection[Row]) -> Rows:
    """Return parts or builds with the names and tags of the plan, as far as it has them."""
    rows = dict(old)
    for row in planned:
        known = {"name": row["id"], "tags": ""} | rows.get((row["id"],), {})
        said = {column: value for column, value in row.items() if value is not None}
        rows[row["id"],] = known | said
    return rows


def _existing(old: Rows, planned: Collection[Row]) -> Rows:
    rows = dict(old)
    for row in planned:
        for other in rows.values():
            if other["short_id"] == row["short_id"] and other["id"] != row["id"]:
                raise UsageError(
                    f"the containers {other['id']} and {row['id']} have the same short id, "
                    f"{row['short_id']}",
                    hint="rename one of them in containers.toml",
                )
        known = rows.get((row["id"],))
        rows[row["id"],] = {**row, "plan_id": known and known["plan_id"]}
    return rows


def _filled(old: Rows, plan: PlanRows, chosen: Collection[str]) -> Rows:
    kept = {key: row for key, row in old.items() if key[0] not in chosen}
    return kept | {
        (row["container_id"], row["number"]): row
        for row in plan.items
        if row["container_id"] in chosen
    }


def _counted(old: Rows, plan: PlanRows) -> Rows:
    own = {row["id"] for row in plan.pieces}
    kept = {key: row for key, row in old.items() if key[0] not in own}
    return kept | {(row["piece_id"], row["part_id"]): row for row in plan.contents}
