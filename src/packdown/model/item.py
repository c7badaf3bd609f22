"""Items: what the packer places, and how sub-assemblies become solids."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from packdown.geometry import (
    Cuboid,
    Solid,
    Vector,
    WayUp,
    bounds,
    difference,
    disjoint_union,
    translate,
)
from packdown.model.build import Joint, Piece
from packdown.model.part import JointKind

__all__ = ["Item", "ItemKind", "grown", "merged_solid"]


class ItemKind(StrEnum):
    """What an item is made of."""

    SUB_ASSEMBLY = "sub-assembly"
    LOOSE = "loose"
    BAG = "bag"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing to be placed.

    Parameters
    ----------
    id, name
        Unique id, and the words on its label.
    kind
        Sub-assembly (also of a single piece of a build), loose piece, or bag.
    build
        Id of the build it belongs to, or None.
    pieces
        Ids of the pieces in it; empty for a bag of keys alone.
    keys
        Loose keys in it (bags only).
    weight_g
        Weight in grams, keys in its joints included.
    cuboids_um
        Disjoint cuboids in its own frame, lower corner at the origin.
    tender
        Indices of the cuboids on which nothing may rest.
    centre_um
        Centre of gravity in its own frame.
    allowed_ways_up
        How it may lie.
    carry_limit_g
        Total weight that may rest on it; None is no limit.
    magnets
        Whether magnets look out of its underside.
    needed
        Rank in which it is needed again (1 is first), or None.
    """

    id: str
    name: str
    kind: ItemKind
    build: str | None
    pieces: tuple[str, ...]
    keys: int
    weight_g: int
    cuboids_um: Solid
    tender: tuple[int, ...]
    centre_um: Vector
    allowed_ways_up: tuple[WayUp, ...]
    carry_limit_g: int | None
    magnets: bool
    needed: int | None = None

    def __post_init__(self) -> None:
        low = bounds(self.cuboids_um)
        if low[:3] != (0, 0, 0):
            raise ValueError(f"item {self.id}: its lower corner must be at the origin")
        if any(not 0 <= index < len(self.cuboids_um) for index in self.tender):
            raise ValueError(f"item {self.id}: tender names a cuboid it has not")


def grown(pieces: Sequence[Piece], joints: Iterable[Joint], tolerance_um: int) -> list[Solid]:
    """Return the cover of each piece in a sub-assembly whose joints may stand open a little.

    Every plane in which kept joints meet along an axis is a seam that may add the tolerance. A
    piece that reaches beyond k seams can be up to k times the tolerance further along, even if it
    begins before them: in a running bond its neighbours push it. Its cover is stretched by as much.

    Parameters
    ----------
    pieces
        Pieces of one sub-assembly in the build's frame.
    joints
        The joints kept between them; glued joints do not open.
    tolerance_um
        How far one joint may stand open, in micrometres.
    """
    where = {piece.id: bounds(piece.cuboids_um) for piece in pieces}
    seams: tuple[set[int], set[int], set[int]] = (set(), set(), set())
    for joint in joints:
        if joint.kind is JointKind.GLUED:
            continue
        a, b = (where[piece] for piece in joint.pieces)
        seams[joint.axis].add(max(a[joint.axis], b[joint.axis]))
    covers = []
    for piece in pieces:
        high = where[piece.id][3:]
        dx, dy, dz = (
            tolerance_um * sum(seam < high[axis] for seam in seams[axis]) for axis in range(3)
        )
        covers.append(
            tuple(
                Cuboid(c.x0, c.y0, c.z0, c.x1 + dx, c.y1 + dy, c.z1 + dz) for c in piece.cuboids_um
            )
        )
    return covers


def merged_solid(covers: Sequence[Solid], tender: Sequence[bool]) -> tuple[Solid, tuple[int, ...]]:
    """Merge covers into one solid of disjoint cuboids with its lower corner at the origin.

    Parameters
    ----------
    covers
        Cover of each piece, in one frame.
    tender
        Whether nothing may rest on the piece, parallel to `covers`.

    Returns
    -------
    solid, tender
        The merged cuboids, and the indices of those on which nothing may rest.
    """
    frail = disjoint_union(
        c for cover, soft in zip(covers, tender, strict=True) if soft for c in cover
    )
    firm = disjoint_union(
        c for cover, soft in zip(covers, tender, strict=True) if not soft for c in cover
    )
    firm = difference(firm, frail)
    low = bounds(firm + frail)
    solid = translate(firm + frail, -low.x0, -low.y0, -low.z0)
    return solid, tuple(range(len(firm), len(firm) + len(frail)))
