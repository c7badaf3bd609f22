"""Builds: pieces as they stand on the table, and the joints between them."""

from dataclasses import dataclass
from enum import StrEnum

from packdown.geometry import Solid, WayUp
from packdown.model.part import JointKind, Part

__all__ = ["Build", "Grade", "Joint", "JointState", "Piece", "Weak", "loose_piece"]


class Grade(StrEnum):
    """How much is known of a build."""

    MEASURED = "measured"
    UNITS = "units"
    PLACED = "placed"


class JointState(StrEnum):
    """What a plan does with a joint."""

    KEPT = "kept"
    SPLIT = "split"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One physical piece: loose in its own frame, or in a build in the build's frame.

    Parameters
    ----------
    id
        Unique in the workspace, such as ``gatehouse/wall-3`` or ``floor-2#17``.
    part
        Id of its part; for a measured unit the id of the unit.
    name
        Words on its label.
    build
        Id of its build, or None for a loose piece.
    weight_g
        Weight in grams.
    cuboids_um
        Cover of its shape.
    core_um
        Cuboids inside its shape: what certainly cannot be passed through.
    ways_up
        How it may lie, said in the frame of `cuboids_um`.
    carry_limit_g
        What may rest on it; None is no limit, 0 nothing.
    magnets
        Magnets in its underside as it stands.
    contains
        For measured builds and units: what was counted in it, as (part, number).
    alone
        Whether it must travel alone: all its joints are split.
    needed
        Of a loose piece, the rank in which it is needed again (1 is first), or None.
    """

    id: str
    part: str
    name: str
    build: str | None
    weight_g: int
    cuboids_um: Solid
    core_um: Solid
    ways_up: tuple[WayUp, ...] = tuple(WayUp)
    carry_limit_g: int | None = None
    magnets: int = 0
    contains: tuple[tuple[str, int], ...] = ()
    alone: bool = False
    needed: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """What holds two pieces of one build.

    Parameters
    ----------
    id
        Unique in the workspace.
    kind
        How it holds.
    pieces
        The two pieces; for a stacked joint the lower one first.
    axis
        Axis its faces look along: 0, 1 or 2.
    connections
        Number of slots (or magnets, or contacts) that meet.
    keys
        Loose keys that come free when it is split.
    holds_g
        What may hang on it at rest, in grams; None for a joint that never parts.
    effort_s
        Seconds to split and re-make it.
    fixed
        Whether it must never be split (glued, or kept on request).
    state
        Whether the plan keeps or splits it.
    bends_mnm
        Moment it bears at rest about the line where its faces meet, in millinewton-metres; None
        for a joint that is never bent open.
    spare_s
        Seconds that opening it weighs in choosing, above its effort: more than 0 for a joint that
        is rather kept.
    """

    id: str
    kind: JointKind
    pieces: tuple[str, str]
    axis: int
    connections: int
    keys: int
    holds_g: int | None
    effort_s: int
    fixed: bool = False
    state: JointState = JointState.KEPT
    bends_mnm: int | None = None
    spare_s: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Weak:
    """Pieces that must not travel as they are joined.

    Parameters
    ----------
    pieces
        Their ids.
    stands
        Whether they may stand on a shelf.
    open_joints
        Ids of joints between them; without these, all that stays joined may travel. None are
        named where that cannot be: where joints that must stay do not hold.
    """

    pieces: tuple[str, ...]
    stands: bool
    open_joints: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Pieces placed together, in the frame of the build.

    Parameters
    ----------
    id, name
        Short name used in files, and the words printed on labels.
    grade
        How much is known of it.
    pieces
        All its pieces; at least one.
    joints
        The joints between them.
    needed
        Rank in which it is needed again (1 is first), or None.
    tags
        Words to search and to group by.
    stands
        Whether it is put together; if not, it is a design for pieces that are owned.
    """

    id: str
    name: str
    grade: Grade
    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    needed: int | None = None
    tags: tuple[str, ...] = ()
    stands: bool = True

    def __post_init__(self) -> None:
        ids = {piece.id for piece in self.pieces}
        if not ids:
            raise ValueError(f"build {self.id}: a build needs at least one piece")
        if len(ids) != len(self.pieces):
            raise ValueError(f"build {self.id}: two pieces share an id")
        for joint in self.joints:
            if not ids.issuperset(joint.pieces):
                raise ValueError(f"build {self.id}: joint {joint.id} names a piece it has not")


def loose_piece(part: Part, number: int) -> Piece:
    """Return a piece that belongs to no build, as it stands upright in its own frame.

    Parameters
    ----------
    part
        Its part.
    number
        Tells it from others of its part, from 1.
    """
    return Piece(
        id=f"{part.id}#{number}",
        part=part.id,
        name=part.name,
        build=None,
        weight_g=part.weight_g,
        cuboids_um=part.cover_um,
        core_um=part.core_um,
        ways_up=part.ways_up,
        carry_limit_g=part.carry_limit_g,
        magnets=part.magnets,
    )
