"""In which order a build comes apart: halves that slide or lift off, then halves of those.

Something can be moved off in a direction together with all that is in its way. Of such sets the
one is taken that shears fewest keys, leaves least without support, and parts the build evenly.

References
----------
Wilson, R. H., Latombe, J.-C. (1994), Artificial Intelligence 71(2), 371-396: blocking graphs.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from packdown.geometry import Direction, Solid, WayUp, blocks, bounds
from packdown.model import Build, Joint, JointKind
from packdown.teardown.graph import BuildGraph, bits, graph_of
from packdown.teardown.holding import to_hold
from packdown.teardown.strength import hanging

__all__ = ["DIRECTIONS", "Interlocked", "Move", "order_of_work"]

DIRECTIONS = (Direction.UP, Direction.LEFT, Direction.RIGHT, Direction.FRONT, Direction.BACK)
ONE_HAND_G = 1_000
ONE_HAND_UM = 300_000
#: Parts of which it is found out exactly what is to be held once they are off.
LOOKED_AT = 8


class Interlocked(ValueError):  # noqa: N818 - the state of the pieces, as the trade calls it
    """Sub-assemblies that lock each other in, so that none can be moved off.

    Parameters
    ----------
    pieces
        Their pieces.
    """

    def __init__(self, pieces: Sequence[str]) -> None:
        self.pieces = tuple(pieces)
        super().__init__(f"no part can be moved off, all lock each other in: {', '.join(pieces)}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Two parts of a build that are moved apart along a straight line.

    Parameters
    ----------
    moving, staying
        Piece ids of the two parts, in the order of the build.
    joints
        Ids of the joints this opens.
    direction
        The way the moving part goes.
    keys
        Loose keys that come free.
    keys_first
        Of those, keys to be pulled before: the move would shear them.
    hands
        Hands needed.
    holds
        Pieces to be held, as nothing else carries them once the parts are apart.
    """

    moving: tuple[str, ...]
    staying: tuple[str, ...]
    joints: tuple[str, ...]
    direction: Direction
    keys: int
    keys_first: int
    hands: int
    holds: tuple[str, ...]


def order_of_work(
    build: Build, sub_assemblies: Sequence[Collection[str]], *, exact: bool = False
) -> tuple[Move, ...]:
    """Return the moves that take a build apart into its sub-assemblies.

    Every joint between two sub-assemblies is opened by exactly one move. Rebuilding is the same
    moves in reverse order and opposite direction.

    Parameters
    ----------
    build
        The build.
    sub_assemblies
        Piece ids of each; every piece of the build in exactly one.
    exact
        Whether to find out what must be held by the equilibrium of what is left, and to prefer
        moves that leave less to hold. It takes about a hundred times as long.

    Raises
    ------
    Interlocked
        If some of them cannot be parted by straight moves.
    ValueError
        If they are no partition of the build.
    """
    graph = graph_of(build)
    masks = [graph.mask(part) for part in sub_assemblies]
    if sum(masks) != graph.all or sum(mask.bit_count() for mask in masks) != len(build.pieces):
        raise ValueError(f"build {build.id}: every piece must be in exactly one sub-assembly")
    work = _Work(graph, masks, exact=exact)
    moves = []
    todo = [(1 << len(masks)) - 1]
    while todo:
        group = todo.pop()
        if group.bit_count() < 2:
            continue
        direction, part = work.choose(group)
        moves.append(work.move(group, direction, part))
        todo += [group & ~part, part]
    return tuple(moves)


