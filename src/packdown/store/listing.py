"""What lies in one container, and the containers that one build is spread over."""

from collections import defaultdict
from collections.abc import Mapping

from packdown.errors import UsageError, nearest
from packdown.geometry import Cuboid
from packdown.model import place_in_words
from packdown.store.connection import Rows
from packdown.store.finding import box_of
from packdown.store.listed import ListedItem, Listing, Named, Spread, Stop
from packdown.store.matching import Subject, best_matches
from packdown.store.places import all_boxes
from packdown.store.records import Box, State, Total

__all__ = ["list_container", "spread_of"]

_CONTAINER = """
SELECT length_um, width_um, height_um, tare_g, payload_g, stacked_on
FROM containers WHERE id = :box
"""
_ITEMS = """
SELECT i.number, i.name, i.kind, COALESCE(i.num_pieces, COUNT(*)), i.layer,
       i.x0_um, i.y0_um, i.z0_um, i.x1_um, i.y1_um, i.z1_um,
       COUNT(*), SUM(CASE WHEN p.condition = 'broken' THEN 1 ELSE 0 END), SUM(p.weight_g)
FROM items i JOIN pieces p ON p.container_id = i.container_id AND p.item_number = i.number
WHERE i.container_id = :box
GROUP BY i.number, i.name, i.kind, i.num_pieces, i.layer,
         i.x0_um, i.y0_um, i.z0_um, i.x1_um, i.y1_um, i.z1_um
ORDER BY i.number
"""
_NAMED = """
SELECT COALESCE(v.name, q.name), b.name, COUNT(*), SUM(p.weight_g)
FROM pieces p
JOIN parts q ON q.id = p.part_id
LEFT JOIN builds b ON b.id = p.build_id
LEFT JOIN individuals v ON v.piece_id = p.id
WHERE {condition}
GROUP BY COALESCE(v.name, q.name), b.name
ORDER BY COALESCE(v.name, q.name), b.name
"""
_BY_HAND = _NAMED.format(condition="p.container_id = :box AND p.item_number IS NULL")
_MISSING = _NAMED.format(condition="p.state = 'missing' AND p.seen_in = :box")
_STOPS = """
SELECT p.container_id, COALESCE(i.name, 'put in by hand'), COUNT(*), MIN(i.unpack_step),
       MIN(i.number)
FROM pieces p
LEFT JOIN items i ON i.container_id = p.container_id AND i.number = p.item_number
WHERE p.build_id = :build AND p.container_id IS NOT NULL
GROUP BY p.container_id, COALESCE(i.name, 'put in by hand')
"""
_ELSEWHERE = """
SELECT state, COUNT(*) FROM pieces
WHERE build_id = :build AND container_id IS NULL GROUP BY state ORDER BY state
"""
_LAST = 10**9
"""Rank of what no step of the plan unpacks."""


def list_container(rows: Rows, name: str) -> Listing:
    """Return all that lies in a container.

    Parameters
    ----------
    rows
        The store.
    name
        Its id, short id or name.

    Raises
    ------
    UsageError
        If the store has no such container.
    """
    box = box_of(rows, name)
    length, width, height, tare_g, payload_g, under = rows.rows(_CONTAINER, box=box.id)[0]
    items, weight_g = [], tare_g
    for number, words, kind, total, layer, *corners, present, broken, grams in rows.rows(
        _ITEMS, box=box.id
    ):
        place = place_in_words(Cuboid(*corners), (length, width, height))
        weight_g += int(grams)
        items.append(
            ListedItem(
                number=number,
                name=words,
                kind=kind,
                layer=layer,
                place=place,
                present=present,
                num_pieces=total,
                broken=int(broken),
            )
        )
    by_hand = rows.rows(_BY_HAND, box=box.id)
    return Listing(
        box=box,
        number=sum(item.present for item in items) + sum(row[2] for row in by_hand),
        weight_g=weight_g + sum(int(row[3]) for row in by_hand),
        payload_g=payload_g,
        stacked_on=all_boxes(rows).get(under or ""),
        items=tuple(items),
        by_hand=tuple(_named(row) for row in by_hand),
        missing=tuple(_named(row) for row in rows.rows(_MISSING, box=box.id)),
    )


def _named(row: tuple[str, str | None, int, int]) -> Named:
    part, build, number, _ = row
    return Named(name=f"{part} of {build}" if build else part, number=number)


def spread_of(rows: Rows, words: str) -> Spread:
    """Return the containers that a build is spread over, in the order in which to open them.

    Parameters
    ----------
    rows
        The store.
    words
        Id or name of the build; typing errors are forgiven.

    Raises
    ------
    UsageError
        If the store has no such build.
    """
    build = _build(rows, words)
    what: dict[str, list[tuple[int, int, Named]]] = defaultdict(list)
    for box, item, number, step, first in rows.rows(_STOPS, build=build.id):
        rank = (_LAST if step is None else step, first or 0)
        what[box].append((*rank, Named(name=item, number=number)))
    on: dict[str, str] = dict(
        rows.rows("SELECT stacked_on, id FROM containers WHERE stacked_on IS NOT NULL")
    )
    boxes = all_boxes(rows)
    order = sorted(what, key=lambda box: (min(step for step, _, _ in what[box]), box))
    stops = tuple(
        Stop(
            box=boxes[box],
            lift_off=_lift_off(box, on, boxes),
            number=sum(named.number for _, _, named in what[box]),
            what=tuple(named for _, _, named in sorted(what[box], key=lambda one: one[:2])),
        )
        for box in order
    )
    elsewhere = tuple(
        Total(state=State(state), box=None, number=number)
        for state, number in rows.rows(_ELSEWHERE, build=build.id)
    )
    return Spread(
        id=build.id,
        name=build.name,
        number=sum(stop.number for stop in stops) + sum(total.number for total in elsewhere),
        stops=stops,
        elsewhere=elsewhere,
    )


def _build(rows: Rows, words: str) -> Subject:
    builds = [
        Subject("build", one, name, tags)
        for one, name, tags in rows.rows("SELECT id, name, tags FROM builds ORDER BY id")
    ]
    for build in builds:
        if words in {build.id, build.name}:
            return build
    matches = best_matches(words, builds)
    if not matches:
        raise UsageError(
            f"the store has no build {words}", hint=nearest(words, [b.name for b in builds])
        )
    return matches[0].subjects[0]


def _lift_off(box: str, on: Mapping[str, str], boxes: Mapping[str, Box]) -> tuple[Box, ...]:
    above = []
    while box in on and on[box] not in above:
        box = on[box]
        above.append(box)
    return tuple(boxes[one] for one in reversed(above))
