"""Shapes of parts: cover and core, and the slots on their faces."""

from packdown.files.place import Place
from packdown.files.settings import JOINT_KINDS
from packdown.files.table import Table
from packdown.files.values import choice, length, list_of, size
from packdown.geometry import (
    Cuboid,
    Direction,
    Solid,
    Vector,
    bounds,
    cover_disc,
    cover_triangle,
    disjoint_union,
    translate,
)
from packdown.model import JointKind, Slot
from packdown.units import Rounding, format_length

__all__ = ["read_shape", "read_slots"]

MAX_STEPS = 200
MAX_SLOTS = 1_000
STEP_UM = 4_000
SIDES = {
    "left": Direction.LEFT,
    "right": Direction.RIGHT,
    "front": Direction.FRONT,
    "back": Direction.BACK,
    "bottom": Direction.DOWN,
    "top": Direction.UP,
}
_STAND_IN = (Cuboid(0, 0, 0, 1, 1, 1),)
_SHAPES = {"box": "box", "triangle": "triangle", "disc": "disc"}
_POINT = length(Rounding.NEAREST, low=0)


def read_shape(table: Table) -> tuple[Solid, Solid]:
    """Read ``size`` with its ``shape``, or ``cuboids``, as a cover and a core."""
    if "cuboids" in table:
        if "size" in table or "shape" in table:
            table.place.at("cuboids").report("give either cuboids or size, not both")
        solid = _cuboids(table)
        return solid, solid
    sides = table.need("size", size(Rounding.UP))
    shape = table.get("shape", choice(_SHAPES), "box")
    if shape == "box":
        if "step" in table:
            table.place.at("step").report("only a triangle or a disc is covered by steps")
        solid = (Cuboid(0, 0, 0, *sides),)
        return solid, solid
    return _stepped(table, shape, sides)


def _cuboids(table: Table) -> Solid:
    found = []
    for each in table.tables("cuboids"):
        low = each.need("from", list_of(length(Rounding.DOWN, low=0), 3, 3))
        high = each.need("to", list_of(length(Rounding.UP, low=0), 3, 3))
        if each.done():
            if all(a < b for a, b in zip(low, high, strict=True)):
                found.append(Cuboid(*low, *high))
            else:
                each.place.report("expected every length of `to` above that of `from`")
    place = table.place.at("cuboids")
    if len(found) > MAX_STEPS:
        place.report(f"expected at most {MAX_STEPS} cuboids, not {len(found)}")
    elif found:
        solid = disjoint_union(found)
        low = bounds(solid)
        return translate(solid, -low.x0, -low.y0, -low.z0)
    else:
        place.report("expected at least one cuboid with from and to")
    return _STAND_IN


def _stepped(table: Table, shape: str, sides: Vector) -> tuple[Solid, Solid]:
    longest, width, height = sides
    step = table.get("step", length(Rounding.DOWN), min(STEP_UM, max(1, longest // 4)))
    place = table.place.at("step")
    if longest > step * MAX_STEPS or 2 * step > longest:
        place.report(
            f"expected a step from 1/{MAX_STEPS} to 1/2 of {format_length(longest)}, "
            f"not {format_length(step)}"
        )
        return _STAND_IN, _STAND_IN
    if shape == "triangle":
        return cover_triangle(longest, width, height, step)
    if longest != width:
        table.place.at("size").report(
            "expected a disc as long as it is wide, "
            f"not {format_length(longest)} by {format_length(width)}"
        )
    return cover_disc(longest, height, step)


def read_slots(table: Table, cover: Solid) -> tuple[Slot, ...]:
    """Read ``slots``: single points on faces, or one in the middle of every square."""
    found: list[Slot] = []
    for each in table.tables("slots"):
        kind = each.get("kind", choice(JOINT_KINDS), JointKind.KEYED)
        if kind in {JointKind.GLUED, JointKind.STACKED}:
            each.place.at("kind").report(
                f"a slot cannot be {kind}; it is keyed, press-fit or magnetic"
            )
        points = _every(each, cover) if "every" in each else _single(each, cover)
        if each.done():
            found.extend(Slot(at_um=at, normal=side, kind=kind) for at, side in points)
    if len(found) > MAX_SLOTS:
        table.place.at("slots").report(f"expected at most {MAX_SLOTS} slots, not {len(found)}")
    return tuple(found)


def _single(table: Table, cover: Solid) -> list[tuple[Vector, Direction]]:
    side = table.need("side", choice(SIDES))
    at = table.need("at", list_of(_POINT, 2, 2))
    return _on_face(cover, side, at, table.place.at("at")) if at else []


def _every(table: Table, cover: Solid) -> list[tuple[Vector, Direction]]:
    """Return the middle of each square along the named sides."""
    sides = table.need("sides", list_of(choice(SIDES), least=1))
    square = table.need("every", length(Rounding.NEAREST))
    extent = bounds(cover).size
    found = []
    height = 0
    if any(side.axis < 2 for side in sides):
        height = table.need("height", _POINT)
    for side in sides:
        axes = [axis for axis in range(2) if axis != side.axis]
        rows = [_middles(extent[axis], square, table.place.at("every"), side) for axis in axes]
        if side.axis == 2:
            spots = [(x, y) for y in rows[1] for x in rows[0]]
        else:
            spots = [(along, height) for along in rows[0]]
        for spot in spots:
            found.extend(_on_face(cover, side, spot, table.place))
    return found


def _middles(extent: int, square: int, place: Place, side: Direction) -> list[int]:
    count, rest = divmod(extent, square)
    if rest:
        place.report(
            f"the {_side_name(side)} side is {format_length(extent)} long, "
            f"no whole number of squares of {format_length(square)}",
            "give the slots of this side one by one with side and at",
        )
        return []
    if count > MAX_SLOTS:
        place.report(f"expected at most {MAX_SLOTS} slots, not {count}")
        return []
    return [index * square + square // 2 for index in range(count)]


def _on_face(
    cover: Solid, side: Direction, spot: tuple[int, ...], place: Place
) -> list[tuple[Vector, Direction]]:
    """Return the point where one who comes from that side first meets the part."""
    axes = [axis for axis in range(3) if axis != side.axis]
    met = [
        cuboid
        for cuboid in cover
        if all(cuboid[a] <= at <= cuboid[a + 3] for a, at in zip(axes, spot, strict=True))
    ]
    if not met:
        shown = " and ".join(format_length(at) for at in spot)
        place.report(f"the {_side_name(side)} side has no face at {shown}")
        return []
    outward = sum(side.vector) > 0
    depth = max(c[side.axis + 3] for c in met) if outward else min(c[side.axis] for c in met)
    point = [0, 0, 0]
    point[side.axis] = depth
    for axis, at in zip(axes, spot, strict=True):
        point[axis] = at
    return [((point[0], point[1], point[2]), side)]


def _side_name(side: Direction) -> str:
    return next(name for name, direction in SIDES.items() if direction is side)
