"""Slots that almost meet: face to face, and off by less than 3 mm."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import product

from packdown.files.advice.advice import Advice, AdviceKind
from packdown.files.spots import Spot, heights, posed
from packdown.geometry import Direction, Vector
from packdown.model import JointKind, Slot
from packdown.units import format_length

__all__ = ["almost_meeting"]

NEAR_UM = 3_000
_WAYS = (("left", "right"), ("the front", "the back"), ("down", "up"))
_Key = tuple[int, int, int, Direction, JointKind]
_Owned = tuple[int, Slot]


def almost_meeting(spots: Sequence[Spot]) -> Iterator[Advice]:
    """Say of which two pieces slots are nearly face to face, which way they are off, how much.

    Slots that meet others exactly are left out, as are pairs of pieces of which some slots meet.
    """
    slots = list(_placed(spots))
    met = _meeting(slots)
    free = [(index, slot) for index, slot in slots if (slot.at_um, slot.normal) not in met]
    shared: dict[tuple[int, int], Counter[Vector]] = defaultdict(Counter)
    for (one, slot), (two, other) in _near_pairs(free):
        x, y, z = (other.at_um[axis] - slot.at_um[axis] for axis in range(3))
        pair = (min(one, two), max(one, two))
        shared[pair][(x, y, z) if one < two else (-x, -y, -z)] += 1
    for (one, two), offsets in sorted(shared.items()):
        offset, count = offsets.most_common(1)[0]
        yield _advice(spots[one], spots[two], offset, count)


def _placed(spots: Sequence[Spot]) -> Iterator[_Owned]:
    for index, (spot, z) in enumerate(zip(spots, heights(spots), strict=True)):
        if spot.part:
            for slot in posed(spot.part, spot.way_up, spot.turn)[2]:
                x, y, up = slot.at_um
                at = (x + spot.x_um, y + spot.y_um, up + z)
                yield index, Slot(at_um=at, normal=slot.normal, kind=slot.kind)


def _meeting(slots: Sequence[_Owned]) -> set[tuple[Vector, Direction]]:
    """Return the slots that meet others of their kind exactly."""
    there = {(slot.at_um, slot.normal, slot.kind) for _, slot in slots}
    return {
        (slot.at_um, slot.normal)
        for _, slot in slots
        if (slot.at_um, slot.normal.opposite, slot.kind) in there
    }


def _near_pairs(slots: Sequence[_Owned]) -> Iterator[tuple[_Owned, _Owned]]:
    """Yield slots of two pieces that face each other and are off by less than 3 mm each way."""
    fields: dict[_Key, list[_Owned]] = defaultdict(list)
    for index, slot in slots:
        fields[_key(slot, slot.normal, (0, 0, 0))].append((index, slot))
    for index, slot in slots:
        if sum(slot.normal.vector) < 0:
            continue
        for step in product((-1, 0, 1), repeat=3):
            for other in fields.get(_key(slot, slot.normal.opposite, step), ()):
                off = [abs(a - b) for a, b in zip(other[1].at_um, slot.at_um, strict=True)]
                if other[0] != index and max(off) < NEAR_UM:
                    yield (index, slot), other


def _key(slot: Slot, normal: Direction, step: tuple[int, ...]) -> _Key:
    x, y, z = (at // NEAR_UM + more for at, more in zip(slot.at_um, step, strict=True))
    return (x, y, z, normal, slot.kind)


def _advice(one: Spot, two: Spot, offset: Vector, count: int) -> Advice:
    """Say how the second piece has to be moved."""
    moves = [
        f"{format_length(abs(um))} {'' if axis == 2 else 'to the ' if axis == 0 else 'to '}"
        f"{_WAYS[axis][um < 0]}"
        for axis, um in enumerate(offset)
        if um
    ]
    slots = "a slot" if count == 1 else f"{count} slots"
    return Advice(
        kind=AdviceKind.ALMOST_MEET,
        file=two.place.file,
        entry=two.place.entry,
        message=f"{slots} of {two.id} almost meet{'s' * (count == 1)} {one.id}, "
        f"off by {format_length(max(map(abs, offset)))}",
        hint=f"move {two.id} {' and '.join(moves)}",
        figures={"slots": count, **dict(zip(("x_um", "y_um", "z_um"), offset, strict=True))},
    )
