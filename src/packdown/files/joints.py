"""Joints of a build: where keys are in, what is glued, what stays together, joints by hand."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from packdown.errors import nearest
from packdown.files.place import Place
from packdown.files.settings import JOINT_KINDS
from packdown.files.table import Table
from packdown.files.values import choice, list_of, text, whole
from packdown.geometry import Direction, bounds, face_contact, overlap
from packdown.model import Joint, JointKind, Piece, Settings, Slot, find_joints, make_joint
from packdown.units import format_length

__all__ = ["JointNotes", "joints_of", "read_joint_notes"]

Pair = tuple[str, str]
Group = tuple[str, ...]
_PAIR = list_of(text, 2, 2)
_GROUP = list_of(text, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandJoint:
    """A joint stated by hand."""

    pieces: Pair
    kind: JointKind
    connections: int
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class JointNotes:
    """What a file says about the joints of one build.

    Parameters
    ----------
    keys
        The pairs of pieces whose keys are in, or None for all.
    fixed, spared
        Groups that stay together, and that rather stay together, with the place where it is said.
    by_hand
        Joints in addition to those that are found; glued ones among them.
    """

    keys: tuple[tuple[Pair, Place], ...] | None
    fixed: tuple[tuple[Group, Place], ...]
    spared: tuple[tuple[Group, Place], ...]
    by_hand: tuple[HandJoint, ...]


def read_joint_notes(table: Table, ids: Collection[str], *, slotted: bool) -> JointNotes:
    """Read what a build says about its joints.

    Parameters
    ----------
    table
        The build.
    ids
        Its pieces, as the file names them.
    slotted
        Whether its pieces have slots, so that ``keys`` has a meaning.
    """
    glued = tuple(
        HandJoint(pieces=pair, kind=JointKind.GLUED, connections=1, place=place)
        for pair, place in _pairs(table, "glued", ids)
    )
    return JointNotes(
        keys=_keys(table, ids) if slotted else None,
        fixed=_groups(table, "keep", ids),
        spared=_groups(table, "rather_keep", ids),
        by_hand=(*_by_hand(table, ids), *glued),
    )


def _keys(table: Table, ids: Collection[str]) -> tuple[tuple[Pair, Place], ...] | None:
    words: Mapping[object, tuple[tuple[Pair, Place], ...] | None] = {"all": None, "none": ()}
    value = table.get("keys", _as_is, "all")
    if isinstance(value, list):
        return _pairs(table, "keys", ids)
    if isinstance(value, str) and value in words:
        return words[value]
    table.place.at("keys").expected('"all", "none" or a list of pairs of pieces', value)
    return None


def _as_is(value: object, _place: Place) -> object:
    return value


def _pairs(table: Table, key: str, ids: Collection[str]) -> tuple[tuple[Pair, Place], ...]:
    found = []
    for index, pair in enumerate(table.get(key, list_of(_PAIR), ())):
        place = table.place.at(key).at(index)
        if pair and _known(pair, ids, place):
            found.append(((pair[0], pair[1]), place))
    return tuple(found)


def _groups(table: Table, key: str, ids: Collection[str]) -> tuple[tuple[Group, Place], ...]:
    """Read lists of two or more pieces."""
    found = []
    for index, group in enumerate(table.get(key, list_of(_GROUP), ())):
        place = table.place.at(key).at(index)
        if group and _known(group, ids, place):
            found.append((group, place))
    return tuple(found)


def _by_hand(table: Table, ids: Collection[str]) -> list[HandJoint]:
    found = []
    for each in table.tables("joints"):
        pair = each.need("between", _PAIR)
        kind = each.need("kind", choice(JOINT_KINDS))
        connections = each.get("connections", whole(1), 1)
        if each.done() and _known(pair, ids, each.place.at("between")):
            found.append(
                HandJoint(
                    pieces=(pair[0], pair[1]), kind=kind, connections=connections, place=each.place
                )
            )
    return found


def _known(pair: Sequence[str], ids: Collection[str], place: Place) -> bool:
    unknown = [piece for piece in pair if piece not in ids]
    for piece in unknown:
        place.report(f'unknown piece "{piece}"', nearest(piece, ids))
    twice = next((piece for piece in pair if pair.count(piece) > 1), None)
    if not unknown and twice:
        place.report(f'expected different pieces, not "{twice}" twice')
    return not unknown and not twice


def joints_of(
    build: str,
    pieces: Sequence[Piece],
    slots: Sequence[Sequence[Slot]],
    notes: JointNotes,
    settings: Settings,
) -> tuple[Joint, ...]:
    """Return all joints of a build, at most one for two pieces.

    Joints are found where slots meet and where pieces stand on each other; what was said by hand
    goes before what was found. Of a group that is kept, or rather kept, every joint is.
    """
    joints = {
        frozenset(joint.pieces): joint for joint in find_joints(build, pieces, slots, settings)
    }
    if notes.keys is not None:
        joints = _with_keys(build, pieces, slots, notes.keys, settings, joints)
    by_id = {piece.id: piece for piece in pieces}
    for hand in notes.by_hand:
        made = _made(build, hand, by_id, settings)
        if made:
            joints[frozenset(made.pieces)] = made
    for group, place in notes.spared:
        for key in _within(build, group, place, joints):
            if not joints[key].fixed:
                joints[key] = replace(joints[key], spare_s=settings.rather_keep_s)
    for group, place in notes.fixed:
        for key in _within(build, group, place, joints):
            joints[key] = replace(joints[key], fixed=True, spare_s=0)
    rank = {piece.id: index for index, piece in enumerate(pieces)}
    return tuple(
        sorted(joints.values(), key=lambda joint: tuple(rank[piece] for piece in joint.pieces))
    )


def _within(
    build: str, group: Group, place: Place, joints: Collection[frozenset[str]]
) -> list[frozenset[str]]:
    """Return the pairs of a group that have a joint; report a piece that has none in it."""
    ids = {f"{build}/{piece}" for piece in group}
    found = [pair for pair in joints if pair <= ids]
    for piece in group:
        if not any(f"{build}/{piece}" in pair for pair in found):
            others = " or ".join(other for other in group if other != piece)
            place.report(f"there is no joint between {piece} and {others} to keep")
            break
    return found


def _with_keys(
    build: str,
    pieces: Sequence[Piece],
    slots: Sequence[Sequence[Slot]],
    keys: Sequence[tuple[Pair, Place]],
    settings: Settings,
    keyed: dict[frozenset[str], Joint],
) -> dict[frozenset[str], Joint]:
    """Return the joints as they are with keys between some pieces only."""
    bare = [[slot for slot in own if slot.kind is not JointKind.KEYED] for own in slots]
    joints = {
        frozenset(joint.pieces): joint for joint in find_joints(build, pieces, bare, settings)
    }
    for pair, place in keys:
        key = frozenset(f"{build}/{piece}" for piece in pair)
        if key in keyed and keyed[key].kind is JointKind.KEYED:
            joints[key] = keyed[key]
        else:
            place.report(f"no slots for keys meet between {pair[0]} and {pair[1]}")
    return joints


def _made(
    build: str, hand: HandJoint, by_id: Mapping[str, Piece], settings: Settings
) -> Joint | None:
    a, b = (by_id[f"{build}/{piece}"] for piece in hand.pieces)
    axis = _touching_axis(a, b)
    if axis is None:
        hand.place.report(
            f"{hand.pieces[0]} and {hand.pieces[1]} do not touch", f"they are {_gap(a, b)} apart"
        )
        return None
    if hand.kind is JointKind.STACKED and axis != 2:
        hand.place.report(
            f"{hand.pieces[0]} and {hand.pieces[1]} stand side by side: neither lies on the other"
        )
        return None
    if axis == 2 and bounds(a.cuboids_um).z0 > bounds(b.cuboids_um).z0:
        a, b = b, a
    return make_joint(build, hand.kind, (a.id, b.id), axis, hand.connections, settings)


def _touching_axis(a: Piece, b: Piece) -> int | None:
    """Return the axis along which most of the contact of two pieces looks, or None."""
    areas: dict[int, int] = {}
    touching: Mapping[Direction, int] = face_contact(a.cuboids_um, b.cuboids_um)
    for side, area in touching.items():
        areas[side.axis] = areas.get(side.axis, 0) + area
    if areas:
        return max(areas, key=lambda axis: areas[axis])
    if overlap(a.cuboids_um, b.cuboids_um):  # slanted sides meet inside the steps of their covers
        return min(range(3), key=lambda axis: -_distances(a, b)[axis])
    return None


def _distances(a: Piece, b: Piece) -> tuple[int, int, int]:
    one, two = bounds(a.cuboids_um), bounds(b.cuboids_um)
    x, y, z = (max(one[axis] - two[axis + 3], two[axis] - one[axis + 3]) for axis in range(3))
    return (x, y, z)


def _gap(a: Piece, b: Piece) -> str:
    return format_length(max(0, *_distances(a, b)))
