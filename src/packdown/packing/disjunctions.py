"""Places of items in containers as a constraint program: exact, for small groups.

The counting relaxation says what goes into which container; here each item gets a pose and a
place, and every two cuboids of items that share a container are apart: beside each other by the
clearance, or one above the other. What is above was loaded later, so the order has no cycle.

Corners are sums of lengths where everything is pushed against its neighbours, so that places may
be whole multiples of the greatest common divisor of all lengths (normal patterns: Herz, J. C.
(1972), IBM Journal of Research and Development 16(5), 462-469).
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise, product
from math import gcd

from ortools.sat.python import cp_model

from packdown.packing import layout as at
from packdown.packing.bounds.counting import Relaxation
from packdown.packing.bounds.task import Task
from packdown.packing.kinds import Kinds

__all__ = ["Body", "Places"]

MUCH = 2**50
"""Lengths and areas stay below it."""

Expr = cp_model.LinearExpr | int
Box = tuple[int, ...]
"""Lower and upper corner of a cuboid of a pose."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way an item may lie: the row of its pose, its cuboids, whether it is upright."""

    row: int
    boxes: tuple[Box, ...]
    upright: bool

    def size(self, axis: int) -> int:
        """Return the extent along an axis."""
        return max(box[axis + 3] for box in self.boxes)


@dataclass(frozen=True, slots=True)
class Site:
    """A container in units of the model: the room between its clearances."""

    room: tuple[int, int, int]
    clearance: int
    sheet: int
    steel: bool


class Body:
    """The variables of one item.

    Parameters
    ----------
    model
        Receives them.
    kind
        Which items are alike.
    ways
        The ways it may lie.
    most
        Largest room along each axis.
    """

    def __init__(
        self, model: cp_model.CpModel, kind: int, ways: Sequence[Way], most: tuple[int, ...]
    ) -> None:
        self.kind, self.ways = kind, ways
        self.lies = [model.new_bool_var("") for _ in ways]
        self.at = [model.new_int_var(0, side, "") for side in most]
        self.inside: dict[int, cp_model.IntVar] = {}
        model.add_exactly_one(self.lies)

    @property
    def cuboids(self) -> range:
        """Indices of its cuboids."""
        return range(len(self.ways[0].boxes))

    def corner(self, cuboid: int, side: int) -> Expr:
        """Return the place of a face of a cuboid: 0 to 2 the lower faces, 3 to 5 the upper."""
        return self.at[side % 3] + self.chosen([way.boxes[cuboid][side] for way in self.ways])

    def end(self, axis: int) -> Expr:
        """Return the end of its extent along an axis."""
        return self.at[axis] + self.chosen([way.size(axis) for way in self.ways])

    def chosen(self, values: Sequence[int]) -> Expr:
        """Return the value of the way it lies."""
        if len(set(values)) == 1:
            return values[0]
        return cp_model.LinearExpr.weighted_sum(self.lies, values)


