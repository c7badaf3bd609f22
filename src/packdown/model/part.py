"""Parts: the kinds of piece a collection is made of."""

from dataclasses import dataclass
from enum import StrEnum

from packdown.geometry import Direction, Solid, Vector, WayUp

__all__ = ["JointKind", "Part", "Slot"]


class JointKind(StrEnum):
    """What holds two pieces together."""

    KEYED = "keyed"
    PRESS_FIT = "press-fit"
    MAGNETIC = "magnetic"
    STACKED = "stacked"
    GLUED = "glued"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A point on a face of a part where a joint can be made.

    Parameters
    ----------
    at_um
        The point in the part's frame, in micrometres.
    normal
        The way the face looks.
    kind
        The joint that two such slots make when they meet face to face.
    """

    at_um: Vector
    normal: Direction
    kind: JointKind = JointKind.KEYED


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A kind of piece.

    Parameters
    ----------
    id, name
        Short name used in files, and the words printed on labels.
    cover_um
        Disjoint cuboids that contain the true shape; its lower corner is at the origin.
    core_um
        Cuboids that lie inside the true shape; equal to the cover for box-like parts.
    weight_g
        Weight of one piece in grams.
    slots
        Where joints can be made.
    ways_up
        How a piece may lie.
    carry_limit_g
        What may rest on a piece: None is no limit, 0 is nothing at all.
    magnets
        Number of magnets in its underside.
    bagged
        Whether loose pieces go into a bag rather than lie singly.
    alone
        Whether its pieces travel alone, all joints split.
    tags
        Words to search and to group by.
    """

    id: str
    name: str
    cover_um: Solid
    core_um: Solid
    weight_g: int
    slots: tuple[Slot, ...] = ()
    ways_up: tuple[WayUp, ...] = tuple(WayUp)
    carry_limit_g: int | None = None
    magnets: int = 0
    bagged: bool = False
    alone: bool = False
    tags: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.cover_um:
            raise ValueError(f"part {self.id}: a part needs at least one cuboid")
        if self.weight_g <= 0:
            raise ValueError(f"part {self.id}: weight_g must be positive, not {self.weight_g}")
        if not self.ways_up:
            raise ValueError(f"part {self.id}: at least one way up must be allowed")
