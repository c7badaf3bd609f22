"""Pieces of a placed build taken together as sub-units, with the joints between these."""

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from packdown.geometry import Cuboid, WayUp, bounds, face_contact
from packdown.model import Joint, JointKind, Piece

__all__ = ["Lump", "between", "contents_of", "lump", "lumps"]

Between = tuple[int, int, JointKind, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lump:
    """Pieces that are measured as one.

    Parameters
    ----------
    pieces
        The pieces.
    box
        The box around them.
    """

    pieces: tuple[Piece, ...]
    box: Cuboid

    @property
    def weight_g(self) -> int:
        """Their weight in grams."""
        return sum(piece.weight_g for piece in self.pieces)

    @property
    def ways_up(self) -> tuple[WayUp, ...]:
        """How all of them may lie; upright if they agree on nothing."""
        ways = [way for way in WayUp if all(way in piece.ways_up for piece in self.pieces)]
        return tuple(ways) or (WayUp.UPRIGHT,)

    @property
    def carry_g(self) -> int | None:
        """What may rest on the weakest of them; None is no limit."""
        limits = [p.carry_limit_g for p in self.pieces if p.carry_limit_g is not None]
        return min(limits, default=None)


def contents_of(pieces: Iterable[Piece], *, placed: bool) -> Counter[str]:
    """Count the pieces of each part: those that were placed, or those counted in units."""
    counted: Counter[str] = Counter()
    for piece in pieces:
        counted.update([piece.part] if placed else dict(piece.contains))
    return counted


def lumps(pieces: Sequence[Piece], joints: Sequence[Joint]) -> list[Lump]:
    """Take pieces together storey by storey, so that no two of the boxes around them overlap.

    A storey begins wherever flat pieces begin, as floors do; what no joint holds to the rest of
    its storey, and what travels alone, is a unit of its own unless boxes overlap.
    """
    floors = sorted({bounds(piece.cuboids_um).z0 for piece in pieces if _flat(piece)})
    storey = {p.id: bisect_right(floors, bounds(p.cuboids_um).z0) for p in pieces}
    group = {piece.id: [piece] for piece in pieces}
    lonely = {piece.id for piece in pieces if piece.alone}
    for joint in joints:
        one, two = joint.pieces
        if storey[one] == storey[two] and not lonely & {one, two}:
            _merge(group, one, two)
    while (pair := _overlapping(group)) is not None:
        _merge(group, *pair)
    found = {id(own): own for own in group.values()}
    return [lump(own) for own in found.values()]


def _flat(piece: Piece) -> bool:
    long, wide, high = bounds(piece.cuboids_um).size
    return 2 * high < min(long, wide)


def _merge(group: dict[str, list[Piece]], one: str, two: str) -> None:
    if group[one] is group[two]:
        return
    joined = group[one] + group[two]
    for piece in joined:
        group[piece.id] = joined


def _overlapping(group: dict[str, list[Piece]]) -> tuple[str, str] | None:
    """Return pieces of two groups whose boxes overlap, if there are any."""
    found = {id(own): own for own in group.values()}
    boxes = [(own[0].id, lump(own).box) for own in found.values()]
    for (one, box), (two, other) in combinations(boxes, 2):
        if box.overlaps(other):
            return one, two
    return None


def lump(pieces: Sequence[Piece]) -> Lump:
    """Take pieces together, whatever lies between them."""
    box = bounds(cuboid for piece in pieces for cuboid in piece.cuboids_um)
    return Lump(pieces=tuple(pieces), box=box)


def between(units: Sequence[Lump], joints: Iterable[Joint]) -> list[Between]:
    """Return the joints between units: which two, the kind with most connections, and these.

    A joint that never comes apart makes all of them so. Units whose boxes do not touch have none.
    """
    owner = {piece.id: index for index, unit in enumerate(units) for piece in unit.pieces}
    kinds: dict[tuple[int, int], Counter[JointKind]] = defaultdict(Counter)
    for joint in joints:
        one, two = sorted(owner[piece] for piece in joint.pieces)
        if one != two and face_contact((units[one].box,), (units[two].box,)):
            kinds[one, two][joint.kind] += joint.connections
    return [
        (*pair, JointKind.GLUED if JointKind.GLUED in counted else best, counted[best])
        for pair, counted in sorted(kinds.items())
        for best in (max(counted, key=lambda kind: (counted[kind], kind)),)
    ]
