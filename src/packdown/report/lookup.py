"""What the reports look up in a plan: where each item and each piece is."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from packdown.geometry import Vector, rotate_vector, rotated, volume
from packdown.model import Item, PackedContainer, Piece, Placement, Plan, PlanBuild

__all__ = ["Lookup", "Place", "look_up"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where an item lies: its container, and its number on that container's drawings."""

    container: PackedContainer
    number: int
    placement: Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class Lookup:
    """A plan with its cross-references resolved.

    Parameters
    ----------
    plan
        The plan.
    containers, items, pieces, builds
        By id.
    places
        Of every packed item, by item id.
    item_of_piece
        The item each piece travels in, by piece id.
    """

    plan: Plan
    containers: Mapping[str, PackedContainer]
    items: Mapping[str, Item]
    pieces: Mapping[str, Piece]
    builds: Mapping[str, PlanBuild]
    places: Mapping[str, Place]
    item_of_piece: Mapping[str, Item]

    @property
    def used(self) -> tuple[PackedContainer, ...]:
        """Containers that hold something, in the order of the plan."""
        return tuple(container for container in self.plan.containers if container.fill)

    def gross_g(self, container: PackedContainer) -> int:
        """Weight of a container with its contents."""
        return container.tare_g + sum(self.items[p.item].weight_g for p in container.fill)

    def centre_um(self, container: PackedContainer) -> Vector:
        """Centre of gravity of the contents, in the frame of the container."""
        weighed = [(self.items[p.item].weight_g, self._item_centre(p)) for p in container.fill]
        total = max(1, sum(weight for weight, _ in weighed))
        x, y, z = (round(sum(w * at[axis] for w, at in weighed) / total) for axis in range(3))
        return x, y, z

    def _item_centre(self, place: Placement) -> Vector:
        item = self.items[place.item]
        _, shift = rotated(item.cuboids_um, place.way_up, place.turn, place.at_um)
        x, y, z = rotate_vector(item.centre_um, place.way_up, place.turn)
        return x + shift[0], y + shift[1], z + shift[2]

    def fill_share(self, container: PackedContainer) -> float:
        """Share of the inner volume that is taken up, from 0 to 1."""
        return sum(volume(p.cuboids_um) for p in container.fill) / container.volume_um3

    def has_magnets(self, container: PackedContainer) -> bool:
        """Whether a piece in the container has magnets."""
        return any(
            self.pieces[piece].magnets
            for p in container.fill
            for piece in self.items[p.item].pieces
        )

    def build_name(self, item: Item) -> str:
        """Name the build an item belongs to; empty for loose pieces and bags."""
        build = self.builds.get(item.build or "")
        return build.name if build else ""

    def parts_within(self, build: str | None, pieces: Iterable[str]) -> tuple[int, ...]:
        """Return the numbers of the sub-assemblies of a build that lie within some pieces."""
        own, known = set(pieces), self.builds.get(build or "")
        parts = known.sub_assemblies if known else ()
        return tuple(n for n, part in enumerate(parts, 1) if own.issuperset(part))


def look_up(plan: Plan) -> Lookup:
    """Resolve the cross-references of a plan."""
    return Lookup(
        plan=plan,
        containers={container.id: container for container in plan.containers},
        items={item.id: item for item in plan.items},
        pieces={piece.id: piece for piece in plan.pieces},
        builds={build.id: build for build in plan.builds},
        places={
            placement.item: Place(container=container, number=number, placement=placement)
            for container in plan.containers
            for number, placement in enumerate(container.fill, 1)
        },
        item_of_piece={piece: item for item in plan.items for piece in item.pieces},
    )
