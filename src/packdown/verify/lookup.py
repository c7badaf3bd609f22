"""A plan with its ids resolved, so that each rule can skip what another rule reports."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol, TypeVar

from packdown.geometry import TURNS, Cuboid, Solid, Vector, drop_height, rotate_vector, rotated
from packdown.model import (
    Item,
    ItemKind,
    Joint,
    PackedContainer,
    Piece,
    Placement,
    Plan,
    PlanBuild,
)

__all__ = ["Load", "Loaded", "Lookup", "is_over", "is_sound", "joint_fault", "near"]


class _HasId(Protocol):
    @property
    def id(self) -> str: ...


Named = TypeVar("Named", bound=_HasId)


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """One item at its place in a container."""

    item: Item
    place: Placement

    @property
    def id(self) -> str:
        """Id of the item."""
        return self.item.id

    @property
    def cuboids(self) -> Solid:
        """Its cuboids in the frame of the container."""
        return self.place.cuboids_um

    @property
    def centre(self) -> Vector:
        """Its centre of gravity in the frame of the container."""
        way_up, turn = self.place.way_up, self.place.turn
        _, shift = rotated(self.item.cuboids_um, way_up, turn, self.place.at_um)
        x, y, z = rotate_vector(self.item.centre_um, way_up, turn)
        return (x + shift[0], y + shift[1], z + shift[2])

    @property
    def bottom(self) -> int:
        """Height of its lowest face."""
        return min(cuboid.z0 for cuboid in self.cuboids)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What lies in one container, in loading order."""

    container: PackedContainer
    items: tuple[Loaded, ...]

    @property
    def weight_g(self) -> int:
        """Weight of the contents."""
        return sum(loaded.item.weight_g for loaded in self.items)

    @property
    def gross_g(self) -> int:
        """Weight of the container with its contents."""
        return self.container.tare_g + self.weight_g

    def below(self, index: int) -> tuple[Loaded, ...]:
        """Return what was loaded before the item with this index."""
        return self.items[:index]

    def float_um(self, index: int) -> int:
        """Return how far above its rest an item is placed; not positive where it rests."""
        loaded = self.items[index]
        obstacles = [cuboid for other in self.below(index) for cuboid in other.cuboids]
        bottom = loaded.bottom
        rest = drop_height(
            [cuboid.moved(0, 0, -bottom) for cuboid in loaded.cuboids],
            obstacles,
            clearance=self.container.clearance_um,
            gap=self.container.sheet_um,
        )
        return bottom - rest


@dataclass(frozen=True)
class Lookup:
    """A plan and its parts by id; of parts that share an id, the first."""

    plan: Plan

    @cached_property
    def pieces(self) -> dict[str, Piece]:
        """The pieces that have a shape, by id."""
        return _by_id(piece for piece in self.plan.pieces if piece.cuboids_um)

    @cached_property
    def items(self) -> dict[str, Item]:
        """The items by id."""
        return _by_id(self.plan.items)

    @cached_property
    def builds(self) -> dict[str, PlanBuild]:
        """The builds by id."""
        return _by_id(self.plan.builds)

    @cached_property
    def containers(self) -> dict[str, PackedContainer]:
        """The containers by id."""
        return _by_id(self.plan.containers)

    @cached_property
    def joints(self) -> dict[str, Joint]:
        """The joints of two known pieces with a known axis, by id."""
        return _by_id(
            joint
            for build in self.plan.builds
            for joint in build.joints
            if set(joint.pieces) <= self.pieces.keys() and not joint_fault(joint)
        )

    @cached_property
    def loads(self) -> tuple[Load, ...]:
        """What lies in each container, without placements that the pose rule reports."""
        return tuple(
            Load(
                container=container,
                items=tuple(
                    Loaded(item=self.items[place.item], place=place)
                    for place in container.fill
                    if place.item in self.items and is_sound(place, self.items[place.item])
                ),
            )
            for container in self.plan.containers
        )

    @cached_property
    def packed_sub_assemblies(self) -> tuple[Loaded, ...]:
        """The sub-assemblies that have a place, and a piece that is known."""
        return tuple(
            loaded
            for load in self.loads
            for loaded in load.items
            if loaded.item.kind is ItemKind.SUB_ASSEMBLY and self.pieces_of(loaded.item)
        )

    @cached_property
    def build_pieces(self) -> dict[str, frozenset[str]]:
        """Ids of the pieces of each build."""
        return {
            build: frozenset(p.id for p in self.pieces.values() if p.build == build)
            for build in self.builds
        }

    @cached_property
    def container_of(self) -> dict[str, str]:
        """Where each packed piece lies, by piece id."""
        return {
            piece: load.container.id
            for load in self.loads
            for loaded in load.items
            for piece in loaded.item.pieces
        }

    def pieces_of(self, item: Item) -> tuple[Piece, ...]:
        """Return the known pieces of an item."""
        return tuple(self.pieces[piece] for piece in item.pieces if piece in self.pieces)

    def joints_in(self, pieces: Iterable[str]) -> tuple[Joint, ...]:
        """Return the joints with both ends among some pieces."""
        inside = set(pieces)
        return tuple(joint for joint in self.joints.values() if inside.issuperset(joint.pieces))

    def joints_between(self, one: Iterable[str], other: Iterable[str]) -> tuple[Joint, ...]:
        """Return the joints with one end on each side."""
        sides = set(one), set(other)
        return tuple(
            joint
            for joint in self.joints.values()
            for a, b in (joint.pieces, joint.pieces[::-1])
            if a in sides[0] and b in sides[1]
        )

    def solid_items(self) -> Iterator[tuple[Item, tuple[Piece, ...]]]:
        """Yield what is not a bag, with its pieces; only where all of them are known."""
        for item in self.plan.items:
            pieces = self.pieces_of(item)
            if item.kind is not ItemKind.BAG and pieces and len(pieces) == len(item.pieces):
                yield item, pieces


def _by_id(things: Iterable[Named]) -> dict[str, Named]:
    found: dict[str, Named] = {}
    for thing in things:
        found.setdefault(thing.id, thing)
    return found


def is_sound(place: Placement, item: Item) -> bool:
    """Whether a placement has a turn and as many cuboids as its item, so that it can be judged."""
    return place.turn in TURNS and len(place.cuboids_um) == len(item.cuboids_um)


def joint_fault(joint: Joint) -> str:
    """Return what keeps a joint from being judged at all, or nothing."""
    if joint.axis not in range(3):
        return f"axis is {joint.axis}, not 0, 1 or 2"
    return "joins a piece to itself" if joint.pieces[0] == joint.pieces[1] else ""


def near(a: Cuboid, b: Cuboid, clearance: int) -> bool:
    """Whether two cuboids are closer than the clearance as seen from above."""
    return (
        a.x0 < b.x1 + clearance
        and b.x0 < a.x1 + clearance
        and a.y0 < b.y1 + clearance
        and b.y0 < a.y1 + clearance
    )


def is_over(upper: Loaded, lower: Loaded, clearance: int) -> bool:
    """Whether one item has to be lifted out before another can be lifted straight up."""
    return any(a.z0 >= b.z1 and near(a, b, clearance) for a in upper.cuboids for b in lower.cuboids)
