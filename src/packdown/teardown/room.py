"""What the containers admit, by size and weight alone."""

from collections.abc import Iterable
from dataclasses import dataclass

from packdown.geometry import Vector, WayUp, size
from packdown.model import Container, Item, Lining, Rules, usable_payloads

__all__ = ["Room", "rooms_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Largest item of a kind of container.

    Parameters
    ----------
    size_um
        Length, width and height an item may have.
    payload_g
        Weight it may have.
    steel
        Whether pieces with magnets must stand upright in it.
    """

    size_um: Vector
    payload_g: int
    steel: bool

    def admits(self, size_um: Vector, weight_g: int, way_up: WayUp, *, magnets: bool) -> bool:
        """Whether something fits, turned as may be about the vertical.

        Parameters
        ----------
        size_um
            Its size in its own frame.
        weight_g
            Its weight.
        way_up
            The way it lies.
        magnets
            Whether it has magnets in its underside.
        """
        if weight_g > self.payload_g or (magnets and self.steel and way_up is not WayUp.UPRIGHT):
            return False
        length, width, height = _laid(size_um, way_up)
        a, b, c = self.size_um
        return height <= c and ((length <= a and width <= b) or (width <= a and length <= b))

    def takes(self, item: Item) -> bool:
        """Whether an item fits by size and weight in one of the ways it may lie."""
        size_um = size(item.cuboids_um)
        return any(
            self.admits(size_um, item.weight_g, way, magnets=item.magnets)
            for way in item.allowed_ways_up
        )

    def covers(self, other: "Room") -> bool:
        """Whether all that `other` admits is admitted here."""
        return (
            all(a >= b for a, b in zip(self.size_um, other.size_um, strict=True))
            and self.payload_g >= other.payload_g
            and self.steel <= other.steel
        )


def _laid(size_um: Vector, way_up: WayUp) -> Vector:
    x, y, z = size_um
    if way_up in {WayUp.UPRIGHT, WayUp.UPSIDE_DOWN}:
        return (x, y, z)
    return (z, y, x) if way_up in {WayUp.ON_LEFT, WayUp.ON_RIGHT} else (x, z, y)


def rooms_of(containers: Iterable[Container], rules: Rules) -> tuple[Room, ...]:
    """Return the different rooms of the containers, without those that others cover."""
    containers = tuple(containers)
    payloads = usable_payloads(containers, rules)
    rooms: dict[Room, None] = {}
    for container in containers:
        length, width, height = container.inner_um
        gap = 2 * container.clearance_um
        room = Room(
            size_um=(length - gap, width - gap, height),
            payload_g=payloads[container.id],
            steel=container.lining is Lining.STEEL,
        )
        rooms[room] = None
    return tuple(
        room for room in rooms if not any(other != room and other.covers(room) for other in rooms)
    )
