"""What should be in a container, line by line as one counts it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from packdown.geometry import Cuboid
from packdown.model import place_in_words
from packdown.store.connection import Rows
from packdown.store.records import Box

__all__ = ["Expected", "Line", "Thing", "expect"]

_THINGS = """
SELECT p.id, p.part_id, COALESCE(v.name, q.name), b.name, v.piece_id, p.condition,
       i.number, i.item, i.name, i.kind, i.layer,
       i.x0_um, i.y0_um, i.z0_um, i.x1_um, i.y1_um, i.z1_um,
       c.length_um, c.width_um, c.height_um, h.verb, h.at
FROM pieces p
JOIN containers c ON c.id = p.container_id
JOIN parts q ON q.id = p.part_id
LEFT JOIN builds b ON b.id = p.build_id
LEFT JOIN individuals v ON v.piece_id = p.id
LEFT JOIN items i ON i.container_id = p.container_id AND i.number = p.item_number
LEFT JOIN changes h ON h.id = p.seen_change
WHERE p.container_id = :box
ORDER BY COALESCE(i.number, 1000000), p.id
"""
_JOINED = "sub-assembly"


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One piece that should be in the container.

    Parameters
    ----------
    piece, part
        Ids.
    name
        What to call it.
    broken
        Whether it is broken as far as the store knows.
    place
        Where in the container, in words; empty if it was put in by hand.
    layer
        Its layer, or None.
    seen
        How and when it was last seen: the verb of a change, and the moment.
    """

    piece: str
    part: str
    name: str
    broken: bool
    place: str
    layer: int | None
    seen: tuple[str, str] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Things that are counted together.

    Parameters
    ----------
    what
        What to call them in a list: the id of a part, a piece or an item.
    name
        What to call them aloud.
    things
        The pieces.
    parts
        For a sub-assembly of several parts, the same pieces part by part.
    """

    what: str
    name: str
    things: tuple[Thing, ...]
    parts: tuple["Line", ...] = field(default=())

    @property
    def number(self) -> int:
        """How many pieces are expected."""
        return len(self.things)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What should be in a container."""

    box: Box
    lines: tuple[Line, ...]


def expect(rows: Rows, box: Box) -> Expected:
    """Return what should be in a container: sub-assemblies, then loose pieces by part."""
    joined: dict[tuple[str, str], list[Thing]] = defaultdict(list)
    single: dict[tuple[str, str], list[Thing]] = defaultdict(list)
    for row in rows.rows(_THINGS, box=box.id):
        thing, build, is_individual, item, item_name, kind = _thing(row)
        if kind == _JOINED:
            joined[item, item_name].append(thing)
        else:
            what = thing.piece if is_individual else thing.part
            name = f"{thing.name} of {build}" if build else thing.name
            single[what, name].append(thing)
    lines = [
        Line(what=what, name=name, things=tuple(things), parts=tuple(_by_part(what, things)))
        for (what, name), things in joined.items()
    ]
    lines += [
        Line(what=what, name=name, things=tuple(things))
        for (what, name), things in sorted(single.items(), key=lambda line: line[0][1])
    ]
    return Expected(box=box, lines=tuple(lines))


def _by_part(item: str, things: Iterable[Thing]) -> Iterator[Line]:
    by_part: dict[str, list[Thing]] = defaultdict(list)
    for thing in things:
        by_part[thing.part].append(thing)
    if len(by_part) > 1:
        for part, alike in by_part.items():
            yield Line(what=f"{item} {part}", name=alike[0].name, things=tuple(alike))


def _thing(row: tuple[object, ...]) -> tuple[Thing, str, bool, str, str, str]:
    piece, part, name, build, individual, condition, number, item, words, kind, layer, *rest = row
    place = ""
    if number is not None:
        place = place_in_words(Cuboid(*rest[:6]), tuple(rest[6:9]))  # type: ignore[arg-type]
    verb, at = rest[9], rest[10]
    thing = Thing(
        piece=str(piece),
        part=str(part),
        name=str(name),
        broken=condition == "broken",
        place=place,
        layer=None if layer is None else int(str(layer)),
        seen=(str(verb), str(at)) if verb else None,
    )
    return thing, str(build or ""), individual is not None, str(item), str(words), str(kind)
