"""Packing problems by hand and at random, and what the verifier says of a packing."""

import random
from collections.abc import Sequence
from dataclasses import replace

from packdown.geometry import Cuboid, Solid, Vector, WayUp, bounds, disjoint_union, volume
from packdown.model import (
    Bound,
    Bounds,
    Container,
    Item,
    ItemKind,
    Lining,
    NotPacked,
    Objective,
    PackedContainer,
    Packing,
    PackingProblem,
    Piece,
    Plan,
    Prefer,
    Rules,
    Steps,
)
from packdown.verify import RULES
from packdown.verify.lookup import Lookup

MM = 1_000
Millimetres = Cuboid | tuple[int, int, int, int, int, int]

RULES_OF_PACKING = (
    "references",
    "pieces",
    "placed once",
    "poses",
    "lying",
    "inside",
    "overlap",
    "clearance",
    "loading order",
    "rest",
    "sheets",
    "support",
    "stated support",
    "layers",
    "balance",
    "load",
    "tender",
    "magnets on steel",
    "payload",
    "gross weight",
    "stacked containers",
    "keep together",
    "keep apart",
    "first needed",
    "footing",
)


def rules(**more: object) -> Rules:
    """Rules without groups."""
    plain = Rules(
        support_percent=80,
        shock_factor=3,
        joint_tolerance_um=0,
        weight_limit_g=15_000,
        place_s=5,
        effort_low=1.0,
        effort_high=1.0,
        key_weight_g=1,
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def crate(name: str, size: Vector, **more: object) -> Container:
    """A container of an inner size in millimetres, without clearance unless told."""
    inner = (size[0] * MM, size[1] * MM, size[2] * MM)
    plain = Container(
        id=name,
        name=name,
        type="crate",
        inner_um=inner,
        outer_um=inner,
        tare_g=100,
        payload_g=10_000,
        clearance_um=0,
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def solid_item(
    name: str, cuboids: Sequence[Millimetres], weight_g: int = 10, **more: object
) -> Item:
    """An item of even density; cuboids in millimetres."""
    solid = disjoint_union(Cuboid(*(side * MM for side in cuboid)) for cuboid in cuboids)
    plain = Item(
        id=name,
        name=name,
        kind=ItemKind.LOOSE,
        build=None,
        pieces=(name,),
        keys=0,
        weight_g=weight_g,
        cuboids_um=solid,
        tender=(),
        centre_um=_centre(solid),
        allowed_ways_up=tuple(WayUp),
        carry_limit_g=None,
        magnets=False,
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def block(name: str, size: Vector, weight_g: int = 10, **more: object) -> Item:
    """A box of a size in millimetres."""
    return solid_item(name, [(0, 0, 0, *size)], weight_g, **more)


def blocks(count: int, size: Vector, name: str = "block") -> list[Item]:
    """Equal boxes of a size in millimetres."""
    return [block(f"{name}-{number}", size) for number in range(count)]


def problem(items: list[Item], containers: list[Container], **more: object) -> PackingProblem:
    """A packing problem; more is for the rules."""
    return PackingProblem(items=tuple(items), containers=tuple(containers), rules=rules(**more))


def _centre(solid: Solid) -> Vector:
    x, y, z = (
        sum(c.volume * (c[axis] + c[axis + 3]) for c in solid) // (2 * volume(solid))
        for axis in range(3)
    )
    return (x, y, z)


def violations(asked: PackingProblem, packing: Packing) -> list[str]:
    """Return what the verifier finds wrong with a packing."""
    lookup = Lookup(_plan(asked, packing))
    return [
        f"{rule.name}: {where} {message}"
        for rule in RULES
        if rule.name in RULES_OF_PACKING
        for where, message in rule.check(lookup)
    ]


def _plan(asked: PackingProblem, packing: Packing) -> Plan:
    fills = {fill.container: fill.placements for fill in packing.fills}
    none = Bound(value=0, met=False)
    return Plan(
        created_with="0",
        workspace="test",
        seed=0,
        effort=1,
        prefer=Prefer.BALANCED,
        rules=asked.rules,
        pieces=tuple(_piece(item, name) for item in asked.items for name in item.pieces),
        items=asked.items,
        containers=tuple(_packed(c, fills.get(c.id, ())) for c in asked.containers),
        builds=(),
        not_packed=tuple(NotPacked(item=item, reason="no room") for item in packing.unpacked),
        steps=Steps(take_down=(), rebuild=()),
        objective=Objective(
            effort_s=0,
            effort_low_s=0,
            effort_high_s=0,
            joints_split=0,
            keys_freed=0,
            containers=len(fills),
            volume_um3=0,
            weight_g=0,
        ),
        bounds=Bounds(effort_s=none, containers=none, volume_um3=none, weight_g=none),
    )


def _piece(item: Item, name: str) -> Piece:
    return Piece(
        id=name,
        part=name,
        name=name,
        build=None,
        weight_g=item.weight_g,
        cuboids_um=item.cuboids_um,
        core_um=item.cuboids_um,
    )


def _packed(container: Container, fill: tuple[object, ...]) -> PackedContainer:
    fields = {name: getattr(container, name) for name in Container.__slots__}
    return PackedContainer(**fields, fill=fill)  # type: ignore[arg-type]


def random_problem(seed: int, most_items: int = 14) -> PackingProblem:
    """Draw a small problem in which every rule has a chance to bite."""
    draw = random.Random(seed)
    kinds = [_random_item(draw, f"kind-{number}") for number in range(draw.randint(1, 6))]
    items = []
    for number in range(draw.randint(1, most_items)):
        item = draw.choice(kinds)
        items.append(replace(item, id=f"item-{number}", pieces=(f"item-{number}",)))
    crates = [
        crate(
            f"crate-{number}",
            (draw.randint(30, 80), draw.randint(30, 80), draw.randint(15, 60)),
            clearance_um=draw.choice((0, 0, 1_000, 2_500)),
            sheet_um=draw.choice((0, 0, 2_000)),
            lining=draw.choice(tuple(Lining)),
            payload_g=draw.choice((60, 300, 3_000)),
            stacked_on=draw.choice((None, "crate-0")) if number else None,
            stack_limit_g=draw.choice((None, 600)),
        )
        for number in range(draw.randint(1, 3))
    ]
    names = [item.id for item in items]
    return problem(
        items,
        crates,
        support_percent=draw.choice((1, 50, 80, 100)),
        keep_together=_random_groups(draw, names),
        keep_apart=_random_groups(draw, names),
    )


def _random_groups(draw: random.Random, names: list[str]) -> tuple[tuple[str, ...], ...]:
    return tuple(
        tuple(draw.sample(names, min(len(names), draw.randint(2, 3))))
        for _ in range(draw.choice((0, 0, 1, 2)))
    )


def _random_item(draw: random.Random, name: str) -> Item:
    cuboids = []
    for _ in range(draw.choice((1, 1, 2, 3, 4))):
        x, y, z = (draw.randint(0, 15) for _ in range(3))
        sides = [draw.randint(4, 25) for _ in range(3)]
        cuboids.append((x, y, z, x + sides[0], y + sides[1], z + sides[2]))
    solid = disjoint_union(Cuboid(*cuboid) for cuboid in cuboids)
    low = bounds(solid)
    moved = [cuboid.moved(-low.x0, -low.y0, -low.z0) for cuboid in solid]
    ways = draw.choice((tuple(WayUp), (WayUp.UPRIGHT,), (WayUp.UPRIGHT, WayUp.ON_LEFT)))
    return solid_item(
        name,
        moved,
        draw.randint(1, 80),
        tender=(0,) if draw.random() < 0.3 else (),
        carry_limit_g=draw.choice((None, None, 0, 30, 150)),
        magnets=draw.random() < 0.3,
        needed=draw.choice((None, None, 1, 2)),
        allowed_ways_up=ways,
    )
