"""What splitting a build must at least cost, from pairs of units that no container takes together.

References
----------
Gusfield, D. (1990), SIAM Journal on Computing 19(1), 143-155: least cuts of all pairs by n - 1
flows. Dahlhaus, E. et al. (1994), SIAM Journal on Computing 23(4), 864-894: half the sum of
isolating cuts bounds a cut between many.
"""

from collections.abc import Iterable, Sequence
from functools import reduce

from ortools.graph.python import max_flow

from packdown.geometry import WayUp, bounds
from packdown.model import Build, Container, Rules, Settings
from packdown.teardown.graph import BuildGraph, bits, graph_of
from packdown.teardown.room import Room, rooms_of

__all__ = ["effort_bound"]


def effort_bound(
    build: Build,
    containers: Iterable[Container],
    settings: Settings,  # noqa: ARG001 - stronger bounds need it, and callers have it
    rules: Rules,
) -> int:
    """Return seconds that no split of a build can be below.

    Two units whose common bounding box, or weight, no container takes must be parted: a least cut
    between them bounds the effort, and of several units that exclude each other every one needs
    a sub-assembly of its own. Units that fit nowhere by themselves are left out of account.

    Parameters
    ----------
    build
        The build.
    containers
        What there is to pack into.
    settings
        Settings of the workspace.
    rules
        Weight limit, and the seconds that one more sub-assembly costs.
    """
    graph = graph_of(build)
    rooms = rooms_of(containers, rules)
    if not rooms:
        return 0
    units = _Units(graph, rooms)
    cuts = _LeastCuts(graph)
    parts = max(len(graph.components(graph.all)), units.by_weight())
    best = rules.place_s * (parts - 1)
    tree = cuts.tree()
    pairs = [(i, j) for i in units.exclude for j in units.exclude[i] if i < j]
    pair_cut = max((_least_on_path(tree, i, j) for i, j in pairs), default=0)
    for clique in units.cliques():
        isolating = [cuts.value([i], [j for j in clique if j != i]) for i in clique]
        cut = max(pair_cut, -(-sum(isolating) // 2))
        best = max(best, cut + rules.place_s * (max(parts, len(clique)) - 1))
    return best


class _Units:
    """The units of a build that fit somewhere, and which exclude each other."""

    def __init__(self, graph: BuildGraph, rooms: Sequence[Room]) -> None:
        self.graph = graph
        self.rooms = rooms
        pieces = graph.build.pieces
        self.weights = [sum(pieces[i].weight_g for i in bits(unit)) for unit in graph.units]
        self.boxes = [graph.box(unit) for unit in graph.units]
        self.ways = [
            reduce(lambda some, more: some & more, (set(pieces[i].ways_up) for i in bits(unit)))
            for unit in graph.units
        ]
        fitting = [i for i in range(len(graph.units)) if self._admitted(i, i)]
        self.fitting = fitting
        self.exclude = {i: {j for j in fitting if not self._admitted(i, j)} for i in fitting}

    def _admitted(self, i: int, j: int) -> bool:
        weight = self.weights[i] + (self.weights[j] if i != j else 0)
        size = bounds([self.boxes[i], self.boxes[j]]).size
        ways: set[WayUp] = self.ways[i] & self.ways[j]
        return any(
            room.admits(size, weight, way, magnets=False) for room in self.rooms for way in ways
        )

    def by_weight(self) -> int:
        """Return the number of sub-assemblies that the weight alone demands."""
        most = max(room.payload_g for room in self.rooms)
        return max(1, -(-sum(self.weights[i] for i in self.fitting) // max(1, most)))

    def cliques(self) -> list[tuple[int, ...]]:
        """Return sets of units that all exclude each other, one grown from each unit."""
        found: dict[tuple[int, ...], None] = {}
        for start in self.fitting:
            clique, left = [start], set(self.exclude[start])
            while left:
                chosen = max(left, key=lambda i: (len(self.exclude[i] & left), -i))
                clique.append(chosen)
                left &= self.exclude[chosen]
            found[tuple(sorted(clique))] = None
        return list(found)


class _LeastCuts:
    """Least cuts between units, in seconds of effort; fixed joints lie inside units."""

    def __init__(self, graph: BuildGraph) -> None:
        self.count = len(graph.units)
        owner = {i: number for number, unit in enumerate(graph.units) for i in bits(unit)}
        self.efforts: dict[tuple[int, int], int] = {}
        for pair, joint in graph.joints:
            a, b = sorted(owner[i] for i in bits(pair))
            if a != b:
                self.efforts[a, b] = self.efforts.get((a, b), 0) + joint.effort_s
        self.endless = sum(self.efforts.values()) + 1

    def value(self, sources: Sequence[int], sinks: Sequence[int]) -> int:
        """Return the least effort that parts all sources from all sinks."""
        return self._flow(sources, sinks)[0]

    def _flow(self, sources: Sequence[int], sinks: Sequence[int]) -> tuple[int, set[int]]:
        if not sources or not sinks:
            return 0, set(sources)
        start, end = self.count, self.count + 1
        flow = max_flow.SimpleMaxFlow()
        for (a, b), effort in self.efforts.items():
            flow.add_arc_with_capacity(a, b, effort)
            flow.add_arc_with_capacity(b, a, effort)
        for source in sources:
            flow.add_arc_with_capacity(start, source, self.endless)
        for sink in sinks:
            flow.add_arc_with_capacity(sink, end, self.endless)
        if flow.solve(start, end) != flow.OPTIMAL:
            raise ArithmeticError("the efforts of the joints are too large to add up")
        return flow.optimal_flow(), set(flow.get_source_side_min_cut())

    def tree(self) -> dict[int, tuple[int, int]]:
        """Return a tree on all units whose lightest edge between two is their least cut.

        Returns
        -------
        dict
            For each unit but the first its parent, and the value of the cut between them.
        """
        parent = dict.fromkeys(range(1, self.count), 0)
        tree = {}
        for unit in range(1, self.count):
            value, side = self._flow([unit], [parent[unit]])
            tree[unit] = (parent[unit], value)
            for later in range(unit + 1, self.count):
                if later in side and parent[later] == parent[unit]:
                    parent[later] = unit
        return tree


def _least_on_path(tree: dict[int, tuple[int, int]], a: int, b: int) -> int:
    """Return the lightest edge on the path; a parent always has the lower number."""
    least: int | None = None
    while a != b:
        a, b = min(a, b), max(a, b)
        b, value = tree[b]
        least = value if least is None else min(least, value)
    return least or 0
