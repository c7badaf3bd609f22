"""What the rules of a load look up: cuboids, and what stands on what."""

from dataclasses import dataclass
from functools import cached_property
from itertools import permutations

from packdown.geometry import Cuboid, footprint_overlap
from packdown.model import Cargo, Loaded, Loading

__all__ = ["LoadLookup", "Stowed", "look_up_load"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stowed:
    """One container as it is loaded.

    Parameters
    ----------
    place, cargo
        What the load says of it.
    box
        Its outer size where it is.
    """

    place: Loaded
    cargo: Cargo
    box: Cuboid

    @property
    def name(self) -> str:
        """Its id."""
        return self.cargo.id

    @property
    def centre_um(self) -> tuple[int, int, int]:
        """Centre of gravity in the frame of the load space."""
        x, y, z = self.cargo.centre_um
        if self.place.turn == 90:
            x, y = self.cargo.size_um[1] - y, x
        return self.box.x0 + x, self.box.y0 + y, self.box.z0 + z


@dataclass(frozen=True)
class LoadLookup:
    """A load with its cross-references resolved; what names nothing is left out."""

    loading: Loading
    stowed: tuple[Stowed, ...]

    @cached_property
    def under(self) -> dict[str, tuple[Stowed, ...]]:
        """What each container stands on directly, by id."""
        found: dict[str, tuple[Stowed, ...]] = {one.name: () for one in self.stowed}
        for upper, lower in permutations(self.stowed, 2):
            if self.sinks(upper, lower) or (
                upper.box.z0 == lower.box.z1 and footprint_overlap(upper.box, lower.box) > 0
            ):
                found[upper.name] += (lower,)
        return found

    @cached_property
    def above(self) -> dict[str, tuple[Stowed, ...]]:
        """Everything that stands on a container, directly or not, by id."""
        found: dict[str, dict[str, Stowed]] = {one.name: {} for one in self.stowed}
        for one in self.stowed:
            todo, seen = list(self.under[one.name]), set[str]()
            while todo:
                lower = todo.pop()
                if lower.name not in seen:
                    seen.add(lower.name)
                    found[lower.name][one.name] = one
                    todo += self.under[lower.name]
        return {name: tuple(each.values()) for name, each in found.items()}

    def sinks(self, upper: Stowed, lower: Stowed) -> bool:
        """Whether a container stands in the rim of one of its own size."""
        return (
            self.alike(upper, lower)
            and upper.box.z0 == lower.box.z1 - lower.cargo.nest_um < lower.box.z1
        )

    def alike(self, upper: Stowed, lower: Stowed) -> bool:
        """Whether two containers of one size and rim have the same place in plan."""
        return (
            upper.cargo.size_um == lower.cargo.size_um
            and upper.cargo.nest_um == lower.cargo.nest_um
            and upper.place.turn == lower.place.turn
            and upper.place.at_um[:2] == lower.place.at_um[:2]
        )


def look_up_load(loading: Loading) -> LoadLookup:
    """Resolve the cross-references of a load."""
    cargo = {one.id: one for one in loading.cargo}
    stowed: dict[str, Stowed] = {}
    for place in loading.loaded:
        one = cargo.get(place.container)
        if one and one.id not in stowed:
            (x, y, z), (length, width, height) = place.at_um, one.size_um
            dx, dy = (width, length) if place.turn == 90 else (length, width)
            box = Cuboid(x, y, z, x + dx, y + dy, z + height)
            stowed[one.id] = Stowed(place=place, cargo=one, box=box)
    return LoadLookup(loading=loading, stowed=tuple(stowed.values()))
