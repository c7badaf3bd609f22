"""Items are what their pieces and kept joints make of them."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

from packdown.geometry import Cuboid, Solid, Vector, WayUp, bounds, contains, translate, volume
from packdown.model import ItemKind, JointKind, Piece
from packdown.units import format_length, format_weight
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken

__all__ = [
    "bags_hold_their_pieces",
    "carry_limits_spare_pieces",
    "centres_are_true",
    "covers_hold_pieces",
    "cuboids_are_disjoint",
    "magnets_are_told",
    "tender_pieces_are_tender",
    "ways_up_suit_pieces",
    "weights_add_up",
]

CENTRE_TOLERANCE_UM = 2


def cuboids_are_disjoint(lookup: Lookup) -> Broken:
    """Yield items whose cuboids share volume, and cuboids that have none."""
    for item in lookup.plan.items:
        for (a, one), (b, two) in combinations(enumerate(item.cuboids_um), 2):
            if one.overlaps(two):
                yield item.id, f"cuboids {a} and {b} share volume"
    solids = [(thing.id, thing.cuboids_um) for thing in lookup.plan.items]
    solids += [(thing.id, thing.cuboids_um) for thing in lookup.plan.pieces]
    for name, solid in solids:
        if any(min(cuboid.size) <= 0 for cuboid in solid):
            yield name, "has a cuboid without volume"


def _stretched(lookup: Lookup, pieces: Sequence[Piece]) -> list[Solid]:
    """Return the room each piece may need in the item's frame, its joints standing open.

    Along each axis every plane in which kept joints meet may add the tolerance; a piece that
    reaches beyond such a plane may be that much further along.
    """
    tolerance = lookup.plan.rules.joint_tolerance_um
    low = bounds(cuboid for piece in pieces for cuboid in piece.cuboids_um)
    planes: tuple[set[int], set[int], set[int]] = (set(), set(), set())
    for joint in lookup.joints_in(piece.id for piece in pieces):
        if joint.kind is not JointKind.GLUED:
            ends = [bounds(lookup.pieces[end].cuboids_um)[joint.axis] for end in joint.pieces]
            planes[joint.axis].add(max(ends))
    rooms = []
    for piece in pieces:
        high = bounds(piece.cuboids_um)[3:]
        dx, dy, dz = (
            tolerance * sum(plane < high[axis] for plane in planes[axis]) for axis in range(3)
        )
        nominal = translate(piece.cuboids_um, -low.x0, -low.y0, -low.z0)
        rooms.append(
            tuple(Cuboid(c.x0, c.y0, c.z0, c.x1 + dx, c.y1 + dy, c.z1 + dz) for c in nominal)
        )
    return rooms


def covers_hold_pieces(lookup: Lookup) -> Broken:
    """Yield items that are smaller than their pieces with joints that stand open a little."""
    for item, pieces in lookup.solid_items():
        for piece, room in zip(pieces, _stretched(lookup, pieces), strict=True):
            if not contains(item.cuboids_um, room):
                over = max(
                    need - have
                    for need, have in zip(
                        bounds(room)[3:], bounds(item.cuboids_um)[3:], strict=True
                    )
                )
                how = f"by {format_length(over)}" if over > 0 else "within its bounding box"
                yield item.id, f"{piece.id} with its joints reaches out of the item {how}"


def bags_hold_their_pieces(lookup: Lookup) -> Broken:
    """Yield bags with less volume than their pieces."""
    for item in lookup.plan.items:
        if item.kind is ItemKind.BAG:
            inside = sum(volume(piece.cuboids_um) for piece in lookup.pieces_of(item))
            if volume(item.cuboids_um) < inside:
                have, need = volume(item.cuboids_um) / 10**12, inside / 10**12
                yield item.id, f"bag has {have:.3f} ml for pieces of {need:.3f} ml"


def weights_add_up(lookup: Lookup) -> Broken:
    """Yield items whose weight is not that of their pieces and keys."""
    for item in lookup.plan.items:
        pieces = lookup.pieces_of(item)
        if len(pieces) == len(item.pieces):
            keys = item.keys + sum(joint.keys for joint in lookup.joints_in(item.pieces))
            weight = sum(p.weight_g for p in pieces) + keys * lookup.plan.rules.key_weight_g
            if item.weight_g != weight:
                yield (
                    item.id,
                    f"item weighs {item.weight_g} g; its pieces and {keys} keys weigh {weight} g",
                )


def _centre(solid: Solid) -> tuple[Fraction, ...]:
    total = 2 * volume(solid)
    return tuple(
        Fraction(sum(c.volume * (c[axis] + c[axis + 3]) for c in solid), total) for axis in range(3)
    )


def centres_are_true(lookup: Lookup) -> Broken:
    """Yield items whose centre of gravity is not where their pieces put it."""
    for item, pieces in lookup.solid_items():
        weight = sum(piece.weight_g for piece in pieces)
        if weight <= 0 or any(volume(piece.cuboids_um) <= 0 for piece in pieces):
            continue
        low = bounds(cuboid for piece in pieces for cuboid in piece.cuboids_um)
        centres = [(_centre(piece.cuboids_um), piece.weight_g) for piece in pieces]
        true = [
            sum(centre[axis] * share for centre, share in centres) / weight - low[axis]
            for axis in range(3)
        ]
        off = max(abs(a - b) for a, b in zip(item.centre_um, true, strict=True))
        if off > CENTRE_TOLERANCE_UM:
            yield item.id, f"centre of gravity is {format_length(round(off))} off"
    for item in lookup.plan.items:
        if item.kind is ItemKind.BAG and not _inside(item.centre_um, bounds(item.cuboids_um)):
            yield item.id, "centre of gravity lies outside the bag"


def _inside(point: Vector, box: Cuboid) -> bool:
    return all(box[axis] <= point[axis] <= box[axis + 3] for axis in range(3))


def ways_up_suit_pieces(lookup: Lookup) -> Broken:
    """Yield items that may lie in ways which a piece or a joint forbids."""
    for item, pieces in lookup.solid_items():
        for way in item.allowed_ways_up:
            for piece in pieces:
                if way not in piece.ways_up:
                    yield item.id, f"may lie {way}, which {piece.id} must not"
        stacked = [j for j in lookup.joints_in(item.pieces) if j.kind is JointKind.STACKED]
        turned = [way for way in item.allowed_ways_up if way is not WayUp.UPRIGHT]
        if stacked and turned:
            yield item.id, f"may lie {', '.join(turned)}, but {stacked[0].id} only holds upright"


def carry_limits_spare_pieces(lookup: Lookup) -> Broken:
    """Yield items that may carry more than one of their pieces.

    Nothing rests on tender pieces of a solid item, so they set no limit; in a bag nothing keeps
    the weight from them.
    """
    for item in lookup.plan.items:
        if len(item.tender) == len(item.cuboids_um):
            continue
        limits = [
            (piece.carry_limit_g, piece.id)
            for piece in lookup.pieces_of(item)
            if piece.carry_limit_g is not None
            and (piece.carry_limit_g > 0 or item.kind is ItemKind.BAG)
        ]
        if not limits:
            continue
        least, piece_id = min(limits)
        if item.carry_limit_g is None or item.carry_limit_g > least:
            may = "any weight" if item.carry_limit_g is None else format_weight(item.carry_limit_g)
            yield item.id, f"may carry {may}, but {piece_id} only {format_weight(least)}"


def tender_pieces_are_tender(lookup: Lookup) -> Broken:
    """Yield pieces that may carry nothing where their item would let something rest on them."""
    for item, pieces in lookup.solid_items():
        tender = [item.cuboids_um[index] for index in item.tender]
        for piece, room in zip(pieces, _stretched(lookup, pieces), strict=True):
            if piece.carry_limit_g == 0 and not contains(tender, room):
                yield item.id, f"{piece.id} may carry nothing but is not all marked tender"


def magnets_are_told(lookup: Lookup) -> Broken:
    """Yield items that hide magnets in their underside, or claim magnets they have not."""
    for item, pieces in lookup.solid_items():
        low = bounds(cuboid for piece in pieces for cuboid in piece.cuboids_um).z0
        out = [p.id for p in pieces if p.magnets and bounds(p.cuboids_um).z0 == low]
        if out and not item.magnets:
            yield item.id, f"has magnets in its underside ({', '.join(out)}) but does not say so"
        if item.magnets and not any(piece.magnets for piece in pieces):
            yield item.id, "is said to have magnets, but none of its pieces has"
