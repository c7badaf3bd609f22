"""A central perspective: where a point of the scene falls on the drawing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import NamedTuple

import numpy as np

from packdown.geometry import Cuboid, Direction, Vector, direction_of

__all__ = ["Camera", "Face", "Point", "faces_away", "faces_toward"]

Point = tuple[float, float]
_Axis = tuple[float, float, float]


class Face(NamedTuple):
    """One side of a cuboid with its corners in turn."""

    side: Direction
    corners: tuple[Vector, Vector, Vector, Vector]


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """An eye that looks in one direction.

    Parameters
    ----------
    eye
        Where it stands, in micrometres; whole, so that sides are told apart exactly.
    axes
        Unit vectors to the right, downwards and forwards of the drawing.
    """

    eye: Vector
    axes: tuple[_Axis, _Axis, _Axis]

    @classmethod
    def looking_at(
        cls, box: Cuboid, *, azimuth: float = -28.0, elevation: float = 40.0, away: float = 3.0
    ) -> "Camera":
        """Look from outside at the middle of a box.

        Parameters
        ----------
        box
            What is to be seen.
        azimuth
            Degrees from the front, anticlockwise from above: negative stands to the left.
        elevation
            Degrees above the table.
        away
            Distance from the middle in diagonals of the box; above one half, so that the eye
            is outside.
        """
        if away <= 0.5:
            raise ValueError(f"away must be above 0.5, not {away}")
        turn, tilt = radians(azimuth), radians(elevation)
        back = (sin(turn) * cos(tilt), -cos(turn) * cos(tilt), sin(tilt))
        reach = away * hypot(*box.size)
        x, y, z = (round((box[axis] + box[axis + 3]) / 2 + reach * back[axis]) for axis in range(3))
        right = (cos(turn), sin(turn), 0.0)
        down = (sin(turn) * sin(tilt), -cos(turn) * sin(tilt), -cos(tilt))
        return cls(eye=(x, y, z), axes=(right, down, (-back[0], -back[1], -back[2])))

    def project(self, points: Sequence[Vector] | np.ndarray) -> np.ndarray:
        """Return where points fall on the drawing: x to the right, y downwards.

        Parameters
        ----------
        points
            Shape (n, 3), in micrometres, all in front of the eye.

        Returns
        -------
        numpy.ndarray
            Shape (n, 2), in units of the distance between eye and drawing.
        """
        seen = (np.asarray(points, dtype=np.float64) - self.eye) @ np.asarray(self.axes).T
        if len(seen) and seen[:, 2].min() <= 0:
            raise ValueError("a point lies behind the eye")
        plane: np.ndarray = seen[:, :2] / seen[:, 2:]
        return plane

    def rays(self, pixels: np.ndarray) -> np.ndarray:
        """Return the directions from the eye through points of the drawing.

        Parameters
        ----------
        pixels
            Shape (n, 2), as `project` returns them.

        Returns
        -------
        numpy.ndarray
            Shape (n, 3), one unit deep.
        """
        right, down, forward = np.asarray(self.axes)
        through: np.ndarray = pixels[:, :1] * right + pixels[:, 1:] * down + forward
        return through


def faces_toward(cuboid: Cuboid, eye: Vector) -> tuple[Face, ...]:
    """Return the faces of a cuboid that look at the eye, at most three."""
    return tuple(face for face, toward in _faces(cuboid, eye) if toward)


def faces_away(cuboid: Cuboid, eye: Vector) -> tuple[Face, ...]:
    """Return the faces of a cuboid whose inside looks at the eye."""
    return tuple(face for face, toward in _faces(cuboid, eye) if not toward)


def _faces(cuboid: Cuboid, eye: Vector) -> Iterator[tuple[Face, bool]]:
    for axis in range(3):
        for bound, sign in ((cuboid[axis], -1), (cuboid[axis + 3], 1)):
            yield _face(cuboid, axis, bound, sign), (eye[axis] - bound) * sign > 0


def _face(cuboid: Cuboid, axis: int, bound: int, sign: int) -> Face:
    u, v = (other for other in range(3) if other != axis)
    corners = []
    for far_u, far_v in ((0, 0), (1, 0), (1, 1), (0, 1)):
        corner = [bound, bound, bound]
        corner[u], corner[v] = cuboid[u + 3 * far_u], cuboid[v + 3 * far_v]
        corners.append((corner[0], corner[1], corner[2]))
    normal = [0, 0, 0]
    normal[axis] = sign
    a, b, c, d = corners
    return Face(direction_of((normal[0], normal[1], normal[2])), (a, b, c, d))
