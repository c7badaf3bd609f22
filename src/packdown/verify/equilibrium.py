"""Static equilibrium: how many times its weight a sub-assembly carries, by a linear program.

Pieces are rigid and lie on a flat floor. If forces at contacts and joints can be found that are
in balance at every piece and exceed nowhere what is borne, the whole carries its load (the static
theorem of limit analysis). The program looks for the largest load for which there are any.

On each piece act its weight; pressures at the corners of what it stands or lies on, which only
push; and its joints. A joint passes, at the middle of the face in which its pieces meet,

- any thrust; a pull and, about the two axes in the face, moments. Pull and moments use up the
  joint together: the shares of what it holds and of what it bears add up to at most one.
- a force along the face and a twist about the axis across it, which use it up together too. What
  it holds is spread evenly along the face, so that it bears a twist of a quarter of that force
  times the length of the face.

References
----------
Livesley, R. K. (1978), International Journal for Numerical Methods in Engineering 12(12),
1853-1871: the limit load of structures of rigid blocks as a linear program.
"""

from collections.abc import Collection, Iterable, Sequence
from itertools import permutations
from typing import NamedTuple

from ortools.linear_solver import pywraplp

from packdown.geometry import (
    Cuboid,
    Rect,
    WayUp,
    bounds,
    convex_hull,
    lowest_faces,
    meeting_face,
    rests_on,
    rotate_cuboid,
    rotate_vector,
)
from packdown.model import Joint, JointKind, Piece
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken
from packdown.verify.strength import (
    joints_are_not_bent,
    sub_assemblies_hold,
    sub_assemblies_stand,
)

__all__ = ["load_factor", "sub_assemblies_are_carried"]

Point = tuple[float, float, float]
Solid = Sequence[Cuboid]
#: Of one millinewton-metre, in gram millimetres: 1 / (9.80665 m/s2).
GRAM_MM = 1e3 / 9.80665
MM = 1_000
GROUND = ""
ENDLESS = float("inf")
#: Part of a load that the linear program may miss by rounding.
SLACK = 1e-5
SHARPER = (sub_assemblies_hold, joints_are_not_bent, sub_assemblies_stand)


def sub_assemblies_are_carried(lookup: Lookup) -> Broken:
    """Yield packed sub-assemblies that no forces in balance hold where they lie.

    Other rules tell what hangs, bends or tips; those sub-assemblies are skipped.
    """
    needed = lookup.plan.rules.shock_factor
    told: set[str] | None = None
    for loaded in lookup.packed_sub_assemblies:
        pieces, way_up = lookup.pieces_of(loaded.item), loaded.place.way_up
        joints = lookup.joints_in(piece.id for piece in pieces)
        load = load_factor(pieces, joints, way_up, needed)
        if load >= needed * (1 - SLACK):
            continue
        if told is None:
            told = {where for rule in SHARPER for where, _ in rule(lookup)}
        if loaded.id not in told:
            yield loaded.id, f"carries {load:.2f} times its weight {way_up}, not {needed} times"


def load_factor(
    pieces: Sequence[Piece],
    joints: Iterable[Joint],
    way_up: WayUp,
    most: int,
    *,
    held: Collection[str] = (),
    beside: Iterable[Piece] = (),
) -> float:
    """Return how many times its weight a sub-assembly carries where it lies, at most `most`.

    Parameters
    ----------
    pieces, joints
        The pieces and the joints between them.
    way_up
        How they lie.
    most
        The load that is asked for, as a multiple of the weight.
    held
        Pieces that hands hold: they bear whatever is needed.
    beside
        Pieces that stand beside them: the floor is where the lowest of all is.
    """
    solids, around = (
        {p.id: [rotate_cuboid(c, way_up, 0) for c in p.cuboids_um] for p in some}
        for some in (pieces, beside)
    )
    program = _Program(solids, held)
    ground = min(c.z0 for solid in (*solids.values(), *around.values()) for c in solid)
    for name, solid in solids.items():
        if bounds(solid).z0 == ground:
            program.press(name, GROUND, lowest_faces(solid))
    for upper, lower in permutations(solids, 2):
        program.press(upper, lower, rests_on(solids[upper], solids[lower]))
    for joint in joints:
        if joint.kind is not JointKind.STACKED:
            across = rotate_vector(_unit(joint.axis), way_up, 0)
            program.join(joint, next(axis for axis in range(3) if across[axis]))
    return program.most_load({piece.id: piece.weight_g for piece in pieces}, most)


def _unit(axis: int) -> tuple[int, int, int]:
    x, y, z = (int(axis == k) for k in range(3))
    return (x, y, z)


class _Share(NamedTuple):
    """A column of the program, and how much one of it is: grams, or gram millimetres."""

    column: pywraplp.Variable
    unit: float