class Places:
    """The whole model of a small problem.

    Parameters
    ----------
    kinds
        The problem.
    task
        The same problem as the bounds see it.
    thing_of
        For each kind its index in the task.
    fewest
        Number of containers that are known to be needed.
    """

    def __init__(self, kinds: Kinds, task: Task, thing_of: Sequence[int], fewest: int) -> None:
        self.kinds = kinds
        self.relaxation: Relaxation = task.relaxation(fewest)
        self.model = self.relaxation.model
        self.unit = _unit(kinds)
        self.sites = [self._site(row.tolist()) for row in kinds.boxes]
        self.bodies = [self._body(kind) for kind, items in enumerate(kinds.items) for _ in items]
        self._assign(thing_of)
        for body in self.bodies:
            self._keep_inside(body)
        for one, two in combinations(self.bodies, 2):
            self._keep_apart(one, two)
        self._sort_copies()
        self._turn_round()
        self._fill_sections()

    def _site(self, row: Sequence[int]) -> Site:
        clear = row[at.BOX_CLEARANCE]
        return Site(
            room=(
                (row[at.BOX_LENGTH] - 2 * clear) // self.unit,
                (row[at.BOX_WIDTH] - 2 * clear) // self.unit,
                row[at.BOX_HEIGHT] // self.unit,
            ),
            clearance=clear // self.unit,
            sheet=row[at.BOX_SHEET] // self.unit,
            steel=bool(row[at.BOX_STEEL]),
        )

    def _body(self, kind: int) -> Body:
        ways: dict[object, Way] = {}
        for row in range(self.kinds.first_pose[kind], self.kinds.first_pose[kind + 1]):
            pose = self.kinds.poses[row]
            boxes = tuple(
                tuple(side // self.unit for side in cuboid[:6]) for cuboid in pose.cuboids.tolist()
            )
            upright = pose.way_up == "upright"
            key = (frozenset(boxes), upright and bool(self.kinds.kind_rows[kind, at.KIND_MAGNETS]))
            ways.setdefault(key, Way(row, boxes, upright))
        most = tuple(max(0, *(site.room[axis] for site in self.sites)) for axis in range(3))
        return Body(self.model, kind, list(ways.values()), most)

    def _assign(self, thing_of: Sequence[int]) -> None:
        """Say in which container each item is, and count them."""
        counted: dict[tuple[int, int], list[cp_model.IntVar]] = defaultdict(list)
        for body in self.bodies:
            for kind, site in self.relaxation.counts:
                if kind.number == thing_of[body.kind]:
                    body.inside[site] = self.model.new_bool_var("")
                    counted[kind.number, site].append(body.inside[site])
            self.model.add_exactly_one(body.inside.values())
        for (kind, site), count in self.relaxation.counts.items():
            self.model.add(cp_model.LinearExpr.sum(counted[kind.number, site]) == count)

    def _keep_inside(self, body: Body) -> None:
        for axis in range(3):
            room = self._by_site(body, [site.room[axis] for site in self.sites])
            self.model.add(body.end(axis) <= room)
        if self.kinds.kind_rows[body.kind, at.KIND_MAGNETS]:
            for index, inside in body.inside.items():
                if self.sites[index].steel:
                    self.model.add(body.at[2] == 0).only_enforce_if(inside)
                    upright = [
                        lit for lit, way in zip(body.lies, body.ways, strict=True) if way.upright
                    ]
                    self.model.add_bool_or(upright).only_enforce_if(inside)

    def _by_site(self, body: Body, values: Sequence[int]) -> Expr:
        if len({values[site] for site in body.inside}) == 1:
            return values[next(iter(body.inside))]
        return cp_model.LinearExpr.weighted_sum(
            list(body.inside.values()), [values[site] for site in body.inside]
        )

    def _keep_apart(self, one: Body, two: Body) -> None:
        """Separate every cuboid of one item from every cuboid of another in the same container."""
        common = sorted(one.inside.keys() & two.inside.keys())
        if not common:
            return
        share = self.model.new_bool_var("")
        for site in common:
            self.model.add_bool_or(~one.inside[site], ~two.inside[site], share)
        clear = self._by_site(one, [site.clearance for site in self.sites])
        sheet = self._by_site(one, [site.sheet for site in self.sites])
        over, under = self._above(one, two), self._above(two, one)
        for first, second in product(one.cuboids, two.cuboids):
            p, q = (one, first), (two, second)
            ways = [
                self._before(start, end, axis, clear)
                for axis in range(2)
                for start, end in ((p, q), (q, p))
            ]
            for above, lower, upper in ((over, q, p), (under, p, q)):
                if above is not None:
                    ways.append(self._before(lower, upper, 2, sheet))
                    self.model.add_implication(ways[-1], above)
            self.model.add_bool_or(*ways, ~share)
        if over is not None and under is not None:
            self.model.add_bool_or(~over, ~under)

    def _before(
        self, first: tuple[Body, int], second: tuple[Body, int], axis: int, gap: Expr
    ) -> cp_model.IntVar:
        """Return whether one cuboid of an item ends a gap before another starts."""
        literal = self.model.new_bool_var("")
        end, start = first[0].corner(first[1], axis + 3), second[0].corner(second[1], axis)
        self.model.add(end + gap <= start).only_enforce_if(literal)
        return literal

    def _above(self, upper: Body, lower: Body) -> cp_model.IntVar | None:
        """Return whether one item lies on or over another, loaded later; None if it must not."""
        rank = self.kinds.kind_rows[:, at.KIND_RANK]
        if rank[lower.kind] < rank[upper.kind]:
            return None
        literal = self.model.new_bool_var("")
        self.model.add(self._turn(lower) + 1 <= self._turn(upper)).only_enforce_if(literal)
        return literal

    def _turn(self, body: Body) -> Expr:
        """Return a number that is higher for what lies over something."""
        if not self._has_solids:
            return body.at[2]
        return self._turns[self.bodies.index(body)]

    @cached_property
    def _has_solids(self) -> bool:
        return any(len(body.cuboids) > 1 for body in self.bodies)

    @cached_property
    def _turns(self) -> list[cp_model.IntVar]:
        return [self.model.new_int_var(0, len(self.bodies) - 1, "") for _ in self.bodies]

    def _sort_copies(self) -> None:
        """Tell items of one kind apart by their containers, then by their places along x."""
        for one, two in pairwise(self.bodies):
            if one.kind != two.kind:
                continue
            sites = list(range(len(self.sites)))
            first, second = self._by_site(one, sites), self._by_site(two, sites)
            self.model.add(first <= second)
            for site, inside in one.inside.items():
                self.model.add(one.at[0] <= two.at[0]).only_enforce_if([inside, two.inside[site]])

    def _turn_round(self) -> None:
        """Keep one of the largest items in the left half: any fill may be turned by 180 degrees."""
        for body in self.bodies:
            if self.kinds.need[body.kind] == self.kinds.need.max():
                room = self._by_site(body, [site.room[0] for site in self.sites])
                self.model.add(body.at[0] + body.end(0) <= room)
                return

    def _fill_sections(self) -> None:
        """Let no cross-section of a container be overfilled: implied, but seen early."""
        for index, site in enumerate(self.sites):
            for axis in range(3):
                intervals, areas = [], []
                for body in self.bodies:
                    if index in body.inside:
                        for cuboid in body.cuboids:
                            interval, area = self._section(body, cuboid, index, axis)
                            intervals.append(interval)
                            areas.append(area)
                across = [self._grown(site, a) for a in range(3) if a != axis]
                if intervals:
                    self.model.add_cumulative(intervals, areas, max(0, across[0] * across[1]))

    @staticmethod
    def _grown(site: Site, axis: int) -> int:
        return site.room[axis] + (site.clearance if axis < 2 else 0)

    def _section(
        self, body: Body, cuboid: int, index: int, axis: int
    ) -> tuple[cp_model.IntervalVar, Expr]:
        """Return the extent of a cuboid along an axis, and its area across it.

        Items of one cuboid are grown by the clearance.
        """
        clear = self.sites[index].clearance if len(body.cuboids) == 1 else 0
        grow = (clear, clear, 0)

        def length(way: Way, along: int) -> int:
            box = way.boxes[cuboid]
            return box[along + 3] - box[along] + grow[along]

        one, two = (a for a in range(3) if a != axis)
        start = body.corner(cuboid, axis)
        size = self._equal(body.chosen([length(way, axis) for way in body.ways]))
        area = body.chosen([length(way, one) * length(way, two) for way in body.ways])
        interval = self.model.new_optional_interval_var(
            self._equal(start), size, self._equal(start + size), body.inside[index], ""
        )
        return interval, self._equal(area)

    def _equal(self, value: Expr) -> Expr:
        """Return a variable for a sum of several, as intervals take no other."""
        if isinstance(value, int | cp_model.IntVar):
            return value
        variable = self.model.new_int_var(0, MUCH, "")
        self.model.add(variable == value)
        return variable

    def found(self, solver: cp_model.CpSolver) -> dict[int, list[tuple[int, int, int, int]]]:
        """Return what lies in each container in loading order: kind, pose, x and y."""
        placed: dict[int, list[tuple[int, tuple[int, int, int, int]]]] = defaultdict(list)
        for body in self.bodies:
            site = next(site for site, inside in body.inside.items() if solver.value(inside))
            way = next(w for w, lit in zip(body.ways, body.lies, strict=True) if solver.value(lit))
            clear = self.sites[site].clearance
            x, y = (self.unit * (solver.value(body.at[axis]) + clear) for axis in range(2))
            turn = int(solver.value(self._turn(body)))
            placed[site].append((turn, (body.kind, way.row, x, y)))
        return {
            site: [row for _, row in sorted(own, key=lambda pair: pair[0])]
            for site, own in placed.items()
        }


def _unit(kinds: Kinds) -> int:
    """Return the greatest common divisor of all lengths but those of the containers."""
    lengths = {side for pose in kinds.poses for side in pose.cuboids[:, :6].ravel().tolist()}
    lengths |= set(kinds.boxes[:, at.BOX_CLEARANCE].tolist())
    lengths |= set(kinds.boxes[:, at.BOX_SHEET].tolist())
    return max(1, gcd(*lengths))
