"""Joints found where slots of placed pieces meet, and where one piece stands on another."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from itertools import permutations, product

from packdown.geometry import Cuboid, Direction, Vector, bounds, rests_on
from packdown.model.build import Joint, Piece
from packdown.model.part import JointKind, Slot
from packdown.model.settings import Settings

__all__ = ["find_joints", "make_joint"]


def make_joint(
    build: str,
    kind: JointKind,
    pieces: tuple[str, str],
    axis: int,
    connections: int,
    settings: Settings,
    *,
    fixed: bool = False,
) -> Joint:
    """Return a joint with its strength and effort from the settings."""
    short = [piece.removeprefix(f"{build}/") for piece in pieces]
    glued = kind is JointKind.GLUED
    bends = settings.bends_mnm.get(kind)
    return Joint(
        id=f"{build}/{short[0]}+{short[1]}",
        kind=kind,
        pieces=pieces,
        axis=axis,
        connections=connections,
        keys=connections if kind is JointKind.KEYED else 0,
        holds_g=None if glued else settings.holds_g[kind] * connections,
        effort_s=0 if glued else settings.effort.joint_s(kind, connections),
        fixed=fixed or glued,
        bends_mnm=None if bends is None else bends * connections,
    )


def find_joints(
    build: str,
    pieces: Sequence[Piece],
    slots: Sequence[Sequence[Slot]],
    settings: Settings,
) -> tuple[Joint, ...]:
    """Find the joints of a build from its placed pieces.

    Two slots of the same kind that meet face to face are a connection. Where a piece stands on
    another and no slots hold the two, they are stacked.

    Parameters
    ----------
    build
        Id of the build.
    pieces
        Its pieces in the build's frame.
    slots
        The slots of each piece in the build's frame, parallel to `pieces`.
    settings
        Strength and effort of joints.

    Returns
    -------
    tuple of Joint
        At most one joint for two pieces, in the order of the pieces. Where two pieces are held
        in several kinds, the kind with most connections is taken.
    """
    joints = {}
    for pair, kinds in _connections(slots).items():
        (kind, axis), count = max(kinds.items(), key=lambda entry: (entry[1], str(entry[0])))
        names = (pieces[pair[0]].id, pieces[pair[1]].id)
        joints[pair] = make_joint(build, kind, names, axis, count, settings)
    boxes = [bounds(piece.cuboids_um) for piece in pieces]
    for pair in permutations(range(len(pieces)), 2):
        if not _may_rest(boxes[pair[1]], boxes[pair[0]]):
            continue
        under, over = pieces[pair[0]], pieces[pair[1]]
        known = pair in joints or pair[::-1] in joints
        if not known and rests_on(over.cuboids_um, under.cuboids_um):
            joints[pair] = make_joint(build, JointKind.STACKED, (under.id, over.id), 2, 1, settings)
    return tuple(joints[pair] for pair in sorted(joints))


def _may_rest(over: Cuboid, under: Cuboid) -> bool:
    """Whether one thing may lie on another, as far as the boxes around them tell."""
    return (
        over.z0 <= under.z1
        and under.z0 < over.z1
        and over.x0 < under.x1
        and under.x0 < over.x1
        and over.y0 < under.y1
        and under.y0 < over.y1
    )


def _connections(
    slots: Sequence[Sequence[Slot]],
) -> dict[tuple[int, int], Counter[tuple[JointKind, int]]]:
    """Count, for each two pieces, the slots that meet by kind and axis; the lower one first."""
    at: dict[tuple[Vector, Direction, JointKind], list[int]] = defaultdict(list)
    for index, own in enumerate(slots):
        for slot in own:
            at[slot.at_um, slot.normal, slot.kind].append(index)
    met: dict[tuple[int, int], Counter[tuple[JointKind, int]]] = defaultdict(Counter)
    for (point, normal, kind), owners in at.items():
        if sum(normal.vector) < 0:
            continue
        for one, two in product(owners, at.get((point, normal.opposite, kind), ())):
            if one != two:
                pair = (one, two) if normal is Direction.UP else (min(one, two), max(one, two))
                met[pair][kind, normal.axis] += 1
    return met
