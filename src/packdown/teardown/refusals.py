"""Why a sub-assembly cannot stay whole, said so that it holds for many others too."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packdown.geometry import WayUp
from packdown.model import JointKind
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import bits
from packdown.teardown.overhang import Overhangs
from packdown.teardown.room import Room
from packdown.teardown.strength import DOWN_SIDE, hanging
from packdown.teardown.tipping import Tipping
from packdown.teardown.units import Units

__all__ = ["ANY_WAY", "Refusal", "Refusals"]

WAYS = tuple(WayUp)
#: A bit for each way up.
ANY_WAY = (1 << len(WAYS)) - 1
AXES = ((0,), (1,), (2,), (0, 1), (0, 2), (1, 2), (0, 1, 2))


@dataclass(frozen=True, slots=True)
class Refusal:
    """No set with some units in and others out lies in some ways up.

    Parameters
    ----------
    ways
        A bit for each way up.
    inside, outside
        Masks of units.
    """

    ways: int
    inside: int
    outside: int

    def meets(self, mask: int) -> bool:
        """Whether a set of units is one of those meant."""
        return mask & self.inside == self.inside and not mask & self.outside


class Refusals:
    """All that was found out so far about sets of units that cannot stay whole.

    Parameters
    ----------
    units
        The units of a build.
    assembler, rooms
        Say which sets may stay whole.
    """

    def __init__(self, units: Units, assembler: Assembler, rooms: Sequence[Room]) -> None:
        self.units, self.assembler, self.rooms = units, assembler, rooms
        self.all: list[Refusal] = []
        self._owner = {i: n for n, unit in enumerate(units.graph.units) for i in bits(unit)}
        shock_factor = assembler.settings.shock_factor
        self._tipping = Tipping(units, rooms, assembler.settings.joint_tolerance_um)
        self._overhangs = {
            way: Overhangs(units.graph, DOWN_SIDE[way], shock_factor) for way in WAYS
        }

    def learn(self, mask: int) -> None:
        """Find out why a joined set of units cannot lie in any way up.

        What cannot be said of others as well is refused by itself.
        """
        refused = 0
        for refusal in self.all:
            if refusal.ways & ~refused and refusal.meets(mask):
                refused |= refusal.ways
        pieces = self.units.pieces(mask)
        for number, way in enumerate(WAYS):
            if refused >> number & 1:
                continue
            found = False
            for inside, outside in self._reasons(pieces, mask, way):
                refusal = Refusal(1 << number, self._owners(inside), self._owners(outside))
                if refusal.meets(mask):
                    self.all.append(refusal)
                    found = True
            if not found:
                self.all.append(Refusal(1 << number, mask, ((1 << self.units.count) - 1) & ~mask))

    def forbid(self, mask: int) -> None:
        """Refuse one set of units by itself."""
        self.all.append(Refusal(ANY_WAY, mask, ((1 << self.units.count) - 1) & ~mask))

    def _owners(self, pieces: int) -> int:
        return sum(1 << unit for unit in {self._owner[i] for i in bits(pieces)})

    def _reasons(self, pieces: int, mask: int, way: WayUp) -> Iterator[tuple[int, int]]:
        """Yield masks of pieces in and out: reasons why a set does not lie in a way up."""
        graph = self.units.graph
        for unit in bits(mask):
            if way not in self.units.ways[unit]:
                yield graph.units[unit], 0
                return
        if way is not WayUp.UPRIGHT:
            for pair, joint in graph.joints:
                if pair & pieces == pair and joint.kind is JointKind.STACKED:
                    yield pair, 0
                    return
        far = self._too_large(mask, way)
        if far:
            yield self.units.pieces(far), 0
            return
        hung = hanging(graph, pieces, way, self.assembler.settings.shock_factor)
        if hung:
            yield from self._overhangs[way].reasons(pieces, hung)
        for inside, outside in self._tipping.reasons(mask, DOWN_SIDE[way]):
            yield self.units.pieces(inside), self.units.pieces(outside)

    def _too_large(self, mask: int, way: WayUp) -> int:
        """Return units that are too far apart for every room, as few as can be told; or 0."""
        ends = [self._ends(mask, axis) for axis in range(3)]
        for axes in AXES:
            x, y, z = (ends[axis][0] if axis in axes else 0 for axis in range(3))
            if not any(room.admits((x, y, z), 0, way, magnets=False) for room in self.rooms):
                far = 0
                for axis in axes:
                    far |= ends[axis][1]
                return far
        return 0

    def _ends(self, mask: int, axis: int) -> tuple[int, int]:
        """Return how long a set is at least along an axis, and the two units at its ends."""
        boxes = self.units.boxes
        low = min(bits(mask), key=lambda unit: (boxes[unit][axis], unit))
        length, high = max(
            (self.units.grown_end(low, unit, axis) - boxes[low][axis], unit) for unit in bits(mask)
        )
        return length, 1 << low | 1 << high
