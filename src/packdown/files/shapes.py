"""Shapes of parts: cover and core, and the slots on their faces."""

from itertools import product

from packdown.files.settings import JOINT_KINDS
from packdown.files.table import Table
from packdown.files.values import choice, length, list_of, size
from packdown.geometry import (
    Cuboid,
    Direction,
    Solid,
    Vector,
    bounds,
    contains,
    cover_disc,
    cover_triangle,
    disjoint_union,
    translate,
)
from packdown.model import JointKind, Slot
from packdown.units import Rounding, format_length

__all__ = ["Shape", "read_shape", "read_slots"]

Shape = tuple[Solid, Solid]
Point = tuple[Vector, Direction]

MAX_CUBOIDS = 200
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
_SIDE_NAMES = {direction: name for name, direction in SIDES.items()}
_SHAPES = {shape: shape for shape in ("box", "triangle", "disc")}
_POINT = length(Rounding.NEAREST, low=0)


def read_shape(table: Table) -> Shape | None:
    """Read ``size`` with its ``shape``, or ``cuboids``, as a cover and a core.

    Returns
    -------
    Shape or None
        None if there was a problem with it.
    """
    before = len(table.place.found)
    if "cuboids" in table:
        if "size" in table or "shape" in table:
            table.place.at("cuboids").report("give either cuboids or size, not both")
        shape = _cuboids(table)
    else:
        if "core" in table:
            table.place.at("core").report("only cuboids can have a core of their own")
        shape = _sized(table)
    return shape if len(table.place.found) == before else None


def _cuboids(table: Table) -> Shape | None:
    """Read ``cuboids`` as the cover, and ``core`` as cuboids inside the shape."""
    cover = _union(table, "cuboids")
    core = _union(table, "core") if "core" in table else cover
    if not cover:
        if cover is not None:
            table.place.at("cuboids").report("expected at least one cuboid with from and to")
        return None
    if core is None:
        return None
    if not contains(cover, core):
        table.place.at("core").report("reaches out of the cuboids")
    low = bounds(cover)
    shift = (-low.x0, -low.y0, -low.z0)
    return translate(cover, *shift), translate(core, *shift)


def _union(table: Table, key: str) -> Solid | None:
    """Read a list of cuboids as disjoint ones; None if one cannot be used."""
    found = [_cuboid(each) for each in table.tables(key)]
    if len(found) > MAX_CUBOIDS:
        table.place.at(key).report(f"expected at most {MAX_CUBOIDS} cuboids, not {len(found)}")
    if len(found) > MAX_CUBOIDS or not all(found):
        return None
    return disjoint_union(cuboid for cuboid in found if cuboid)


def _cuboid(table: Table) -> Cuboid | None:
    low = table.need("from", list_of(length(Rounding.DOWN, low=0), 3, 3))
    high = table.need("to", list_of(length(Rounding.UP, low=0), 3, 3))
    if not table.done():
        return None
    if all(a < b for a, b in zip(low, high, strict=True)):
        return Cuboid(*low, *high)
    table.place.report("expected every length of `to` above that of `from`")
    return None


def _sized(table: Table) -> Shape | None:
    before = len(table.place.found)
    longest, width, height = table.need("size", size(Rounding.UP))
    shape = table.get("shape", choice(_SHAPES), "box")
    step = table.get("step", length(Rounding.DOWN), max(1, min(STEP_UM, longest // 4)))
    if len(table.place.found) > before:
        return None
    if shape == "box":
        if "step" in table:
            table.place.at("step").report("only a triangle or a disc is covered by steps")
        solid = (Cuboid(0, 0, 0, longest, width, height),)
        return solid, solid
    if longest > step * MAX_CUBOIDS or 2 * step > longest:
        table.place.at("step").report(
            f"expected a step from 1/{MAX_CUBOIDS} to 1/2 of {format_length(longest)}, "
            f"not {format_length(step)}"
        )
        return None
    if shape == "triangle":
        return cover_triangle(longest, width, height, step)
    if longest != width:
        table.place.at("size").report(
            "expected a disc as long as it is wide, "
            f"not {format_length(longest)} by {format_length(width)}"
        )
    return cover_disc(longest, height, step)


def read_slots(table: Table, cover: Solid | None) -> tuple[Slot, ...]:
    """Read ``slots``: single points on faces, or one in the middle of every square.

    Parameters
    ----------
    table
        The part.
    cover
        Its cover; without one there are no faces, and only the fields themselves are checked.
    """
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


def _single(table: Table, cover: Solid | None) -> list[Point]:
    side = table.need("side", choice(SIDES))
    at = table.need("at", list_of(_POINT, 2, 2))
    return _on_face(cover, side, at, table) if at and cover else []


def _every(table: Table, cover: Solid | None) -> list[Point]:
    """Return the middle of each square along the named sides."""
    sides = table.need("sides", list_of(choice(SIDES), least=1))
    square = table.need("every", length(Rounding.NEAREST))
    upright = any(side.axis < 2 for side in sides)
    height = table.need("height", _POINT) if upright else 0
    found: list[Point] = []
    if cover is None:
        return found
    extent = bounds(cover).size
    for side in sides:
        rows = [_middles(extent[axis], square, side, table) for axis in (0, 1) if axis != side.axis]
        if side.axis < 2:
            rows.append([height])
        if len(rows[0]) * len(rows[1]) > MAX_SLOTS:
            table.place.at("every").report(f"expected at most {MAX_SLOTS} slots on a side")
            continue
        for spot in product(*rows):
            found.extend(_on_face(cover, side, spot, table))
    return found


def _middles(extent: int, square: int, side: Direction, table: Table) -> list[int]:
    count, rest = divmod(extent, square)
    if rest:
        table.place.at("every").report(
            f"the {_SIDE_NAMES[side]} side is {format_length(extent)} long, "
            f"no whole number of squares of {format_length(square)}",
            "give the slots of this side one by one with side and at",
        )
        return []
    if count > MAX_SLOTS:
        table.place.at("every").report(f"expected at most {MAX_SLOTS} slots, not {count}")
        return []
    return [index * square + square // 2 for index in range(count)]


def _on_face(cover: Solid, side: Direction, spot: tuple[int, ...], table: Table) -> list[Point]:
    """Return the point where one who comes from that side first meets the part."""
    axes = [axis for axis in range(3) if axis != side.axis]
    met = [
        cuboid
        for cuboid in cover
        if all(cuboid[a] <= at <= cuboid[a + 3] for a, at in zip(axes, spot, strict=True))
    ]
    if not met:
        shown = " and ".join(format_length(at) for at in spot)
        table.place.report(f"the {_SIDE_NAMES[side]} side has no face at {shown}")
        return []
    outward = sum(side.vector) > 0
    depth = max(c[side.axis + 3] for c in met) if outward else min(c[side.axis] for c in met)
    point = dict(zip(axes, spot, strict=True)) | {side.axis: depth}
    return [((point[0], point[1], point[2]), side)]
