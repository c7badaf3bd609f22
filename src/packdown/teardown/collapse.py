"""At what load does a sub-assembly collapse: the least that any motion of its pieces asks for.

Pieces are rigid and lie on a flat floor. Each may move and turn a little, but not into the floor
nor into what lies under it, and no joint closes further than its faces meet. A motion lowers the
weights, and opens, bends, shifts or twists joints against what they bear; where the work of the
weights, times the load, is more than that of the joints, the sub-assembly gives way. The least
such load is found by a linear program (the kinematic theorem of limit analysis); its motion says
which joints give way.

A joint passes any thrust at the middle of its face. Its pull and its moments about the two axes in
the face use it up together: the shares of what it holds and of what it bears add up to at most
one. So do forces along the face and a twist; what a joint holds is spread evenly along the face.

References
----------
Livesley, R. K. (1978), International Journal for Numerical Methods in Engineering 12(12),
1853-1871: the limit load of structures of rigid blocks as a linear program.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations

from ortools.linear_solver import pywraplp

from packdown.geometry import (
    Rect,
    Solid,
    WayUp,
    bounds,
    convex_hull,
    lowest_faces,
    meeting_face,
    rests_on,
    rotate_cuboid,
    rotate_vector,
)
from packdown.model import Joint, JointKind
from packdown.teardown.graph import BuildGraph, bits, centroid
from packdown.teardown.strength import DOWN_SIDE

__all__ = ["Collapse", "collapse"]

#: Of one millinewton-metre, in gram millimetres: 1 / (9.80665 m/s2).
GRAM_MM = 1e3 / 9.80665
MM = 1_000
ENDLESS = float("inf")
#: Work, in parts of that of the weights, below which a joint does not give way.
LEAST_WORK = 1e-6
Point = tuple[float, float, float]
Row = dict[tuple[int, int], float]
"""How fast something moves, by piece and motion: 0 to 2 along an axis, 3 to 5 about one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Collapse:
    """How a sub-assembly gives way.

    Parameters
    ----------
    load
        Multiple of its weight that it carries, at most what was asked for.
    joints
        Ids of the joints that give way under more; none if it carries what was asked for, or if
        it tips over as a whole.
    """

    load: float
    joints: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meeting:
    """Where two pieces are joined: the upper one along the axis comes first."""

    joint: Joint
    pair: tuple[int, int]
    axis: int
    at: Point
    spread: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lying:
    """A build lying in a way up: heights, contacts from above, joints and centres of gravity."""

    solids: tuple[Solid, ...]
    low: tuple[int, ...]
    contacts: tuple[tuple[int, int, tuple[Point, ...]], ...]
    meetings: tuple[_Meeting, ...]
    centres: tuple[Point, ...]


def collapse(graph: BuildGraph, mask: int, way_up: WayUp, most: int) -> Collapse:
    """Return how a sub-assembly gives way where it lies in a way up.

    Parameters
    ----------
    graph, mask
        The build and the pieces of the sub-assembly.
    way_up
        How it lies.
    most
        The load that is asked for, as a multiple of the weight.
    """
    lying = _lying(graph, way_up)
    program = _Program(bits(mask))
    ground = min(lying.low[i] for i in bits(mask))
    for i in bits(mask):
        if lying.low[i] == ground:
            for at in _corners(lowest_faces(lying.solids[i])):
                program.never_down(i, None, at)
    for upper, lower, points in lying.contacts:
        if mask >> upper & mask >> lower & 1:
            for at in points:
                program.never_down(upper, lower, at)
    for meeting in lying.meetings:
        if all(mask >> i & 1 for i in meeting.pair):
            program.join(meeting)
    weights = {i: graph.build.pieces[i].weight_g for i in bits(mask)}
    return program.least_load(weights, lying.centres, most)


@lru_cache(maxsize=64)
def _lying(graph: BuildGraph, way_up: WayUp) -> _Lying:
    pieces = graph.build.pieces
    solids = tuple(
        tuple(rotate_cuboid(cuboid, way_up, 0) for cuboid in piece.cuboids_um) for piece in pieces
    )
    under = graph.lies_on[DOWN_SIDE[way_up]]
    middles = (centroid(solid) for solid in solids)
    return _Lying(
        solids=solids,
        low=tuple(bounds(solid).z0 for solid in solids),
        contacts=tuple(
            (upper, lower, tuple(_corners(rests_on(solids[upper], solids[lower]))))
            for upper, lower in permutations(range(len(pieces)), 2)
            if under[upper] >> lower & 1
        ),
        meetings=tuple(
            _meeting(graph, joint, solids, way_up)
            for _, joint in graph.joints
            if joint.kind is not JointKind.STACKED
        ),
        centres=tuple((float(x) / MM, float(y) / MM, float(z) / MM) for x, y, z in middles),
    )


