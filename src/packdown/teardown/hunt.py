"""The sets of units in a window that are worth most, by branch and bound along the row.

What the rest can add, from the tables, bounds every branch; a branch ends where units are cut off
from the others, and where all that could follow is known to be refused.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from typing import NamedTuple

from packdown.teardown.frontier import SCALE, Frontier
from packdown.teardown.graph import bits
from packdown.teardown.refusals import ANY_WAY, Refusal, Refusals
from packdown.teardown.units import Units

__all__ = ["Found", "Hunt", "Prices", "Row"]


@dataclass(frozen=True, slots=True)
class Prices:
    """What units are worth.

    Parameters
    ----------
    units
        Worth of each unit.
    triples
        What a set loses that holds two or more of the three units of a mask; below nothing.
    """

    units: Sequence[int]
    triples: Mapping[int, int] = field(default_factory=dict)

    @property
    def total(self) -> int:
        """What a choice of sets is worth at most that holds every unit once."""
        return sum(self.units) + sum(self.triples.values())

    def towards(self, other: "Prices") -> "Prices":
        """Return the prices half way to others, rounded down."""
        triples = {
            triple: (self.triples.get(triple, 0) + other.triples.get(triple, 0)) // 2
            for triple in (*self.triples, *other.triples)
        }
        return Prices([(a + b) // 2 for a, b in zip(self.units, other.units, strict=True)], triples)

    def worth(self, units: Units, mask: int) -> int:
        """Return what a set is worth: its units, less the joints at its edge and what it loses."""
        own = sum(self.units[unit] for unit in bits(mask)) - SCALE * units.edge(mask)
        return own + sum(
            loss for triple, loss in self.triples.items() if (triple & mask).bit_count() > 1
        )


@dataclass(slots=True)
class Found:
    """What was found in a window.

    Parameters
    ----------
    most
        No set of the window that may stay whole is worth more.
    masks
        Sets with what each is worth.
    nodes
        How many branches were looked at.
    complete
        Whether none was left.
    """

    most: int
    masks: dict[int, int] = field(default_factory=dict)
    nodes: int = 0
    complete: bool = True


class Row:
    """A frontier with what is refused in its window, sorted by where in the row that is settled."""

    def __init__(self, frontier: Frontier, refusals: Refusals) -> None:
        self.frontier, self.refusals = frontier, refusals
        self._settled: list[list[Refusal]] = [[] for _ in range(len(frontier.place) + 1)]
        self._known = 0

    def settled(self) -> list[list[Refusal]]:
        """Return for each number of decided units the refusals that are settled with the last."""
        place, mask = self.frontier.place, self.frontier.mask
        for refusal in self.refusals.all[self._known :]:
            if not refusal.inside & ~mask:
                last = max(place[unit] for unit in bits((refusal.inside | refusal.outside) & mask))
                self._settled[last + 1].append(refusal)
        self._known = len(self.refusals.all)
        return self._settled


class _Node(NamedTuple):
    """A set decided up to some place in the row; `rank` is low where it can be worth most."""

    rank: int
    number: int
    decided: int
    state: int
    room_g: int
    worth: int
    mask: int
    parts: tuple[int, ...]
    ways: int


class Hunt:
    """Looks for sets in one window at some prices.

    Parameters
    ----------
    row
        The window.
    units
        The units of the build.
    prices
        What they are worth.
    """

    def __init__(self, row: Row, units: Units, prices: Prices) -> None:
        frontier = row.frontier
        self.row, self.steps, self.frontiers = row, frontier.steps, frontier.frontiers
        self.coarse_g, self.room_g = frontier.coarse_g, frontier.room_g
        self.own = frontier.own(prices.units)
        self.ahead = frontier.tables(self.own)
        self.near = [units.beside(1 << step.unit) for step in self.steps]
        self.losses = [
            [
                (triple, loss)
                for triple, loss in prices.triples.items()
                if triple >> step.unit & 1 and (triple & frontier.mask).bit_count() > 1
            ]
            for step in self.steps
        ]
        self.floor = 0
        self.count = 0

    def dearest(self, floor: int, whole: Callable[[int], bool], nodes: int) -> Found:
        """Return the dearest set that may stay whole, with others that turned up.

        Parameters
        ----------
        floor
            What a set must be worth more than.
        whole
            Whether a mask of units may stay whole.
        nodes
            Most branches to look at.
        """
        self.floor = floor
        found = Found(floor)
        heap = sorted(self._starts())
        while heap and -heap[0].rank > self.floor:
            if found.nodes >= nodes:
                found.complete = False
                break
            node: _Node | None = heappop(heap)
            while node is not None:
                found.nodes += 1
                node = self._next(node, heap, whole, found)
        found.most = max(self.floor, -heap[0].rank if heap else floor)
        return found

    def _next(
        self, node: _Node, heap: list[_Node], whole: Callable[[int], bool], found: Found
    ) -> _Node | None:
        """Return the branch to follow at once, if it is the best of all."""
        if self._is_complete(node):
            if node.worth > self.floor and self._possible(node) and whole(node.mask):
                found.masks[node.mask] = self.floor = node.worth
            return None
        branches = self._branches(node)
        best = min(branches, default=None)
        if best is None:
            return None
        for branch in branches:
            if branch is not best:
                heappush(heap, branch)
        if heap and heap[0] < best:
            heappush(heap, best)
            return None
        return best

    def above(self, floor: int, nodes: int) -> Found:
        """Return all sets that are worth more than told and that nothing known refuses.

        Parameters
        ----------
        floor
            What a set must be worth more than.
        nodes
            Most branches to look at.
        """
        self.floor = floor
        found = Found(floor)
        stack = list(self._starts())
        while stack:
            if found.nodes >= nodes:
                found.complete = False
                break
            node = stack.pop()
            found.nodes += 1
            if not self._is_complete(node):
                stack.extend(self._branches(node))
            elif node.worth > floor and self._possible(node):
                found.masks[node.mask] = node.worth
                found.most = max(found.most, node.worth)
        return found

    def _is_complete(self, node: _Node) -> bool:
        return node.state == 0 or node.decided == len(self.steps)

    def _possible(self, node: _Node) -> bool:
        """Whether a complete set is in one part, and not refused in every way up."""
        ways = node.ways
        for refusals in self.row.settled()[node.decided :]:
            for refusal in refusals:
                if refusal.meets(node.mask):
                    ways &= ~refusal.ways
        return bool(ways) and len(node.parts) == 1

    def _starts(self) -> Iterator[_Node]:
        """Yield for each unit the sets in which it is the first of the row."""
        for number, step in enumerate(self.steps):
            left = self.room_g - int(step.weighs_g[0])
            if left >= 0:
                bit = 1 << step.unit
                start = _Node(0, 0, number, 0, left, self.own[number], 0, (), ANY_WAY)
                yield from self._branch(start, int(step.with_it[0]), bit, (bit,))

    def _branches(self, node: _Node) -> list[_Node]:
        """Return what becomes of a set by deciding the next unit, where it can be worth enough."""
        number = node.decided
        ways = node.ways
        for refusal in self.row.settled()[number]:
            if refusal.ways & ways and refusal.meets(node.mask):
                ways &= ~refusal.ways
        if not ways:
            return []
        step, state = self.steps[number], node.state
        found = []
        parts = self._parts(node.parts, number, 0)
        if parts:
            found += self._branch(node._replace(ways=ways), int(step.without[state]), 0, parts)
        left = node.room_g - int(step.weighs_g[state])
        bit = 1 << step.unit
        parts = self._parts(node.parts, number, bit) if left >= 0 else ()
        if parts:
            worth = node.worth + self.own[number] + int(step.joined[state])
            for triple, loss in self.losses[number]:
                if (triple & node.mask).bit_count() == 1:
                    worth += loss
            more = node._replace(ways=ways, worth=worth, room_g=left)
            found += self._branch(more, int(step.with_it[state]), bit, parts)
        return found

    def _branch(self, node: _Node, state: int, bit: int, parts: tuple[int, ...]) -> list[_Node]:
        """Return a set with the next unit decided, unless it can no longer be worth enough."""
        ahead = self.ahead[node.decided + 1]
        most = node.worth + int(ahead[state, node.room_g // self.coarse_g])
        if most <= self.floor:
            return []
        self.count += 1
        return [
            _Node(
                -most,
                self.count,
                node.decided + 1,
                state,
                node.room_g,
                node.worth,
                node.mask | bit,
                parts,
                node.ways,
            )
        ]

    def _parts(self, parts: tuple[int, ...], number: int, bit: int) -> tuple[int, ...]:
        """Return the parts of a set after a step; none if two of them can no longer be joined."""
        if bit:
            near = self.near[number]
            joined = bit
            for part in parts:
                if part & near:
                    joined |= part
            parts = (*(part for part in parts if not part & near), joined)
        frontier = self.frontiers[number + 1]
        if len(parts) > 1 and not all(part & frontier for part in parts):
            return ()
        return parts
