"""What splitting a build must at least cost.

References
----------
Gusfield, D. (1990), SIAM Journal on Computing 19(1), 143-155: least cuts of all pairs by n - 1
flows. Dahlhaus, E. et al. (1994), SIAM Journal on Computing 23(4), 864-894: half the sum of
isolating cuts bounds a cut between many.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ortools.graph.python import max_flow

from packdown.model import Build, Container, Rules, Settings
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import graph_of
from packdown.teardown.least import least
from packdown.teardown.room import Room, rooms_of
from packdown.teardown.units import Units
from packdown.teardown.windows import Windows
from packdown.teardown.wishes import parted

__all__ = ["effort_bound", "joints_bound"]


def effort_bound(
    build: Build,
    containers: Iterable[Container],
    settings: Settings,
    rules: Rules,
) -> int:
    """Return seconds that no split of a build can be below.

    The better of two bounds. Units whose common bounding box, or weight, no container takes must
    be parted: a least cut between them bounds the effort, and of several that exclude each other
    every one needs a sub-assembly of its own. And a linear program over all sets of units that
    lie in one window the size of a container. To both come all joints of pieces that travel alone.

    Parameters
    ----------
    build
        The build.
    containers
        What there is to pack into.
    settings
        How far one joint may stand open.
    rules
        Weight limit, and the seconds that one more sub-assembly costs.
    """
    rooms = rooms_of(containers, rules)
    if not rooms:
        return 0
    rest = parted(build)
    certain = sum(j.effort_s for j in build.joints) - sum(j.effort_s for j in rest.joints)
    by_cuts = cut_bound(Units(graph_of(rest), settings.joint_tolerance_um), rooms, rules.place_s)
    assembler = Assembler(rest, settings, rules.key_weight_g)
    by_sets = least(Windows(assembler, rooms, rules.place_s)).bound_s
    return certain + max(by_cuts, by_sets)


def joints_bound(
    build: Build,
    containers: Iterable[Container],
    settings: Settings,
    rules: Rules,
) -> int:
    """Return how many joints any split of a build must open at least.

    The bound of the effort, with every joint at one and every place at nothing.

    Parameters
    ----------
    build, containers, settings, rules
        As for `effort_bound`.
    """
    joints = tuple(replace(joint, effort_s=1) for joint in build.joints)
    counted = replace(build, joints=joints)
    return effort_bound(counted, containers, settings, replace(rules, place_s=0))


def cut_bound(units: Units, rooms: Sequence[Room], place_s: int) -> int:
    """Return the bound by least cuts between units that exclude each other.

    Units that fit nowhere by themselves are left out of account.
    """
    cuts = _LeastCuts(units)
    fitting = [i for i in range(units.count) if units.admitted(i, i, rooms)]
    exclude = {i: {j for j in fitting if not units.admitted(i, j, rooms)} for i in fitting}
    payload = max(1, *(room.payload_g for room in rooms))
    by_weight = -(-sum(units.weights[i] for i in fitting) // payload)
    parts = max(1, len(units.graph.components(units.graph.all)), by_weight)
    tree = cuts.tree()
    pairs = [(i, j) for i in exclude for j in exclude[i] if i < j]
    pair_cut = max((_least_on_path(tree, i, j) for i, j in pairs), default=0)
    best = pair_cut + place_s * (parts - 1)
    for clique in _cliques(exclude):
        isolating = [cuts.value([i], [j for j in clique if j != i]) for i in clique]
        cut = max(pair_cut, -(-sum(isolating) // 2))
        best = max(best, cut + place_s * (max(parts, len(clique)) - 1))
    return best


def _cliques(exclude: dict[int, set[int]]) -> list[tuple[int, ...]]:
    """Return sets of units that all exclude each other, one grown from each unit."""
    found: dict[tuple[int, ...], None] = {}
    for start, others in exclude.items():
        clique, left = [start], set(others)
        while left:
            chosen = max(left, key=lambda i: (len(exclude[i] & left), -i))
            clique.append(chosen)
            left &= exclude[chosen]
        found[tuple(sorted(clique))] = None
    return list(found)


class _LeastCuts:
    """Least cuts between units, in seconds of effort."""

    def __init__(self, units: Units) -> None:
        self.count = units.count
        self.efforts = units.efforts
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