def _corners(rects: Iterable[Rect]) -> Iterator[Point]:
    corners = [(x, y) for r in rects for x in (r.x0, r.x1) for y in (r.y0, r.y1)]
    return ((x / MM, y / MM, 0.0) for x, y in convex_hull(corners))


def _meeting(graph: BuildGraph, joint: Joint, solids: Sequence[Solid], way_up: WayUp) -> _Meeting:
    axis = next(k for k in range(3) if rotate_vector(_UNITS[joint.axis], way_up, 0)[k])
    one, two = (graph.index[name] for name in joint.pieces)
    face = meeting_face(solids[one], solids[two], axis)
    x, y, z = ((face[k] + face[k + 3]) / 2 / MM for k in range(3))
    along = {i: bounds(solids[i])[axis] + bounds(solids[i])[axis + 3] for i in (one, two)}
    length = max(face[k + 3] - face[k] for k in range(3) if k != axis)
    return _Meeting(
        joint=joint,
        pair=(one, two) if along[one] > along[two] else (two, one),
        axis=axis,
        at=(x, y, z),
        spread=length / MM / 4,
    )


def _speed(axis: int, at: Point, *ends: tuple[int | None, int]) -> Row:
    """Return how fast pieces move along an axis at a point, each with a sign; None is the floor."""
    second, third = (axis + 1) % 3, (axis + 2) % 3
    row: Row = {}
    for piece, sign in ends:
        if piece is not None:
            row[piece, axis] = sign
            row[piece, 3 + second] = sign * at[third]
            row[piece, 3 + third] = -sign * at[second]
    return row


class _Program:
    """A column for each motion of a piece, and for the work of each joint; all small."""

    def __init__(self, pieces: Iterable[int]) -> None:
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        self.motions = {
            (i, k): self.solver.NumVar(-ENDLESS, ENDLESS, "") for i in pieces for k in range(6)
        }
        self.work: list[tuple[str, pywraplp.Variable]] = []

    def _row(self, low: float, high: float, row: Row, factor: float = 1.0) -> pywraplp.Constraint:
        constraint = self.solver.Constraint(low, high)
        for motion, value in row.items():
            constraint.SetCoefficient(self.motions[motion], factor * value)
        return constraint

    def never_down(self, upper: int, lower: int | None, at: Point) -> None:
        """Keep a piece from sinking into another, or into the floor, at a point."""
        self._row(0.0, ENDLESS, _speed(2, at, (upper, 1), (lower, -1)))

    def join(self, meeting: _Meeting) -> None:
        """Make two pieces work against their joint where they move against each other."""
        joint, axis = meeting.joint, meeting.axis
        ends = tuple(zip(meeting.pair, (1, -1), strict=True))
        others = ((axis + 1) % 3, (axis + 2) % 3)
        holds = joint.holds_g
        bears = None if joint.bends_mnm is None else joint.bends_mnm * GRAM_MM
        turns = [{(piece, 3 + k): float(sign) for piece, sign in ends} for k in range(3)]
        opens = _speed(axis, meeting.at, *ends)
        self._row(0.0, ENDLESS, opens)
        self._works(joint, [(opens, holds), *((turns[k], bears) for k in others)])
        shifts = [(_speed(k, meeting.at, *ends), holds) for k in others]
        twist = None if holds is None else holds * meeting.spread
        self._works(joint, [*shifts, (turns[axis], twist)])

    def _works(self, joint: Joint, motions: Sequence[tuple[Row, float | None]]) -> None:
        """Let a joint work as much as the strongest of some motions; None forbids a motion."""
        work = self.solver.NumVar(0.0, ENDLESS, "")
        self.work.append((joint.id, work))
        for row, strength in motions:
            if strength is None:
                self._row(0.0, 0.0, row)
                continue
            for factor in (strength, -strength):
                self._row(-ENDLESS, 0.0, row, factor).SetCoefficient(work, -1.0)

    def least_load(
        self, weights: Mapping[int, int], centres: Sequence[Point], most: int
    ) -> Collapse:
        """Return the motion that asks for the least load; standing still asks for `most`."""
        falls: Row = {}
        for piece, grams in weights.items():
            for motion, value in _speed(2, centres[piece], (piece, -1)).items():
                falls[motion] = grams * value
        still = self.solver.NumVar(0.0, 1.0, "")
        self._row(1.0, ENDLESS, falls).SetCoefficient(still, 1.0)
        cost = sum((work for _, work in self.work), most * still)
        self.solver.Minimize(cost)
        if self.solver.Solve() != pywraplp.Solver.OPTIMAL:
            return Collapse(load=0.0)
        load = self.solver.Objective().Value()
        giving = (name for name, work in self.work if work.solution_value() > LEAST_WORK)
        return Collapse(load=load, joints=tuple(dict.fromkeys(giving)))


_UNITS = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