class _Work:
    """What blocks what among the sub-assemblies; a group of them is a mask over their numbers."""

    def __init__(self, graph: BuildGraph, masks: Sequence[int], *, exact: bool) -> None:
        self.graph, self.exact = graph, exact
        self.masks = masks
        self.cores: list[Solid] = [
            tuple(c for i in bits(mask) for c in graph.build.pieces[i].core_um) for mask in masks
        ]
        self.boxes = [bounds(core) for core in self.cores]
        self.open = [
            (ends, joint)
            for pair, joint in graph.joints
            if (ends := self._owners(pair)).bit_count() == 2
        ]
        self._holds: dict[tuple[int, int], int] = {}
        self.in_way = {direction: self._in_way(direction) for direction in DIRECTIONS}

    def _owners(self, pieces: int) -> int:
        return sum(1 << n for n, mask in enumerate(self.masks) if mask & pieces)

    def _in_way(self, direction: Direction) -> list[int]:
        """Return for each sub-assembly the mask of those that block its way."""
        count = len(self.masks)
        return [
            sum(1 << j for j in range(count) if j != i and self._blocks(i, j, direction))
            for i in range(count)
        ]

    def _blocks(self, i: int, j: int, direction: Direction) -> bool:
        return blocks([self.boxes[i]], [self.boxes[j]], direction) and blocks(
            self.cores[i], self.cores[j], direction
        )

    def pieces(self, group: int) -> int:
        """Return the mask of pieces of a group."""
        return sum(self.masks[n] for n in bits(group))

    def choose(self, group: int) -> tuple[Direction, int]:
        """Return the direction and the part of a group that is best moved off."""
        ways = list(dict.fromkeys(self._movable(group)))
        if not ways:
            raise Interlocked(self.graph.ids(self.pieces(group)))
        crossed = [(self._sheared(group, way), number, way) for number, way in enumerate(ways)]
        least = min(crossed)[0]
        ranked = [
            (*self._burden(group, way[1]), number, way)
            for sheared, number, way in crossed
            if sheared == least
        ]
        if not self.exact:
            return min(ranked)[-1]
        first: dict[int, tuple[Direction, int]] = {}
        for entry in sorted(ranked):
            first.setdefault(entry[-1][1], entry[-1])
        return self._least_held(group, list(first.values())[:LOOKED_AT])

    def _least_held(
        self, group: int, ways: Sequence[tuple[Direction, int]]
    ) -> tuple[Direction, int]:
        """Return the first way that leaves least to hold."""
        best, least = ways[0], len(self.graph.index)
        for way in ways:
            held = self._held(group, way[1]).bit_count()
            if held < least:
                best, least = way, held
            if not held:
                break
        return best

    def _held(self, group: int, part: int) -> int:
        """Return the pieces to hold: of what stays, and of a part that is set down on the table.

        A part that is a sub-assembly goes from hand to container.
        """
        key = (group, part)
        if key not in self._holds:
            moving, staying = self.pieces(part), self.pieces(group & ~part)
            held = to_hold(self.graph, staying, moving)
            if part.bit_count() > 1:
                held |= to_hold(self.graph, moving)
            self._holds[key] = held
        return self._holds[key]

    def _movable(self, group: int) -> Iterator[tuple[Direction, int]]:
        """Yield parts of a group that nothing else in it blocks, growing along every axis."""
        for direction in DIRECTIONS:
            with_blockers = {n: self._blockers(n, group, direction) for n in bits(group)}
            for axis in range(3):
                middle = {n: self.boxes[n][axis] + self.boxes[n][axis + 3] for n in bits(group)}
                for sign in (1, -1):
                    part = 0
                    for n in sorted(middle, key=lambda n: (sign * middle[n], n)):
                        part |= with_blockers[n]
                        if part != group:
                            yield direction, part

    def _blockers(self, start: int, group: int, direction: Direction) -> int:
        """Return a sub-assembly with all that must move with it."""
        reached = fresh = 1 << start
        while fresh:
            step = 0
            for n in bits(fresh):
                step |= self.in_way[direction][n]
            fresh = step & group & ~reached
            reached |= fresh
        return reached

    def _opened(self, group: int, part: int) -> list[Joint]:
        rest = group & ~part
        return [joint for ends, joint in self.open if ends & part and ends & rest]

    def _sheared(self, group: int, way: tuple[Direction, int]) -> int:
        """Count the connections that a move would shear: keys and press fits across its way."""
        return sum(
            joint.connections
            for joint in self._opened(group, way[1])
            if joint.axis != way[0].axis and joint.kind in {JointKind.KEYED, JointKind.PRESS_FIT}
        )

    def _burden(self, group: int, part: int) -> tuple[int, int, int, int]:
        """Return what to hold, how uneven the two parts are, the hands needed, and the weight."""
        held = self._to_hold(group, part)
        loose = len(self.graph.components(self.pieces(part))) - 1
        uneven = abs(2 * part.bit_count() - group.bit_count())
        return held.bit_count() + loose, uneven, self._hands(part, held), self._weight(part)

    def _to_hold(self, group: int, part: int) -> int:
        """Return the pieces of either part that hang loose once the two are apart."""
        moving, staying = self.pieces(part), self.pieces(group & ~part)
        graph = self.graph
        if graph.box(staying).z0 > graph.box(moving).z0:  # it is left in the air
            return hanging(graph, moving, WayUp.UPRIGHT, 1) | staying
        return sum(hanging(graph, half, WayUp.UPRIGHT, 1) for half in (moving, staying))

    def _hands(self, part: int, held: int) -> int:
        long = max(self.graph.box(self.pieces(part)).size) > ONE_HAND_UM
        return 2 if held or long or self._weight(part) > ONE_HAND_G else 1

    def _weight(self, part: int) -> int:
        return sum(self.graph.build.pieces[i].weight_g for i in bits(self.pieces(part)))

    def move(self, group: int, direction: Direction, part: int) -> Move:
        """Return the move of a part of a group."""
        opened = self._opened(group, part)
        held = (self._held if self.exact else self._to_hold)(group, part)
        return Move(
            moving=self.graph.ids(self.pieces(part)),
            staying=self.graph.ids(self.pieces(group & ~part)),
            joints=tuple(joint.id for joint in opened),
            direction=direction,
            keys=sum(joint.keys for joint in opened),
            keys_first=sum(joint.keys for joint in opened if joint.axis != direction.axis),
            hands=self._hands(part, held),
            holds=self.graph.ids(held),
        )
