"""What of a load would slide or tip, and what has to be strapped or blocked."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import get_args

from packdown.geometry import Cuboid
from packdown.limits.securing import block_force_n, slides, tips, upright_force_n
from packdown.model import Cargo, Loaded, LoadRules, LoadSpace, Securing
from packdown.model.loading import Side, placed_cuboid, turned_centre

__all__ = ["to_secure"]

Point = tuple[float, float, float]
_WAYS: Mapping[Side, tuple[int, int]] = {
    "forward": (1, 1),
    "backward": (1, -1),
    "left": (0, -1),
    "right": (0, 1),
}


def to_secure(
    space: LoadSpace, rules: LoadRules, cargo: Sequence[Cargo], loaded: Sequence[Loaded]
) -> tuple[Securing, ...]:
    """Return what would slide or tip when the vehicle brakes, starts or turns.

    A container is taken together with all that stands on it. What touches the walls, or something
    that cannot give way itself, is blocked on that side.
    """
    load = _Load(space, rules, cargo, loaded)
    return tuple(load.secure())


class _Load:
    """A load with what stands on what, and what blocks what."""

    def __init__(
        self,
        space: LoadSpace,
        rules: LoadRules,
        cargo: Sequence[Cargo],
        loaded: Sequence[Loaded],
    ) -> None:
        by_id = {one.id: one for one in cargo}
        self.space, self.rules, self.loaded = space, rules, loaded
        self.cargo = [by_id[place.container] for place in loaded]
        self.boxes = [
            placed_cuboid(one, place) for one, place in zip(self.cargo, loaded, strict=True)
        ]

    def secure(self) -> Iterator[Securing]:
        for n, place in enumerate(self.loaded):
            for side in get_args(Side):
                found = self._side(n, place.container, side)
                if found:
                    yield found

    def _side(self, n: int, name: str, side: Side) -> Securing | None:
        """Return how one container goes to one side, if it does."""
        axis, sign = _WAYS[side]
        rules = self.rules
        push = rules.forward_g if side == "forward" else rules.other_g
        weight_g, centre = self._group(n)
        box = self.boxes[n]
        edge = box[axis + 3] if sign > 0 else box[axis]
        reach, height = (edge - centre[axis]) * sign, centre[2] - box.z0
        friction = self.space.friction
        goes = (
            slides(friction, push)
            and not self.blocked[side][n]
            and not any(self._sinks(n, under) for under in range(len(self.boxes)))
        )
        falls = tips(reach, height, push) and not self._leans(n, side, centre[2])
        if not goes and not falls:
            return None
        force = block_force_n(weight_g, friction, push) if goes else 0.0
        if falls:
            top = box.z1 - box.z0
            force = max(force, upright_force_n(weight_g, reach, height, top, push))
        return Securing(container=name, side=side, slides=goes, tips=falls, force_n=round(force, 1))

    def _group(self, n: int) -> tuple[int, Point]:
        """Return weight and centre of gravity of a container with all that stands on it."""
        members = [n, *self.above[n]]
        weight = sum(self.cargo[m].gross_g for m in members)
        x, y, z = (
            sum(self.cargo[m].gross_g * self._centre(m)[axis] for m in members) / weight
            for axis in range(3)
        )
        return weight, (x, y, z)

    def _centre(self, n: int) -> Point:
        x, y, z = turned_centre(self.cargo[n], self.loaded[n].turn)
        at = self.loaded[n].at_um
        return at[0] + x, at[1] + y, at[2] + z

    def _sinks(self, n: int, under: int) -> bool:
        """Whether a container stands in the rim of another, which then holds it."""
        return (
            n != under
            and _covers(self.boxes[n], self.boxes[under])
            and (self.boxes[under].z0 < self.boxes[n].z0 < self.boxes[under].z1)
        )

    @cached_property
    def above(self) -> list[list[int]]:
        """For each container all that stands on it, directly or not."""
        direct = [
            [m for m in range(len(self.boxes)) if self._rests(m, n)] for n in range(len(self.boxes))
        ]
        closed: list[list[int]] = []
        for n in range(len(self.boxes)):
            todo, seen = list(direct[n]), set[int]()
            while todo:
                m = todo.pop()
                if m not in seen:
                    seen.add(m)
                    todo += direct[m]
            closed.append(sorted(seen))
        return closed

    def _rests(self, upper: int, lower: int) -> bool:
        a, b = self.boxes[upper], self.boxes[lower]
        return upper != lower and _covers(a, b) and (a.z0 == b.z1 or self._sinks(upper, lower))

    @cached_property
    def blocked(self) -> dict[Side, list[bool]]:
        """For each side, whether each container can go no further."""
        found: dict[Side, list[bool]] = {}
        for side, (axis, sign) in _WAYS.items():
            held = [False] * len(self.boxes)
            order = sorted(
                range(len(self.boxes)), key=lambda n: -sign * self.boxes[n][axis + 3 * (sign > 0)]
            )
            for n in order:
                held[n] = any(True for _ in self._stops(n, side, held))
            found[side] = held
        return found

    def _stops(self, n: int, side: Side, held: Sequence[bool]) -> Iterator[int]:
        """Yield how high reaches what stops a container on one side."""
        axis, sign = _WAYS[side]
        box = self.boxes[n]
        edge = box[axis + 3] if sign > 0 else -box[axis]
        wall = self.space.size_um[axis] if sign > 0 else 0
        if wall - edge <= self.rules.reach_um:
            yield self.space.size_um[2]
        others = [(c, True) for c in self.space.taken_um]
        others += [(c, held[m]) for m, c in enumerate(self.boxes) if m != n]
        for other, firm in others:
            gap = (other[axis] if sign > 0 else -other[axis + 3]) - edge
            if firm and 0 <= gap <= self.rules.reach_um and _faces(box, other, axis):
                yield other.z1

    def _leans(self, n: int, side: Side, height: float) -> bool:
        """Whether something keeps a container, or what stands on it, from tipping."""
        return any(
            min(top, self.boxes[m].z1) >= height
            for m in (n, *self.above[n])
            for top in self._stops(m, side, self.blocked[side])
        )


def _covers(a: Cuboid, b: Cuboid) -> bool:
    """Whether two cuboids overlap as seen from above."""
    return a.x0 < b.x1 and b.x0 < a.x1 and a.y0 < b.y1 and b.y0 < a.y1


def _faces(a: Cuboid, b: Cuboid, axis: int) -> bool:
    """Whether two cuboids overlap as seen along x or y."""
    other = 1 - axis
    beside = a[other] < b[other + 3] and b[other] < a[other + 3]
    return beside and a.z0 < b.z1 and b.z0 < a.z1
