"""Why a sub-assembly tips over: what stands is on one side, and too much weight beyond it.

The reason found is valid for many sets: one unit that stands and some weight beyond the edge are
in; what could stand further out, or lower, is out; whatever else may be in does not outweigh them.
"""

from collections.abc import Iterator, Sequence

from packdown.geometry import Direction
from packdown.teardown.graph import bits
from packdown.teardown.room import Room
from packdown.teardown.units import Units

__all__ = ["Tipping"]

Reason = tuple[int, int]
"""Masks of the units that are in, and of those that are out."""
#: The centre of gravity is rounded to whole micrometres.
ROUNDING_UM = 1


class Tipping:
    """Reasons why sets of units of one build tip over.

    Parameters
    ----------
    units
        The units.
    rooms
        What the containers admit.
    tolerance_um
        How far one joint may stand open.
    """

    def __init__(self, units: Units, rooms: Sequence[Room], tolerance_um: int) -> None:
        self.units, self.rooms, self.tolerance_um = units, rooms, tolerance_um
        self.longest = max((max(room.size_um) for room in rooms), default=0)
        graph = units.graph
        self.moments = [
            tuple(sum(graph.moments[i][axis] for i in bits(unit)) for axis in range(3))
            for unit in graph.units
        ]
        self._near: dict[int, int] = {}

    def reasons(self, mask: int, down: Direction) -> Iterator[Reason]:
        """Yield reasons why a set tips over; none if it stands, or if that cannot be told.

        Parameters
        ----------
        mask
            The units.
        down
            The direction that is down. Towards the ends of axes, where joints that stand open
            decide what reaches lowest, nothing is told.
        """
        if sum(down.vector) > 0:
            return
        level = min(self.units.boxes[unit][down.axis] for unit in bits(mask))
        for axis in range(3):
            for sign in (1, -1):
                found = None
                if axis != down.axis:
                    found = self._beyond(mask, (down.axis, level), axis, sign)
                if found:
                    yield found

    def _beyond(self, mask: int, floor: tuple[int, int], axis: int, sign: int) -> Reason | None:
        """Return the reason that the weight is beyond all that stands on one side."""
        feet = self._feet(floor, axis, sign)
        edge = max(reach for unit, reach in feet.items() if mask >> unit & 1)
        loads = self._loads(edge, axis, sign)
        if sum(loads[unit] for unit in bits(mask)) <= 0:
            return None
        foot = max((unit for unit in feet if mask >> unit & 1), key=lambda unit: loads[unit])
        others = [unit for unit in bits(self._may_join(foot)) if unit != foot]
        outside = sum(
            1 << unit
            for unit in others
            if self.units.boxes[unit][floor[0]] < floor[1] or feet.get(unit, edge) > edge
        )
        beyond = [unit for unit in bits(mask) if loads[unit] > 0 and unit != foot]
        against = [unit for unit in others if loads[unit] < 0 and not outside >> unit & 1]
        total = sum(loads[unit] for unit in (foot, *beyond, *against))
        for unit in sorted(against, key=lambda unit: (loads[unit], unit)):
            if total <= 0 and not mask >> unit & 1:
                outside |= 1 << unit
                total -= loads[unit]
        if total <= 0:
            return None
        inside = 1 << foot
        for unit in sorted(beyond, key=lambda unit: (loads[unit], unit)):
            if total > loads[unit]:
                total -= loads[unit]
            else:
                inside |= 1 << unit
        return inside, outside

    def _feet(self, floor: tuple[int, int], axis: int, sign: int) -> dict[int, int]:
        """Return how far the feet of each unit with some reach at most, joints standing open."""
        down, level = floor
        found = {}
        for number, unit in enumerate(self.units.graph.units):
            reach = [
                sign * (cuboid[axis + 3] + self._open_um(i, axis) if sign > 0 else cuboid[axis])
                for i in bits(unit)
                for cuboid in self.units.graph.build.pieces[i].cuboids_um
                if cuboid[down] == level
            ]
            if reach:
                found[number] = max(reach)
        return found

    def _open_um(self, piece: int, axis: int) -> int:
        """Return how far a piece can be pushed along by open joints, at most."""
        high = self.units.graph.boxes[piece][axis + 3]
        seams = sum(
            across == axis and high - self.longest <= at < high
            for across, at in self.units.graph.seams
        )
        return self.tolerance_um * seams

    def _loads(self, edge: int, axis: int, sign: int) -> list[int]:
        """Return the moment of each unit about an edge, above nothing if it is beyond it."""
        arm = (edge + ROUNDING_UM) * self.units.graph.moment_unit
        return [
            sign * moment[axis] - arm * weight
            for moment, weight in zip(self.moments, self.units.weights, strict=True)
        ]

    def _may_join(self, unit: int) -> int:
        """Return the units that some room may take in one sub-assembly with another."""
        if unit not in self._near:
            units = self.units
            self._near[unit] = sum(
                1 << other
                for other in range(units.count)
                if other == unit or units.admitted(unit, other, self.rooms)
            )
        return self._near[unit]
