"""A build as it lies in a way up: what touches where, for its equilibrium."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations

from packdown.geometry import (
    Rect,
    Solid,
    WayUp,
    bounds,
    convex_hull,
    meeting_face,
    rests_on,
    rotate_cuboid,
    rotate_vector,
)
from packdown.model import Joint, JointKind
from packdown.teardown.graph import BuildGraph, centroid
from packdown.teardown.strength import DOWN_SIDE

__all__ = ["Lying", "Meeting", "Point", "corners", "lying_of"]

MM = 1_000
Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Where two pieces are joined, in millimetres.

    Parameters
    ----------
    joint
        The joint.
    pair
        The two pieces by number, the one further along the axis first.
    axis
        Axis across the face in which they meet.
    at
        Middle of that face.
    spread
        Mean distance from it of what is spread evenly along the face: a quarter of its length.
    """

    joint: Joint
    pair: tuple[int, int]
    axis: int
    at: Point
    spread: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """A build that lies in a way up.

    Parameters
    ----------
    solids
        Each piece as it lies, in micrometres.
    low
        Where each is lowest.
    contacts
        Upper and lower piece by number, and the corners in which one lies on the other.
    meetings
        The joints that are not merely stacked.
    centres
        Centre of gravity of each piece, in millimetres.
    """

    solids: tuple[Solid, ...]
    low: tuple[int, ...]
    contacts: tuple[tuple[int, int, tuple[Point, ...]], ...]
    meetings: tuple[Meeting, ...]
    centres: tuple[Point, ...]


@lru_cache(maxsize=64)
def lying_of(graph: BuildGraph, way_up: WayUp) -> Lying:
    """Return a build as it lies in a way up, worked out once for as long as it is in use."""
    pieces = graph.build.pieces
    solids = tuple(
        tuple(rotate_cuboid(cuboid, way_up, 0) for cuboid in piece.cuboids_um) for piece in pieces
    )
    under = graph.lies_on[DOWN_SIDE[way_up]]
    middles = (centroid(solid) for solid in solids)
    return Lying(
        solids=solids,
        low=tuple(bounds(solid).z0 for solid in solids),
        contacts=tuple(
            (upper, lower, tuple(corners(rests_on(solids[upper], solids[lower]))))
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


def corners(rects: Iterable[Rect]) -> Iterator[Point]:
    """Yield the corners of the hull of some rectangles in plan, in millimetres."""
    corners = [(x, y) for r in rects for x in (r.x0, r.x1) for y in (r.y0, r.y1)]
    return ((x / MM, y / MM, 0.0) for x, y in convex_hull(corners))


def _meeting(graph: BuildGraph, joint: Joint, solids: Sequence[Solid], way_up: WayUp) -> Meeting:
    axis = next(k for k in range(3) if rotate_vector(_UNITS[joint.axis], way_up, 0)[k])
    one, two = (graph.index[name] for name in joint.pieces)
    face = meeting_face(solids[one], solids[two], axis)
    x, y, z = ((face[k] + face[k + 3]) / 2 / MM for k in range(3))
    along = {i: bounds(solids[i])[axis] + bounds(solids[i])[axis + 3] for i in (one, two)}
    length = max(face[k + 3] - face[k] for k in range(3) if k != axis)
    return Meeting(
        joint=joint,
        pair=(one, two) if along[one] > along[two] else (two, one),
        axis=axis,
        at=(x, y, z),
        spread=length / MM / 4,
    )


_UNITS = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
