"""Where pieces are: grouped by place, with what lies above."""

from typing import NamedTuple

from packdown.geometry import Cuboid
from packdown.store.connection import Rows
from packdown.store.records import Box, State, StowedItem, Total, Whereabouts

__all__ = ["Surroundings", "Where", "all_boxes", "present_items", "whereabouts"]

_ORDER = (State.STOWED, State.OUT, State.MISSING, State.UNSTOWED)
_GROUPED = """
SELECT p.state, p.condition, p.event, p.container_id, p.item_number, p.seen_in,
       MAX(c.at), COUNT(*), '', COALESCE(MAX(LENGTH(i.lift_first)), 0), COALESCE(MAX(i.layer), 0)
FROM pieces p
LEFT JOIN changes c ON c.id = p.seen_change
LEFT JOIN items i ON i.container_id = p.container_id AND i.number = p.item_number
WHERE {condition}
GROUP BY p.state, p.condition, p.event, p.container_id, p.item_number, p.seen_in
"""
_INSIDE = """
SELECT p.state, p.condition, p.event, p.container_id, p.item_number, p.seen_in,
       c.at, k.count, q.name, COALESCE(LENGTH(i.lift_first), 0), COALESCE(i.layer, 0)
FROM contents k
JOIN pieces p ON p.id = k.piece_id
JOIN parts q ON q.id = p.part_id
LEFT JOIN changes c ON c.id = p.seen_change
LEFT JOIN items i ON i.container_id = p.container_id AND i.number = p.item_number
WHERE k.part_id = :a
"""
_PRESENT = """
SELECT i.number, i.name FROM items i
WHERE i.container_id = :box AND EXISTS (
    SELECT 1 FROM pieces p WHERE p.container_id = i.container_id AND p.item_number = i.number)
ORDER BY i.number
"""
_ITEM = """
SELECT i.item, i.name, i.kind, i.layer, i.x0_um, i.y0_um, i.z0_um, i.x1_um, i.y1_um, i.z1_um,
       c.length_um, c.width_um, c.height_um, i.on_top, i.lift_first
FROM items i JOIN containers c ON c.id = i.container_id
WHERE i.container_id = :box AND i.number = :number
"""


class Where(NamedTuple):
    """Which pieces: a condition on pieces ``p`` in portable SQL, and the values it names."""

    condition: str
    values: dict[str, object]
    contents: bool = False
    """Whether pieces that hold the part ``:a`` count too, where they were only measured."""


class _Group(NamedTuple):
    """Pieces in one place, as they come out of the store."""

    state: str
    condition: str
    event: str | None
    container: str | None
    number: int | None
    seen_in: str | None
    seen_at: str | None
    pieces: int
    inside: str
    over: int
    layer: int


class Surroundings:
    """A store with its containers and what is in them, each looked up once for a whole search.

    Parameters
    ----------
    rows
        The store.
    boxes
        All containers by their ids.
    """

    def __init__(self, rows: Rows) -> None:
        self.rows = rows
        self.boxes = all_boxes(rows)
        self._present: dict[str, dict[int, str]] = {}

    def present(self, container: str) -> dict[int, str]:
        """Return what is in a container, see `present_items`."""
        if container not in self._present:
            self._present[container] = present_items(self.rows, container)
        return self._present[container]


def whereabouts(
    around: Surroundings, where: Where, num_places: int | None = None
) -> tuple[tuple[Total, ...], tuple[Whereabouts, ...]]:
    """Return where some pieces are.

    Parameters
    ----------
    around
        The store.
    where
        Which pieces.
    num_places
        How many places to describe: the easiest to reach in each container, and each way of
        being elsewhere; None for all places.

    Returns
    -------
    totals, places
        How many lie in each container or are elsewhere; and where exactly, the easiest first.
    """
    rows = around.rows
    found = rows.rows(_GROUPED.format(condition=where.condition), **where.values)
    if where.contents:
        found += rows.rows(_INSIDE, a=where.values["a"])
    groups = sorted((_Group(*row) for row in found), key=_reach)
    totals: dict[tuple[str, str | None], int] = {}
    first: list[_Group] = []
    for group in groups:
        place = (group.state, group.container)
        if place not in totals:
            first.append(group)
        totals[place] = totals.get(place, 0) + group.pieces
    shown = groups if num_places is None else first[:num_places]
    return (
        tuple(
            Total(state=State(state), box=around.boxes.get(box or ""), number=number)
            for (state, box), number in totals.items()
        ),
        tuple(_place(around, group) for group in shown),
    )


def _reach(group: _Group) -> tuple[object, ...]:
    """Order places by how easily one gets at them."""
    return (
        _ORDER.index(State(group.state)),
        group.condition == "broken",
        group.over,
        -group.layer,
        group.container or "",
        group.number or 0,
        group.event or "",
        group.seen_in or "",
    )


def all_boxes(rows: Rows) -> dict[str, Box]:
    """Return all containers by their ids."""
    return {
        name: Box(id=name, short_id=short, name=words)
        for name, short, words in rows.rows("SELECT id, short_id, name FROM containers")
    }


def present_items(rows: Rows, container: str) -> dict[int, str]:
    """Return number and name of what was put into a container as one and is still there."""
    return dict(rows.rows(_PRESENT, box=container))


def _place(around: Surroundings, group: _Group) -> Whereabouts:
    item = None
    if group.container and group.number is not None:
        present = around.present(group.container)
        item = _item(around.rows, group.container, group.number, present)
    return Whereabouts(
        number=group.pieces,
        state=State(group.state),
        broken=group.condition == "broken",
        box=around.boxes.get(group.container or ""),
        item=item,
        inside=group.inside or None,
        event=group.event,
        seen_in=around.boxes.get(group.seen_in or ""),
        seen_at=group.seen_at,
    )


def _item(rows: Rows, container: str, number: int, present: dict[int, str]) -> StowedItem:
    name, words, kind, layer, *rest = rows.rows(_ITEM, box=container, number=number)[0]
    box, inner, (on_top, lift_first) = rest[:6], rest[6:9], rest[9:]
    return StowedItem(
        number=number,
        item=name,
        name=words,
        kind=kind,
        layer=layer,
        box_um=Cuboid(*box),
        inner_um=(inner[0], inner[1], inner[2]),
        under=tuple(present[n] for n in _numbers(on_top) if n in present),
        lift_first=tuple((n, present[n]) for n in _numbers(lift_first) if n in present),
    )


def _numbers(text: str) -> list[int]:
    return [int(number) for number in text.split()]
