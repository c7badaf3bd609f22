"""Units of a build, which fixed joints hold together: what they weigh and what parting costs."""

from collections.abc import Sequence
from functools import reduce

from packdown.geometry import WayUp
from packdown.model import JointKind
from packdown.teardown.graph import BuildGraph, bits, components, neighbours
from packdown.teardown.room import Room

__all__ = ["Units"]


class Units:
    """The units of a build as a weighted graph; they are counted from 0.

    Parameters
    ----------
    graph
        The build.
    tolerance_um
        How far one joint may stand open.

    Attributes
    ----------
    weights, boxes, ways
        Weight, bounding box and allowed ways up of each unit.
    efforts
        Seconds to open and close all joints between two units, by the pair, lower number first.
    keys
        Keys in these joints, by the same pairs.
    own_keys
        Keys in the joints inside each unit.
    """

    def __init__(self, graph: BuildGraph, tolerance_um: int) -> None:
        pieces = graph.build.pieces
        self.graph = graph
        self.count = len(graph.units)
        self.weights = [sum(pieces[i].weight_g for i in bits(unit)) for unit in graph.units]
        self.boxes = [graph.box(unit) for unit in graph.units]
        self.ways = [self._ways(unit) for unit in graph.units]
        self.efforts: dict[tuple[int, int], int] = {}
        self.keys: dict[tuple[int, int], int] = {}
        self.own_keys = [sum(joint.keys for joint in graph.inner(unit)) for unit in graph.units]
        stacked = set()
        owner = {i: number for number, unit in enumerate(graph.units) for i in bits(unit)}
        for pair, joint in graph.joints:
            a, b = sorted(owner[i] for i in bits(pair))
            if a != b:
                self.efforts[a, b] = self.efforts.get((a, b), 0) + joint.effort_s
                self.keys[a, b] = self.keys.get((a, b), 0) + joint.keys
                if joint.kind is JointKind.STACKED:
                    stacked.add((a, b))
        firm = [pair for pair in self.efforts if pair not in stacked]
        self._joined = neighbours(self.count, (1 << a | 1 << b for a, b in self.efforts))
        self._firmly = neighbours(self.count, (1 << a | 1 << b for a, b in firm))
        self._tolerance_um = tolerance_um
        self._seams = [self._sides_of_seams(axis) for axis in range(3)]

    def _ways(self, unit: int) -> set[WayUp]:
        pieces = self.graph.build.pieces
        ways = reduce(lambda some, more: some & more, (set(pieces[i].ways_up) for i in bits(unit)))
        if any(joint.kind is JointKind.STACKED for joint in self.graph.inner(unit)):
            ways &= {WayUp.UPRIGHT}
        return ways

    def connected(self, mask: int, way: WayUp) -> list[int]:
        """Return the parts of a mask of units that joints hold together when they lie in a way."""
        return self.joined(mask) if way is WayUp.UPRIGHT else components(mask, self._firmly)

    def joined(self, mask: int) -> list[int]:
        """Return the parts of a mask of units that joints hold together."""
        return components(mask, self._joined)

    def beside(self, mask: int) -> int:
        """Return the units that joints hold to a mask of others."""
        near = 0
        for unit in bits(mask):
            near |= self._joined[unit]
        return near & ~mask

    def edge(self, mask: int) -> int:
        """Return the effort of all joints between a mask of units and the others."""
        return sum(
            [
                effort
                for (a, b), effort in self.efforts.items()
                if (mask >> a & 1) != (mask >> b & 1)
            ]
        )

    def _sides_of_seams(self, axis: int) -> list[tuple[int, dict[int, int]]]:
        """Return the seams across an axis, and for each unit its side of each seam.

        Two units are on different sides if every way along the joints of the build from one to the
        other leads through the seam: in a sub-assembly of both, one joint of it is kept and may
        stand open.
        """
        first = [unit & -unit for unit in self.graph.units]
        found = []
        opening = [
            (max(self.graph.boxes[i][axis] for i in bits(pair)), pair)
            for pair, joint in self.graph.joints
            if joint.axis == axis and joint.kind is not JointKind.GLUED
        ]
        for seam in sorted({at for at, _ in opening}):
            crossed = {pair for at, pair in opening if at == seam}
            sides = self.graph.components_without(crossed)
            found.append(
                (
                    seam,
                    {
                        unit: next(n for n, side in enumerate(sides) if side & bit)
                        for unit, bit in enumerate(first)
                    },
                )
            )
        return found

    def grown_end(self, low: int, high: int, axis: int) -> int:
        """Return how far along an axis a unit reaches at least in a sub-assembly with another.

        Parameters
        ----------
        low, high
            The other unit, and the one that is asked for.
        axis
            0, 1 or 2.
        """
        box = self.boxes[high]
        open_seams = sum(
            seam <= box[axis] and side[low] != side[high] for seam, side in self._seams[axis]
        )
        return box[axis + 3] + self._tolerance_um * open_seams

    def admitted(self, i: int, j: int, rooms: Sequence[Room]) -> bool:
        """Whether some room may take two units in one sub-assembly; with i = j, one unit alone."""
        weight = self.weights[i] + (self.weights[j] if i != j else 0)
        x, y, z = (
            max(self.grown_end(i, j, axis), self.grown_end(j, i, axis))
            - min(self.boxes[i][axis], self.boxes[j][axis])
            for axis in range(3)
        )
        ways = self.ways[i] & self.ways[j]
        return any(
            room.admits((x, y, z), weight, way, magnets=False) for room in rooms for way in ways
        )

    def pieces(self, mask: int) -> int:
        """Return the mask of pieces for a mask of units."""
        return sum(self.graph.units[unit] for unit in bits(mask))
