"""Carry out moves on solids, both ways, and see that nothing runs into anything."""

from collections.abc import Iterable, Sequence

from packdown.geometry import Cuboid, Direction, Solid, Vector, bounds, overlap, translate
from packdown.model import Build
from packdown.teardown.order import Move

__all__ = ["check_moves"]


def check_moves(build: Build, moves: Sequence[Move]) -> None:
    """Carry out moves in order, then the opposite ones in reverse order.

    Each move pushes its part along until it is clear of all that stays; what the part sweeps on
    its way must be free. Afterwards every piece must stand where it stood.

    Parameters
    ----------
    build
        The build.
    moves
        Its order of work.

    Raises
    ------
    ValueError
        If a move takes parts that are not together at that time, if it runs into what stays, or
        if a joint between its parts is not opened by it.
    """
    rehearsal = _Rehearsal(build)
    shifts = [rehearsal.part(move) for move in moves]
    for move, shift in zip(reversed(moves), reversed(shifts), strict=True):
        rehearsal.join(move, shift)
    if rehearsal.now != rehearsal.start or rehearsal.groups != {frozenset(rehearsal.start)}:
        raise ValueError(f"build {build.id}: the pieces do not end where they stood")


class _Rehearsal:
    """Where the cores of the pieces are, and which pieces are together."""

    def __init__(self, build: Build) -> None:
        self.build = build
        self.start: dict[str, Solid] = {piece.id: piece.core_um for piece in build.pieces}
        self.now = dict(self.start)
        self.groups = {frozenset(self.start)}

    def part(self, move: Move) -> Vector:
        """Move a part away and return how far."""
        moving, staying = frozenset(move.moving), frozenset(move.staying)
        if not moving or not staying or moving & staying or moving | staying not in self.groups:
            raise ValueError(f"{_words(move)}: these pieces are not together then")
        between = {
            joint.id
            for joint in self.build.joints
            if not moving.isdisjoint(joint.pieces) and not staying.isdisjoint(joint.pieces)
        }
        if between != set(move.joints):
            raise ValueError(f"{_words(move)}: it does not open just the joints between its parts")
        self.groups ^= {moving | staying, moving, staying}
        shift = self._way_out(move)
        self._push(move, shift)
        return shift

    def join(self, move: Move, shift: Vector) -> None:
        """Move a part back where it came from."""
        self._push(move, (-shift[0], -shift[1], -shift[2]))
        moving, staying = frozenset(move.moving), frozenset(move.staying)
        self.groups ^= {moving | staying, moving, staying}

    def _solid(self, pieces: Iterable[str]) -> Solid:
        return tuple(cuboid for piece in pieces for cuboid in self.now[piece])

    def _way_out(self, move: Move) -> Vector:
        """Return the shift after which the bounding boxes of both parts are apart."""
        a, b = bounds(self._solid(move.moving)), bounds(self._solid(move.staying))
        axis = move.direction.axis
        forward = sum(move.direction.vector) > 0
        far = max(0, b[axis + 3] - a[axis] if forward else a[axis + 3] - b[axis])
        x, y, z = move.direction.vector
        return (far * x, far * y, far * z)

    def _push(self, move: Move, shift: Vector) -> None:
        swept = tuple(_sweep(cuboid, shift) for cuboid in self._solid(move.moving))
        if overlap(swept, self._solid(move.staying)):
            raise ValueError(f"{_words(move)}: it runs into what stays")
        for piece in move.moving:
            self.now[piece] = translate(self.now[piece], *shift)


def _sweep(cuboid: Cuboid, shift: Vector) -> Cuboid:
    return bounds([cuboid, cuboid.moved(*shift)])


def _words(move: Move) -> str:
    way: Direction = move.direction
    return f"moving {', '.join(move.moving)} {way}"
