"""Where every piece is after some containers were filled as planned.

Loose pieces of one part are as good as each other: which of them went where is decided so that as
little as possible has changed. What the store held in these containers, and the plan does not put
into one of them, was taken out.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping

from packdown.store.journal import Row
from packdown.store.plan_rows import PlanRows

__all__ = ["PLACE", "settle"]

PLACE = ("state", "container_id", "item_number", "event", "seen_in", "seen_change")
"""Columns that say where a piece is."""
_REACH = {"out": 1, "unstowed": 2, "missing": 3, "stowed": 4}
"""Whence a piece comes into a container, most likely first; foremost it was in one of them."""


def settle(
    pieces: Mapping[str, Row],
    plan: PlanRows,
    chosen: Collection[str],
    individuals: Collection[str],
    change: int,
) -> dict[str, Row]:
    """Return the row of every piece once the chosen containers are filled as planned.

    Parameters
    ----------
    pieces
        Rows of all pieces as they are, by id; those of the plan are among them.
    plan
        The plan.
    chosen
        Ids of the containers that were filled.
    individuals
        Pieces that are told apart from others of their part.
    change
        Number of the change that records it.
    """
    places = {piece: place for piece, place in plan.places.items() if place[0] in chosen}
    after = {piece: dict(row) for piece, row in pieces.items()}
    for group in _alike(pieces.values(), individuals):
        _swap(after, group, places, chosen)
    for piece, row in after.items():
        if piece in places:
            container, number = places[piece]
            row.update(_stowed(container, number, change))
        elif row["container_id"] in chosen:
            state = "unstowed" if _in_joints(row, plan) else "out"
            row.update(_left(row["container_id"], state, row["seen_change"]))
    return after


def _alike(rows: Iterable[Row], individuals: Collection[str]) -> Iterator[list[str]]:
    groups: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        if row["build_id"] is None and row["id"] not in individuals:
            groups[row["part_id"]].append(row["id"])
    return (sorted(group) for group in groups.values() if len(group) > 1)


def _swap(
    after: Mapping[str, Row],
    group: Iterable[str],
    places: Mapping[str, tuple[str, int]],
    chosen: Collection[str],
) -> None:
    """Decide which of some pieces that are alike went into the chosen containers.

    The plan names pieces; as many others may be at hand. Those at hand go by the names of the plan
    from now on, and those whose names they take go by theirs.
    """

    def reach(piece: str) -> tuple[int, bool]:
        row = after[piece]
        rank = 0 if row["container_id"] in chosen else _REACH[row["state"]]
        return rank, piece not in places

    members = list(group)
    wanted = [piece for piece in members if piece in places]
    used = set(sorted(members, key=reach)[: len(wanted)])
    named = [piece for piece in wanted if piece not in used]
    at_hand = sorted(used.difference(wanted))
    for one, other in zip(named, at_hand, strict=True):
        for column in (*PLACE, "condition"):
            after[one][column], after[other][column] = after[other][column], after[one][column]


def _in_joints(row: Row, plan: PlanRows) -> bool:
    """Whether a loose key is not needed loose any more: it is back in a joint of its build."""
    part, _, number = row["id"].rpartition("#")
    return part == f"key:{row['build_id']}" and int(number) > plan.num_keys.get(row["build_id"], 0)


def _stowed(container: str, number: int, change: int) -> Row:
    return dict(zip(PLACE, ("stowed", container, number, None, container, change), strict=True))


def _left(container: str, state: str, seen: int | None) -> Row:
    return dict(zip(PLACE, (state, None, None, None, container, seen), strict=True))
