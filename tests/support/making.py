# ruff: noqa: ANN401 - fields of dataclasses are handed through
"""Pieces, items, placements and steps for plans made by hand, in millimetres."""

from typing import Any

from packdown.geometry import Cuboid, Direction, WayUp, bounds, rotated, translate, volume
from packdown.model import (
    Item,
    ItemKind,
    Joint,
    JointKind,
    PackedContainer,
    Piece,
    Placement,
    Step,
    StepKind,
    Steps,
)
from packdown.teardown import number


def mm(*lengths: float) -> Any:
    """Return lengths in millimetres as whole micrometres, six of them as a cuboid."""
    um = tuple(round(length * 1_000) for length in lengths)
    return Cuboid(*um) if len(um) == 6 else um


def piece(
    name: str, weight_g: int, *cuboids: Cuboid, build: str | None = None, **more: Any
) -> Piece:
    """Return a piece whose core is its cover."""
    return Piece(
        id=name,
        part=name,
        name=name,
        build=build,
        weight_g=weight_g,
        cuboids_um=cuboids,
        core_um=cuboids,
        **more,
    )


def joint(
    kind: JointKind, pieces: tuple[str, str], axis: int, keys: int, holds_g: int, effort_s: int
) -> Joint:
    """Return a kept joint named after its pieces."""
    return Joint(
        id="+".join(pieces),
        kind=kind,
        pieces=pieces,
        axis=axis,
        connections=max(1, keys),
        keys=keys,
        holds_g=holds_g,
        effort_s=effort_s,
    )


def item(name: str, pieces: tuple[str, ...], weight_g: int, *cuboids: Cuboid, **more: Any) -> Item:
    """Return an item, a loose piece unless told otherwise."""
    x, y, z = bounds(cuboids)[3:]
    fields: dict[str, Any] = {
        "kind": ItemKind.LOOSE,
        "build": None,
        "keys": 0,
        "tender": (),
        "centre_um": (x // 2, y // 2, z // 2),
        "allowed_ways_up": tuple(WayUp),
        "carry_limit_g": None,
        "magnets": False,
    }
    return Item(
        id=name, name=name, pieces=pieces, weight_g=weight_g, cuboids_um=cuboids, **fields | more
    )


def loose(one: Piece) -> Item:
    """Return the item of a loose piece, or of the only piece of a build."""
    low = bounds(one.cuboids_um)
    solid = translate(one.cuboids_um, -low.x0, -low.y0, -low.z0)
    frail = one.carry_limit_g == 0
    centre = tuple(
        round(sum(c.volume * (c[a] + c[a + 3]) for c in solid) / (2 * volume(solid)))
        for a in range(3)
    )
    return item(
        one.id,
        (one.id,),
        one.weight_g,
        *solid,
        kind=ItemKind.LOOSE if one.build is None else ItemKind.SUB_ASSEMBLY,
        build=one.build,
        tender=tuple(range(len(solid))) if frail else (),
        centre_um=centre,
        allowed_ways_up=one.ways_up,
        carry_limit_g=None if frail else one.carry_limit_g,
        magnets=one.magnets > 0,
    )


def place(
    one: Item,
    at: tuple[float, float, float],
    way_up: WayUp = WayUp.UPRIGHT,
    turn: int = 0,
    *,
    support: float = 1.0,
    layer: int = 1,
) -> Placement:
    """Return a placement at a place in millimetres, with the cuboids that follow."""
    where = mm(*at)
    solid, _ = rotated(one.cuboids_um, way_up, turn, where)
    return Placement(
        item=one.id,
        at_um=where,
        way_up=way_up,
        turn=turn,
        cuboids_um=solid,
        support=support,
        layer=layer,
    )


def container(
    name: str, inner: tuple[float, float, float], *fill: Placement, **more: Any
) -> PackedContainer:
    """Return a container with walls of 5 mm and a clearance of 2 mm."""
    fields: dict[str, Any] = {"tare_g": 200, "payload_g": 2_000}
    return PackedContainer(
        id=name,
        name=name,
        type="plain",
        inner_um=mm(*inner),
        outer_um=mm(*(length + 10 for length in inner)),
        fill=fill,
        **fields | more,
    )


def work(
    kind: StepKind, pieces: str, stays: str, joints: str, direction: Direction, keys: int = 0
) -> Step:
    """Return a step that parts or joins pieces of the mill; names are separated by blanks."""
    return Step(
        n=0,
        kind=kind,
        build="mill",
        text=f"{kind} {pieces} and {stays}",
        pieces=tuple(pieces.split()),
        stays=tuple(stays.split()),
        joints=tuple(joints.split()),
        direction=direction,
        from_="table",
        to="table",
        keys=keys,
        keys_first=0,
        hands=1,
    )


def carry(kind: StepKind, one: Item, home: str) -> Step:
    """Return the step that packs or unpacks an item."""
    start, end = ("table", home) if kind is StepKind.PACK else (home, "table")
    return Step(
        n=0,
        kind=kind,
        build=one.build,
        text=f"{kind} {one.name}",
        pieces=one.pieces,
        stays=(),
        joints=(),
        direction=None,
        from_=start,
        to=end,
        keys=one.keys,
        keys_first=0,
        hands=1,
    )


def numbered(*steps: Step) -> tuple[Step, ...]:
    """Return the steps counted from 1, each waiting for those that it needs."""
    return number(steps)


def all_steps(
    items: dict[str, Item],
    containers: tuple[PackedContainer, ...],
    part: tuple[Step, ...],
    join: tuple[Step, ...],
) -> Steps:
    """Return steps that part, pack every container, unpack each from the top, and join."""
    fills = [(box.id, items[placed.item]) for box in containers for placed in box.fill]
    return Steps(
        take_down=numbered(*part, *(carry(StepKind.PACK, one, home) for home, one in fills)),
        rebuild=numbered(
            *(carry(StepKind.UNPACK, one, home) for home, one in reversed(fills)), *join
        ),
    )
