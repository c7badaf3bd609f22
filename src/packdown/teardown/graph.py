"""A build as a graph: pieces are bits of a mask, joints and contacts are its edges."""

from collections.abc import Collection, Iterable, Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from math import lcm

from packdown.geometry import Cuboid, Direction, Solid, bounds, face_contact, volume
from packdown.model import Build, Joint

__all__ = ["BuildGraph", "bits", "centroid", "components", "graph_of", "neighbours"]


def bits(mask: int) -> Iterator[int]:
    """Yield the positions of the bits that are set, lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


class BuildGraph:
    """Who is joined to whom, and who lies on whom, in one build.

    A set of pieces is a mask: bit i stands for the i-th piece of the build.

    Parameters
    ----------
    build
        The build; its joints with equal ends are kept apart.

    Attributes
    ----------
    boxes
        Bounding box of each piece.
    joints
        Each joint with the mask of its two pieces.
    lies_on
        For each direction taken as down, the mask of what each piece lies on.
    units
        Masks of pieces that fixed joints hold together: these are never parted.
    seams
        Axis and place of every plane in which a joint meets.
    planes
        For each plane of a joint, the mask of the units that have their middle below it.
    moments, moment_unit
        Weight times centroid of each piece by axis, counted in a fraction of a gram micrometre:
        `moment_unit` of them are one.
    """

    def __init__(self, build: Build) -> None:
        self.build = build
        self.index = {piece.id: number for number, piece in enumerate(build.pieces)}
        self.all = (1 << len(build.pieces)) - 1
        self.boxes = tuple(bounds(piece.cuboids_um) for piece in build.pieces)
        self.joints: tuple[tuple[int, Joint], ...] = tuple(
            (self.mask(joint.pieces), joint) for joint in build.joints
        )
        count = len(self.index)
        self._joined = neighbours(count, (mask for mask, _ in self.joints))
        self.lies_on = self._contacts()
        glued = neighbours(count, (mask for mask, joint in self.joints if joint.fixed))
        self.units = components(self.all, glued)
        self.seams = sorted(
            {(joint.axis, self.plane(pair, joint.axis)) for pair, joint in self.joints}
        )
        self.planes = self._planes()
        self._held: dict[Direction, list[int]] = {}
        centroids = [centroid(piece.cuboids_um) for piece in build.pieces]
        self.moment_unit = lcm(*(value.denominator for point in centroids for value in point))
        self.moments = tuple(
            tuple(int(value * piece.weight_g * self.moment_unit) for value in point)
            for piece, point in zip(build.pieces, centroids, strict=True)
        )

    def mask(self, piece_ids: Iterable[str]) -> int:
        """Return the mask of pieces given by id."""
        mask = 0
        for piece in piece_ids:
            mask |= 1 << self.index[piece]
        return mask

    def ids(self, mask: int) -> tuple[str, ...]:
        """Return the ids of a mask's pieces in the order of the build."""
        return tuple(self.build.pieces[i].id for i in bits(mask))

    def inner(self, mask: int) -> list[Joint]:
        """Return the joints between two pieces of a mask."""
        return [joint for pair, joint in self.joints if pair & mask == pair]

    def inner_effort(self, mask: int) -> int:
        """Return the seconds it would take to split and re-make every joint inside a mask."""
        return sum([joint.effort_s for pair, joint in self.joints if pair & mask == pair])

    def components(self, mask: int) -> list[int]:
        """Return the parts of a mask that joints hold together, in the order of the build."""
        return components(mask, self._joined)

    def components_without(self, pairs: Collection[int]) -> list[int]:
        """Return the parts into which the build falls without the joints of some pairs."""
        kept = (mask for mask, _ in self.joints if mask not in pairs)
        return components(self.all, neighbours(len(self.index), kept))

    def is_connected(self, mask: int) -> bool:
        """Whether joints hold all pieces of a mask together."""
        return _reach(mask & -mask, mask, self._joined) == mask

    def box(self, mask: int) -> Cuboid:
        """Return the bounding box of a mask's pieces."""
        return bounds([self.boxes[i] for i in bits(mask)])

    def plane(self, pair: int, axis: int) -> int:
        """Return where two pieces meet along an axis."""
        return max(self.boxes[i][axis] for i in bits(pair))

    def held(self, down: Direction) -> list[int]:
        """Return for each piece the mask of those joined to it, lying on it, or under it."""
        if down not in self._held:
            above = self.lies_on[down.opposite]
            self._held[down] = [
                a | b | c for a, b, c in zip(self._joined, self.lies_on[down], above, strict=True)
            ]
        return self._held[down]

    def _planes(self) -> tuple[int, ...]:
        boxes = {unit: self.box(unit) for unit in self.units}
        return tuple(
            sum(unit for unit, box in boxes.items() if box[axis] + box[axis + 3] < 2 * seam)
            for axis, seam in self.seams
        )

    def _contacts(self) -> dict[Direction, list[int]]:
        lies_on = {direction: [0] * len(self.index) for direction in Direction}
        pieces = self.build.pieces
        for i, j in combinations(range(len(pieces)), 2):
            if not _may_touch(self.boxes[i], self.boxes[j]):
                continue
            for side in face_contact(pieces[i].cuboids_um, pieces[j].cuboids_um):
                lies_on[side][i] |= 1 << j
                lies_on[side.opposite][j] |= 1 << i
        return lies_on


def neighbours(count: int, pairs: Iterable[int]) -> list[int]:
    """Return for each of `count` bits the mask of those it is paired with."""
    joined = [0] * count
    for pair in pairs:
        for i in bits(pair):
            joined[i] |= pair & ~(1 << i)
    return joined


def components(mask: int, joined: list[int]) -> list[int]:
    """Return the parts of a mask that neighbours hold together, lowest bit first."""
    found = []
    while mask:
        part = _reach(mask & -mask, mask, joined)
        found.append(part)
        mask &= ~part
    return found


def _reach(start: int, within: int, joined: list[int]) -> int:
    """Return all that can be reached inside a mask along the neighbours."""
    reached = fresh = start
    while fresh:
        step = 0
        for i in bits(fresh):
            step |= joined[i]
        fresh = step & within & ~reached
        reached |= fresh
    return reached


def _may_touch(a: Cuboid, b: Cuboid) -> bool:
    return (
        a.x0 <= b.x1
        and b.x0 <= a.x1
        and a.y0 <= b.y1
        and b.y0 <= a.y1
        and a.z0 <= b.z1
        and b.z0 <= a.z1
    )


def centroid(solid: Solid) -> tuple[Fraction, Fraction, Fraction]:
    """Return the centre of gravity of a solid."""
    x, y, z = (
        Fraction(sum(c.volume * (c[axis] + c[axis + 3]) for c in solid), 2 * volume(solid))
        for axis in range(3)
    )
    return (x, y, z)


@lru_cache(maxsize=64)
def graph_of(build: Build) -> BuildGraph:
    """Return the graph of a build, made once for as long as it is in use."""
    return BuildGraph(build)