class _Program:
    """A column for each force and moment; six rows for each piece, in grams and millimetres.

    Whatever acts on a piece that is held is in balance: its rows are free.
    """

    def __init__(self, solids: dict[str, list[Cuboid]], held: Collection[str]) -> None:
        self.solids = solids
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        self.rows = {
            name: [self.solver.Constraint(-most, most) for _ in range(6)]
            for name in solids
            for most in (ENDLESS if name in held else 0.0,)
        }

    def _force(self, at: Point, axis: int, share: _Share, *ends: tuple[str, int]) -> None:
        """Enter a force along an axis at a point, and its moments about the origin."""
        second, third = (axis + 1) % 3, (axis + 2) % 3
        for on, sign in ends:
            if on != GROUND:
                rows, grams = self.rows[on], sign * share.unit
                rows[axis].SetCoefficient(share.column, grams)
                rows[3 + second].SetCoefficient(share.column, grams * at[third])
                rows[3 + third].SetCoefficient(share.column, -grams * at[second])

    def _moment(self, axis: int, share: _Share, *ends: tuple[str, int]) -> None:
        """Enter a moment about an axis."""
        for on, sign in ends:
            self.rows[on][3 + axis].SetCoefficient(share.column, sign * share.unit)

    def _share(self, most: float = ENDLESS, limit: pywraplp.Constraint = None) -> _Share:
        """Return a column: a share of the most that is borne, or grams where nothing limits it."""
        column = self.solver.NumVar(0.0, ENDLESS, "")
        if most == ENDLESS:
            return _Share(column, 1.0)
        limit.SetCoefficient(column, 1.0)
        return _Share(column, most)

    def press(self, upper: str, lower: str, rects: Sequence[Rect]) -> None:
        """Let one piece be pressed up by another, or by the ground, all over their contacts."""
        corners = [(x, y) for r in rects for x in (r.x0, r.x1) for y in (r.y0, r.y1)]
        for x, y in convex_hull(corners):
            self._force((x / MM, y / MM, 0.0), 2, self._share(), (upper, 1), (lower, -1))

    def join(self, joint: Joint, axis: int) -> None:
        """Let two pieces pass forces and moments that their joint bears."""
        lower, upper = sorted(joint.pieces, key=lambda name: _along(self.solids[name], axis))
        face = meeting_face(self.solids[lower], self.solids[upper], axis)
        others = ((axis + 1) % 3, (axis + 2) % 3)
        length = max(1, *(face[k + 3] - face[k] for k in others)) / MM
        at, apart, closer = _point(face), ((upper, 1), (lower, -1)), ((upper, -1), (lower, 1))
        holds = ENDLESS if joint.holds_g is None else joint.holds_g
        bears = ENDLESS if joint.bends_mnm is None else joint.bends_mnm * GRAM_MM
        opening, sliding = (self.solver.Constraint(-ENDLESS, 1.0) for _ in range(2))
        self._force(at, axis, self._share(), *apart)
        self._force(at, axis, self._share(holds, opening), *closer)
        for ends in (apart, closer):
            for other in others:
                self._force(at, other, self._share(holds, sliding), *ends)
                self._moment(other, self._share(bears, opening), *ends)
            self._moment(axis, self._share(holds * length / 4, sliding), *ends)

    def most_load(self, weights: dict[str, int], most: int) -> float:
        """Return the largest multiple of the weights, at most `most`, that can be balanced.

        None is, and so 0, should the program fail for its numbers.
        """
        load = self.solver.NumVar(0.0, most, "")
        for name, grams in weights.items():
            self._force(_middle(self.solids[name]), 2, _Share(load, grams), (name, -1))
        self.solver.Maximize(load)
        if self.solver.Solve() != pywraplp.Solver.OPTIMAL:
            return 0.0
        return float(load.solution_value())


def _middle(solid: Solid) -> Point:
    """Return the centre of gravity of a solid, in millimetres; of a flat one its middle."""
    if not all(cuboid.volume for cuboid in solid):
        return _point(bounds(solid))
    whole = sum(cuboid.volume for cuboid in solid)
    x, y, z = (
        sum(c.volume * (c[k] + c[k + 3]) for c in solid) / (2 * whole * MM) for k in range(3)
    )
    return (x, y, z)


def _point(box: Cuboid) -> Point:
    """Return the middle of a box, in millimetres."""
    x, y, z = ((box[k] + box[k + 3]) / (2 * MM) for k in range(3))
    return (x, y, z)


def _along(solid: Solid, axis: int) -> int:
    """Return where a solid is along an axis: twice the middle of its bounding box."""
    box = bounds(solid)
    return box[axis] + box[axis + 3]
