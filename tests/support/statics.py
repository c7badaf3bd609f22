"""Static equilibrium of a sub-assembly of boxes, in newtons and metres, with an outside solver."""

from itertools import permutations

import numpy as np
import numpy.typing as npt
from scipy.optimize import linprog

from packdown.geometry import WayUp, bounds, rotate_cuboid, rotate_vector
from packdown.model import Build, Joint, JointKind

__all__ = ["load_carried", "stands_still"]

#: Weight of one gram in newtons, at standard gravity.
NEWTON = 9.80665e-3
METRE = 1e6
Vector = npt.NDArray[np.float64]


def stands_still(build: Build, shock_factor: int) -> bool:
    """Whether an upright build carries its weight times the shock factor."""
    return load_carried(build, WayUp.UPRIGHT, shock_factor) >= shock_factor * (1 - 1e-6)


def load_carried(build: Build, way_up: WayUp, most: float) -> float:
    """Return how many times its weight a build of boxes carries in a way up, at most `most`.

    On each piece act its weight, pressures from below at the corners of what it stands or lies
    on, and its joints: any thrust; a pull and bending moments, the sum of whose shares of the
    capacity is at most one; forces along the face and a twist, likewise. A twist may be a quarter
    of such a force times the length of the face.
    """
    program = _Program(build, way_up)
    for name, box in program.boxes.items():
        if box[0, 2] == min(other[0, 2] for other in program.boxes.values()):
            program.press(name, None, box[0], box[1])
    for upper, lower in permutations(program.boxes, 2):
        a, b = program.boxes[upper], program.boxes[lower]
        low, high = np.maximum(a[0], b[0]), np.minimum(a[1], b[1])
        if a[0, 2] == b[1, 2] and (low[:2] < high[:2]).all():
            program.press(upper, lower, low, high)
    for joint in build.joints:
        if joint.kind is not JointKind.STACKED:
            program.join(joint, way_up)
    return program.most_load(most)


class _Program:
    """Columns of six figures a piece: force, and moment about the origin."""

    def __init__(self, build: Build, way_up: WayUp) -> None:
        self.build = build
        self.boxes: dict[str, Vector] = {}
        for piece in build.pieces:
            box = bounds(rotate_cuboid(cuboid, way_up, 0) for cuboid in piece.cuboids_um)
            self.boxes[piece.id] = np.array([box[:3], box[3:]]) / METRE
        self.row = {piece.id: 6 * number for number, piece in enumerate(build.pieces)}
        self.columns: list[Vector] = []
        #: Which columns share a capacity.
        self.shared: list[list[int]] = []

    def _add(self, force: Vector, moment: Vector, ends: dict[str, int]) -> int:
        column = np.zeros(6 * len(self.row))
        for name, sign in ends.items():
            row = self.row[name]
            column[row : row + 6] += sign * np.concatenate([force, moment])
        self.columns.append(column)
        return len(self.columns) - 1

    def press(self, upper: str, lower: str | None, low: Vector, high: Vector) -> None:
        """Let one piece be pressed up by another, or by the ground, at each corner of a contact."""
        ends = {upper: 1} | ({lower: -1} if lower else {})
        up = np.array([0.0, 0.0, 1.0])
        for x in (low[0], high[0]):
            for y in (low[1], high[1]):
                self._add(up, np.cross([x, y, low[2]], up), ends)

    def join(self, joint: Joint, way_up: WayUp) -> None:
        """Let two pieces pass what their joint bears; of no strength, nothing but thrust."""
        across = np.array(rotate_vector(tuple(np.eye(3, dtype=int)[joint.axis]), way_up, 0))
        axis = int(np.flatnonzero(across)[0])
        one, two = sorted(joint.pieces, key=lambda name: float(self.boxes[name][:, axis].sum()))
        a, b = self.boxes[one], self.boxes[two]
        low, high = np.maximum(a[0], b[0]), np.minimum(a[1], b[1])
        middle, units = (low + high) / 2, np.eye(3)
        force = 1e6 if joint.holds_g is None else joint.holds_g * NEWTON
        bend = 1e6 if joint.bends_mnm is None else joint.bends_mnm / 1_000
        twist = force * (high - low)[[k for k in range(3) if k != axis]].max() / 4
        self._add(units[axis], np.cross(middle, units[axis]), {one: -1, two: 1})
        pull = self._add(
            units[axis] * force, np.cross(middle, units[axis] * force), {one: 1, two: -1}
        )
        opening, sliding = [pull], []
        for sign in (1, -1):
            ends = {one: -sign, two: sign}
            for k in range(3):
                if k == axis:
                    sliding.append(self._add(np.zeros(3), units[k] * twist, ends))
                else:
                    shift = units[k] * force
                    sliding.append(self._add(shift, np.cross(middle, shift), ends))
                    opening.append(self._add(np.zeros(3), units[k] * bend, ends))
        self.shared += [opening, sliding]

    def most_load(self, most: float) -> float:
        """Return the largest multiple of the weights that the columns can balance."""
        weights = np.zeros(6 * len(self.row))
        for piece in self.build.pieces:
            middle, row = self.boxes[piece.id].mean(axis=0), self.row[piece.id]
            weight = np.array([0.0, 0.0, -piece.weight_g * NEWTON])
            weights[row : row + 6] = np.concatenate([weight, np.cross(middle, weight)])
        matrix = np.column_stack([*self.columns, weights])
        limits = np.zeros((len(self.shared), matrix.shape[1]))
        for number, columns in enumerate(self.shared):
            limits[number, columns] = 1.0
        cost = np.zeros(matrix.shape[1])
        cost[-1] = -1.0
        answer = linprog(
            cost,
            A_ub=limits if self.shared else None,
            b_ub=np.ones(len(self.shared)) if self.shared else None,
            A_eq=matrix,
            b_eq=np.zeros(matrix.shape[0]),
            bounds=[(0, None)] * len(self.columns) + [(0, most)],
            method="highs",
        )
        assert answer.status == 0, answer.message
        return float(answer.x[-1])
