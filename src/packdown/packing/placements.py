"""From rows back to items with their places."""

from collections.abc import Sequence

from packdown.geometry import Cuboid, Solid, bounds, lowest_faces, rests_on, rotated
from packdown.model import Container, Fill, Item, Placement
from packdown.packing.construct import Rows
from packdown.packing.kinds import Kinds

__all__ = ["fills_of"]


def fills_of(kinds: Kinds, rows: dict[int, Rows]) -> tuple[Fill, ...]:
    """Return the fill of each container with contents; items of one kind go in their order."""
    stock = [list(reversed(items)) for items in kinds.items]
    return tuple(
        _fill(kinds, container, rows[index], stock)
        for index, container in enumerate(kinds.containers)
        if index in rows and len(rows[index])
    )


def _fill(kinds: Kinds, container: Container, rows: Rows, stock: Sequence[list[Item]]) -> Fill:
    below: list[tuple[Solid, Cuboid, int]] = []
    placements = []
    for kind, pose_row, x, y, z in rows.tolist():
        item, pose = stock[kind].pop(), kinds.poses[pose_row]
        solid, _ = rotated(item.cuboids_um, pose.way_up, pose.turn, (x, y, z))
        support, layer = _footing(solid, below, container.sheet_um)
        below.append((solid, bounds(solid), layer))
        placements.append(
            Placement(
                item=item.id,
                at_um=(x, y, z),
                way_up=pose.way_up,
                turn=pose.turn,
                cuboids_um=solid,
                support=support,
                layer=layer,
            )
        )
    return Fill(container=container.id, placements=tuple(placements))


def _footing(
    solid: Solid, below: Sequence[tuple[Solid, Cuboid, int]], sheet: int
) -> tuple[float, int]:
    """Return the supported share of the lowest faces, and the layer."""
    box = bounds(solid)
    feet = [cuboid for cuboid in solid if cuboid.z0 == box.z0]
    area = sum(foot.area for foot in lowest_faces(solid))
    held, layer = (area if box.z0 == 0 else 0), 1
    for other, under, level in below:
        if under.z1 + sheet < box.z0:
            continue
        if box.x0 >= under.x1 or under.x0 >= box.x1 or box.y0 >= under.y1 or under.y0 >= box.y1:
            continue
        if rests_on(solid, other, sheet):
            layer = max(layer, level + 1)
            held += sum(rect.area for rect in rests_on(feet, other, sheet))
    return held / area, layer
