"""Pieces that go by another name in a new plan.

Loose pieces are numbered and pieces of builds are named by their place in the build. When a build
takes up loose pieces, or gives some back, the new plan names other pieces than the last one, but
the same things are owned. So new pieces take over those of their part that the plan names no more.
"""

from collections import defaultdict
from collections.abc import Collection, Mapping

from packdown.store.journal import Row
from packdown.store.plan_rows import PlanRows
from packdown.store.settling import PLACE

__all__ = ["rename"]


def rename(pieces: Mapping[str, Row], plan: PlanRows, special: Collection[str]) -> dict[str, Row]:
    """Return the pieces by the names of a plan, where they are.

    Parameters
    ----------
    pieces
        Rows of all pieces as they are, by id.
    plan
        The plan.
    special
        Pieces that keep their names: individuals, and those that were only measured.

    Returns
    -------
    dict
        The same pieces, each under its name in the plan. Pieces that a measured build has taken up
        are part of it now and are left out; pieces that are quite new are not there yet.
    """
    named = {row["id"] for row in plan.pieces}
    spare: dict[str, list[str]] = defaultdict(list)
    for piece in sorted(pieces.keys() - named - set(special), reverse=True):
        spare[pieces[piece]["part_id"]].append(piece)
    after = dict(pieces)
    fresh = [row for row in plan.pieces if row["id"] not in pieces]
    for row in fresh:
        if spare[row["part_id"]]:
            old = after.pop(spare[row["part_id"]].pop())
            after[row["id"]] = {**row, **{column: old[column] for column in (*PLACE, "condition")}}
    new = {row["id"] for row in fresh}
    for content in plan.contents:
        if content["piece_id"] in new:
            taken = spare[content["part_id"]]
            for _ in range(min(content["count"], len(taken))):
                del after[taken.pop()]
    return after
