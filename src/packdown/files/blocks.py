"""Blocks: pieces put together once, then used, turned, mirrored and repeated as one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from packdown.errors import nearest
from packdown.files.mirroring import mirrored
from packdown.files.parts import Parts
from packdown.files.place import Place
from packdown.files.placing import MAX_PIECES, offsets, turn
from packdown.files.spots import Spot, heights, posed
from packdown.files.table import Table
from packdown.files.values import STAND_IN, Reader, flag, list_of, name, text
from packdown.geometry import Cuboid, WayUp, bounds, rotate_cuboid, translate

__all__ = ["Block", "read_block", "read_uses"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Standing:
    """A piece of a block, and the box around it in the frame of the block."""

    spot: Spot
    box: Cuboid


Block = tuple[_Standing, ...]


def read_block(spots: Sequence[Spot]) -> Block:
    """Put pieces together by themselves; the lower corner of their bounding box is the origin."""
    boxes = []
    for spot, z in zip(spots, heights(spots), strict=True):
        if spot.part is None:
            raise ValueError(f"piece {spot.id} has no part that can be placed")
        cover = posed(spot.part, spot.way_up, spot.turn)[0]
        boxes.append(bounds(translate(cover, spot.x_um, spot.y_um, z)))
    low = bounds(boxes)
    return tuple(
        _Standing(spot=spot, box=box.moved(-low.x0, -low.y0, -low.z0))
        for spot, box in zip(spots, boxes, strict=True)
    )


def read_uses(
    table: Table, blocks: Mapping[str, Block | None], parts: Parts, reader: Reader[int]
) -> tuple[Spot, ...]:
    """Read ``blocks`` of a build: which block stands where, how turned, mirrored and repeated."""
    spots: list[Spot] = []
    for each in table.tables("blocks"):
        own = each.need("id", name)
        wanted = each.need("block", text)
        at = each.need("at", list_of(reader, 2, 3)) or (0, 0)
        angle = each.get("turn", turn, 0)
        mirror = each.get("mirror", flag, False)
        steps = offsets(each, reader)
        place = each.place.at("block")
        if wanted not in blocks and wanted != STAND_IN:
            place.report(f'there is no block "{wanted}"', nearest(wanted, blocks))
        each.done()
        block = blocks.get(wanted)
        if own == STAND_IN or not block:
            continue
        if len(steps) * len(block) > MAX_PIECES:
            place.report(f"expected at most {MAX_PIECES:,} pieces in a build")
            continue
        turned = _turned(_mirrored(block, parts, place) if mirror else block, angle)
        for number, (x, y) in enumerate(steps, start=1):
            prefix = own if len(steps) == 1 else f"{own}-{number}"
            spots += _put(turned, prefix, (at[0] + x, at[1] + y), at[2:], each.place)
    return tuple(spots)


def _put(
    block: Block, prefix: str, at: tuple[int, int], z: Sequence[int], place: Place
) -> list[Spot]:
    """Return the pieces of a block at a place; without a height it comes down as one."""
    return [
        replace(
            standing.spot,
            id=f"{prefix}-{standing.spot.id}",
            x_um=at[0] + standing.box.x0,
            y_um=at[1] + standing.box.y0,
            z_um=z[0] if z else None,
            together=("block", prefix),
            lift_um=standing.box.z0,
            place=place,
        )
        for standing in block
    ]


def _turned(block: Block, angle: int) -> Block:
    """Turn a block about the vertical; its lower corner stays at the origin."""
    boxes = [rotate_cuboid(standing.box, WayUp.UPRIGHT, angle) for standing in block]
    low = bounds(boxes)
    return tuple(
        _Standing(
            spot=replace(standing.spot, turn=(standing.spot.turn + angle) % 360),
            box=box.moved(-low.x0, -low.y0, 0),
        )
        for standing, box in zip(block, boxes, strict=True)
    )


def _mirrored(block: Block, parts: Parts, place: Place) -> Block:
    """Swap left and right; report pieces of which there is no mirror image."""
    right = bounds(standing.box for standing in block).x1
    found = []
    missing: set[str] = set()
    for standing in block:
        spot, box = standing.spot, standing.box
        image = mirrored(spot, parts)
        if image is None and spot.part and spot.part.id not in missing:
            missing.add(spot.part.id)
            place.report(
                f'there is no mirror image of "{spot.part.id}" ({spot.id})',
                "name the part that is one as mirror in parts.toml, "
                "or put these pieces in place by themselves",
            )
        other = box._replace(x0=right - box.x1, x1=right - box.x0)
        found.append(_Standing(spot=image or spot, box=other))
    return tuple(found)
