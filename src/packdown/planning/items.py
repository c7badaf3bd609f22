"""From pieces to items: loose pieces, bags of small parts and bags of keys."""

from collections.abc import Sequence
from dataclasses import replace
from math import prod

from packdown.geometry import Cuboid, WayUp, bounds, translate, volume
from packdown.model import BagSize, Container, Item, ItemKind, Piece

__all__ = ["fitting_bag", "key_bag", "loose_item", "part_bags"]


def _centre(cuboids: Sequence[Cuboid]) -> tuple[int, int, int]:
    """Centre of gravity of a solid of even density."""
    total = volume(cuboids)
    x, y, z = (
        round(sum(c.volume * (c[axis] + c[axis + 3]) for c in cuboids) / (2 * total))
        for axis in range(3)
    )
    return (x, y, z)


def loose_item(piece: Piece) -> Item:
    """Return the item of a loose piece."""
    low = bounds(piece.cuboids_um)
    solid = translate(piece.cuboids_um, -low.x0, -low.y0, -low.z0)
    frail = piece.carry_limit_g == 0
    return Item(
        id=piece.id,
        name=piece.name,
        kind=ItemKind.LOOSE,
        build=None,
        pieces=(piece.id,),
        keys=0,
        weight_g=piece.weight_g,
        cuboids_um=solid,
        tender=tuple(range(len(solid))) if frail else (),
        centre_um=_centre(solid),
        allowed_ways_up=piece.ways_up,
        carry_limit_g=None if frail else piece.carry_limit_g,
        magnets=piece.magnets > 0,
        needed=piece.needed,
    )


def part_bags(pieces: Sequence[Piece], bag: BagSize) -> tuple[Item, ...]:
    """Return the bags that hold all loose pieces of one small part."""
    each = volume(pieces[0].cuboids_um)
    per_bag = max(1, bag.contents_um3 // each)
    least = min(pieces[0].cuboids_um[0].size)
    bags = []
    for number, start in enumerate(range(0, len(pieces), per_bag), start=1):
        inside = pieces[start : start + per_bag]
        solid = bag.cuboids(each * len(inside), least)
        bags.append(
            _bag(
                f"bag:{pieces[0].part}#{number}",
                f"Bag of {len(inside)} x {pieces[0].name}",
                None,
                inside,
                0,
                sum(piece.weight_g for piece in inside),
                solid,
                bag,
            )
        )
    return tuple(bags)


def key_bag(
    build: str,
    name: str,
    keys: int,
    weight_g: int,
    size_um: tuple[int, int, int],
    bag: BagSize,
) -> Item:
    """Return the bag of the keys that come free when a build is taken down.

    Parameters
    ----------
    build, name
        Id of the build, and the words on its label.
    keys
        How many keys come free.
    weight_g, size_um
        Weight and size of one key.
    bag
        How bags come out.
    """
    solid = bag.cuboids(prod(size_um) * keys, min(size_um))
    label = f"Bag of {keys} {'key' if keys == 1 else 'keys'}, {name}"
    return _bag(f"bag:{build}:keys", label, build, (), keys, weight_g * keys, solid, bag)


def fitting_bag(bag: BagSize, containers: Sequence[Container]) -> BagSize:
    """Return the bag, smaller where no container has room for one of the usual size."""
    rooms = [
        (
            container.inner_um[0] - 2 * container.clearance_um,
            container.inner_um[1] - 2 * container.clearance_um,
        )
        for container in containers
    ]
    length, width = max(
        ((min(bag.base_um[0], max(room)), min(bag.base_um[1], *room)) for room in rooms),
        key=prod,
        default=bag.base_um,
    )
    return replace(bag, base_um=(length, width)) if length > 0 < width else bag


def _bag(
    name: str,
    label: str,
    build: str | None,
    pieces: Sequence[Piece],
    keys: int,
    weight_g: int,
    solid: tuple[Cuboid, ...],
    bag: BagSize,
) -> Item:
    """Return a bag; nothing may rest on it if nothing may rest on what is in it."""
    limits = [piece.carry_limit_g for piece in pieces if piece.carry_limit_g is not None]
    carry = min(limits, default=bag.carry_g)
    ranks = [piece.needed for piece in pieces if piece.needed is not None]
    return Item(
        id=name,
        name=label,
        kind=ItemKind.BAG,
        build=build,
        pieces=tuple(piece.id for piece in pieces),
        keys=keys,
        weight_g=weight_g,
        cuboids_um=solid,
        tender=() if carry else tuple(range(len(solid))),
        centre_um=_centre(solid),
        allowed_ways_up=(WayUp.UPRIGHT, WayUp.UPSIDE_DOWN),
        carry_limit_g=min(carry, bag.carry_g) if carry else None,
        magnets=False,
        needed=min(ranks, default=None),
    )
