"""Pieces that hang in the air together, and pieces that rest on too little."""

from collections.abc import Iterator, Mapping, Sequence

from packdown.files.advice.advice import Advice, AdviceKind
from packdown.files.place import Place
from packdown.geometry import Rect, Solid, bounds, inside_hull, rests_on, volume
from packdown.model import Joint, JointKind, Piece
from packdown.units import format_length

__all__ = ["hanging", "tipping"]

_SHOWN = 6


def hanging(
    pieces: Sequence[Piece],
    joints: Sequence[Joint],
    possible: Sequence[Joint],
    places: Mapping[str, Place],
) -> Iterator[Advice]:
    """Say which pieces are joined to each other, but to nothing that stands on the table.

    Parameters
    ----------
    pieces, joints
        A build.
    possible
        The joints that it would have if all keys were in.
    places
        Where each piece is said to stand.
    """
    low = {piece.id: bounds(piece.cuboids_um).z0 for piece in pieces}
    ground = max(0, min(low.values()))
    for group in _groups([piece.id for piece in pieces], joints):
        height = min(low[piece] for piece in group)
        if height <= ground:
            continue
        own = set(group)
        keyless = [
            joint.pieces
            for joint in possible
            if joint.kind is JointKind.KEYED and len(own & set(joint.pieces)) == 1
        ]
        names = ", ".join(_short(piece) for piece in group[:_SHOWN])
        more = f" and {len(group) - _SHOWN} more" if len(group) > _SHOWN else ""
        pair = ", ".join(f'"{_short(piece)}"' for piece in keyless[0]) if keyless else ""
        yield Advice(
            kind=AdviceKind.HANGS,
            file=places[group[0]].file,
            entry=places[group[0]].entry,
            message=f"{names}{more} hang{'s' * (len(group) == 1)} "
            f"{format_length(height)} above the table: nothing that stands holds "
            f"{'it' if len(group) == 1 else 'them'}",
            hint=f"slots meet without a key: add [{pair}] to keys"
            if keyless
            else "lower it until it rests, or join it to what stands",
            figures={"height_um": height, "pieces": len(group), "missing_keys": len(keyless)},
        )


def _groups(ids: Sequence[str], joints: Sequence[Joint]) -> list[list[str]]:
    """Return the pieces that joints connect, each group in the order of the build."""
    owner = {one: [one] for one in ids}
    for joint in joints:
        one, two = (owner[piece] for piece in joint.pieces)
        if one is not two:
            one.extend(two)
            for piece in two:
                owner[piece] = one
    rank = {one: index for index, one in enumerate(ids)}
    return [sorted(own, key=rank.__getitem__) for one, own in owner.items() if own[0] == one]


def tipping(
    pieces: Sequence[Piece], joints: Sequence[Joint], places: Mapping[str, Place]
) -> Iterator[Advice]:
    """Say which pieces lie loose on others with their middle over none of them."""
    by_id = {piece.id: piece for piece in pieces}
    held = {p for joint in joints if joint.kind is not JointKind.STACKED for p in joint.pieces}
    for piece in pieces:
        below = [by_id[j.pieces[0]] for j in joints if j.pieces[1] == piece.id]
        if piece.id in held or not below:
            continue
        solid = piece.core_um
        shared = [rect for under in below for rect in rests_on(solid, under.core_um)]
        if not shared or inside_hull(_middle(solid), shared):
            continue
        percent = _share(shared, solid)
        names = " and ".join(_short(under.id) for under in below[:_SHOWN])
        yield Advice(
            kind=AdviceKind.TIPS,
            file=places[piece.id].file,
            entry=places[piece.id].entry,
            message=f"{_short(piece.id)} rests on {names} with {percent} % of its base, "
            "and its middle is over none of it",
            hint="it would tip: move it, or draw it before what it came to lie on",
            figures={"percent": percent, "height_um": bounds(solid).z0},
        )


def _middle(solid: Solid) -> tuple[float, float]:
    whole = volume(solid)
    x, y = (
        sum(c.volume * (c[axis] + c[axis + 3]) for c in solid) / (2 * whole) for axis in range(2)
    )
    return x, y


def _share(shared: Sequence[Rect], solid: Solid) -> int:
    """Return the part of the lowest faces that is carried, in percent."""
    low = bounds(solid).z0
    base = sum(c.volume // (c.z1 - c.z0) for c in solid if c.z0 == low)
    return min(100, round(100 * sum(rect.area for rect in shared) / base))


def _short(piece: str) -> str:
    return piece.partition("/")[2]
