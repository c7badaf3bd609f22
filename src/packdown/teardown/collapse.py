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

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from operator import or_

from ortools.linear_solver import pywraplp

from packdown.geometry import WayUp, lowest_faces
from packdown.model import Joint
from packdown.teardown.graph import BuildGraph, bits
from packdown.teardown.lying import Meeting, Point, corners, lying_of
from packdown.teardown.strength import DOWN_SIDE

__all__ = ["SLACK", "Collapse", "Fall", "collapse"]

#: Of one millinewton-metre, in gram millimetres: 1 / (9.80665 m/s2).
GRAM_MM = 1e3 / 9.80665
ENDLESS = float("inf")
#: Work, in parts of that of the weights, below which a joint does not give way.
LEAST_WORK = 1e-6
#: Motion, where the weights work for 1 g mm, below which a piece stands still.
STILL = 1e-9
#: Share of the highest speed that counts as about as fast.
ABOUT = 0.9
#: Part of a load that the linear program may miss by rounding.
SLACK = 1e-6
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
    fall
        The motion, if it carries less than what was asked for; None, and no load, should the
        program fail for its numbers.
    """

    load: float
    joints: tuple[str, ...] = ()
    fall: "Fall | None" = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """A motion by which a sub-assembly collapses, and so do all in which nothing more resists it.

    Parameters
    ----------
    moving
        Mask of the pieces that move.
    absent
        Pieces beside or under these that are not there.
    low, foot
        Where the floor is, and the lowest of what moves.
    lows
        For each piece of the build, where it is lowest.
    fastest
        The lowest of the pieces that sink about fastest.
    """

    moving: int
    absent: int
    low: int
    foot: int
    lows: tuple[int, ...]
    fastest: int

    def takes(self, mask: int) -> bool:
        """Whether a sub-assembly collapses by the same motion, in the same way up."""
        if self.moving & ~mask or self.absent & mask:
            return False
        low = min(self.lows[i] for i in bits(mask))
        return low <= self.low or low < self.foot


def collapse(
    graph: BuildGraph, mask: int, way_up: WayUp, most: int, *, held: int = 0, beside: int = 0
) -> Collapse:
    """Return how a sub-assembly gives way where it lies in a way up.

    Parameters
    ----------
    graph, mask
        The build and the pieces of the sub-assembly.
    way_up
        How it lies.
    most
        The load that is asked for, as a multiple of the weight.
    held
        Pieces of it that hands hold still.
    beside
        Pieces that stand beside it: the floor is where the lowest of all is.
    """
    lying = lying_of(graph, way_up)
    weights = {i: graph.build.pieces[i].weight_g for i in bits(mask)}
    program = _Program(weights)
    for i in bits(held):
        program.still(i)
    ground = min(lying.low[i] for i in bits(mask | beside))
    standing = [i for i in weights if lying.low[i] == ground]
    if standing and not held:
        program.never_aside(max(standing, key=weights.__getitem__))
    program.stand({i: corners(lowest_faces(lying.solids[i])) for i in standing})
    for upper, lower, points in lying.contacts:
        if mask >> upper & mask >> lower & 1:
            for at in points:
                program.never_down(upper, lower, at)
    program.join_all(lying.meetings)
    found = program.least_load(weights, lying.centres, most)
    if found is None:
        return Collapse(load=0.0)
    if found.load >= most * (1 - SLACK):
        return found
    moving = program.moving()
    if not moving:
        return found
    speeds = program.sinking(lying.centres, bits(moving))
    fast = [i for i, speed in speeds.items() if speed >= ABOUT * max(speeds.values())]
    fall = _fall(graph, mask, way_up, moving, min(fast, key=lying.low.__getitem__))
    return replace(found, fall=fall)


def _fall(graph: BuildGraph, mask: int, way_up: WayUp, moving: int, fastest: int) -> Fall:
    lows, held = lying_of(graph, way_up).low, graph.held(DOWN_SIDE[way_up])
    beside = reduce(or_, (held[i] for i in bits(moving)))
    return Fall(
        moving=moving,
        absent=beside & ~mask,
        low=min(lows[i] for i in bits(mask)),
        foot=min(lows[i] for i in bits(moving)),
        lows=lows,
        fastest=fastest,
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

    def never_aside(self, piece: int) -> None:
        """Keep a piece from sliding and turning on the floor: all others move as seen from it."""
        for motion in (0, 1, 5):
            self.motions[piece, motion].SetBounds(0.0, 0.0)

    def still(self, piece: int) -> None:
        """Keep a piece from any motion."""
        for motion in range(6):
            self.motions[piece, motion].SetBounds(0.0, 0.0)

    def stand(self, points: Mapping[int, Iterable[Point]]) -> None:
        """Keep pieces from sinking into the floor."""
        for piece, corners_of in points.items():
            for at in corners_of:
                self.never_down(piece, None, at)

    def never_down(self, upper: int, lower: int | None, at: Point) -> None:
        """Keep a piece from sinking into another, or into the floor, at a point."""
        self._row(0.0, ENDLESS, _speed(2, at, (upper, 1), (lower, -1)))

    def join_all(self, meetings: Iterable[Meeting]) -> None:
        """Join the pieces that are there."""
        for meeting in meetings:
            if all((piece, 0) in self.motions for piece in meeting.pair):
                self.join(meeting)

    def join(self, meeting: Meeting) -> None:
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

    def moving(self) -> int:
        """Return the pieces that move."""
        moved = {
            i for (i, _), motion in self.motions.items() if abs(motion.solution_value()) > STILL
        }
        return sum(1 << i for i in moved)

    def sinking(self, centres: Sequence[Point], pieces: Iterable[int]) -> dict[int, float]:
        """Return how fast the centres of pieces sink."""
        return {
            piece: sum(
                value * self.motions[motion].solution_value()
                for motion, value in _speed(2, centres[piece], (piece, -1)).items()
            )
            for piece in pieces
        }

    def least_load(
        self, weights: Mapping[int, int], centres: Sequence[Point], most: int
    ) -> Collapse | None:
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
            return None
        load = self.solver.Objective().Value()
        giving = (name for name, work in self.work if work.solution_value() > LEAST_WORK)
        return Collapse(load=load, joints=tuple(dict.fromkeys(giving)))
