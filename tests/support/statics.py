"""Static equilibrium of a sub-assembly as a linear program, to check the rules of strength."""

from itertools import permutations

import numpy as np
from scipy.optimize import linprog

from packdown.geometry import Cuboid, bounds, lowest_faces, rests_on
from packdown.model import Build, JointKind, Piece

__all__ = ["stands_still"]

MUCH = 10**9
#: Newton of one gram; lengths are in metres.
NEWTON = 9.80665 / 1_000


def stands_still(build: Build, shock_factor: int) -> bool:
    """Whether forces and moments can keep every piece of an upright build at rest.

    On each piece act its weight times the shock factor, pressures from below at the corners of
    what it stands or lies on, and its joints. A joint between pieces side by side passes a
    vertical force of at most what it holds and, about the line where the faces meet, a moment of
    at most what it bears; its twist is free. A joint between upper and lower piece passes such a
    force, and any moment. Three equations a piece: forces, and moments about both axes.
    """
    program = _Program(build.pieces)
    for piece in build.pieces:
        for rect in lowest_faces(piece.cuboids_um):
            if min(c.z0 for c in piece.cuboids_um) == min(
                c.z0 for p in build.pieces for c in p.cuboids_um
            ):
                program.press(piece.id, None, rect)
    for upper, lower in permutations(build.pieces, 2):
        for rect in rests_on(upper.cuboids_um, lower.cuboids_um):
            program.press(upper.id, lower.id, rect)
    where = {piece.id: bounds(piece.cuboids_um) for piece in build.pieces}
    for joint in build.joints:
        if joint.kind is not JointKind.STACKED:
            a, b = joint.pieces
            x, y = _meeting(where[a], where[b], joint.axis)
            force = MUCH if joint.holds_g is None else joint.holds_g * NEWTON
            moment = MUCH if joint.bends_mnm is None else joint.bends_mnm / 1_000
            program.link(a, b, (x, y), force, _moments(joint.axis, moment))
    return program.solvable(shock_factor)


def _meeting(a: Cuboid, b: Cuboid, axis: int) -> tuple[float, float]:
    x, y = ((max(a[k], b[k]) + min(a[k + 3], b[k + 3])) / 2 for k in range(2))
    seam = max(a[axis], b[axis])
    return (seam, y) if axis == 0 else (x, seam) if axis == 1 else (x, y)


def _moments(axis: int, most: float) -> tuple[float, float]:
    """Return the most moment along x and along y (that turns about y and about x)."""
    return (most, MUCH) if axis == 0 else (MUCH, most) if axis == 1 else (MUCH, MUCH)


class _Program:
    """Columns of forces and moments; three rows for each piece: force, and moment along x and y."""

    def __init__(self, pieces: tuple[Piece, ...]) -> None:
        self.pieces = pieces
        self.row = {piece.id: 3 * n for n, piece in enumerate(pieces)}
        self.columns: list[dict[int, float]] = []
        self.limits: list[tuple[float, float]] = []

    def _add(self, entries: dict[int, float], low: float, high: float) -> None:
        self.columns.append(entries)
        self.limits.append((low, high))

    def _force(self, piece: str, at: tuple[float, float], sign: int) -> dict[int, float]:
        row = self.row[piece]
        return {row: sign, row + 1: sign * at[0] / 1e6, row + 2: sign * at[1] / 1e6}

    def press(self, upper: str, lower: str | None, rect: tuple[int, int, int, int]) -> None:
        """Let one piece be pressed up by another, or by the ground, at each corner of a contact."""
        for x in (rect[0], rect[2]):
            for y in (rect[1], rect[3]):
                entries = self._force(upper, (x, y), 1)
                if lower:
                    entries |= self._force(lower, (x, y), -1)
                self._add(entries, 0, MUCH)

    def link(
        self,
        a: str,
        b: str,
        at: tuple[float, float],
        force: float,
        moments: tuple[float, float],
    ) -> None:
        """Let two pieces pass a force, and moments, both ways."""
        self._add(self._force(a, at, 1) | self._force(b, at, -1), -force, force)
        for offset, most in enumerate(moments, start=1):
            self._add({self.row[a] + offset: 1, self.row[b] + offset: -1}, -most, most)

    def solvable(self, shock_factor: int) -> bool:
        """Whether the columns can balance the weights."""
        rows = 3 * len(self.pieces)
        matrix = np.zeros((rows, len(self.columns)))
        for column, entries in enumerate(self.columns):
            for row, value in entries.items():
                matrix[row, column] += value
        pull = np.zeros(rows)
        for piece in self.pieces:
            total = sum(c.volume for c in piece.cuboids_um)
            x, y = (
                sum(c.volume * (c[k] + c[k + 3]) for c in piece.cuboids_um) / (2 * total) / 1e6
                for k in range(2)
            )
            weight = shock_factor * piece.weight_g * NEWTON
            pull[self.row[piece.id] : self.row[piece.id] + 3] = (weight, weight * x, weight * y)
        answer = linprog(
            np.zeros(len(self.columns)), A_eq=matrix, b_eq=pull, bounds=self.limits, method="highs"
        )
        return bool(answer.status == 0)
