"""Is a joint bent open by what hangs beyond it.

A set of pieces hangs on a seam if it lies wholly beyond it, stands on nothing, and nothing but the
joints of that seam holds it to the rest. Its weight times the shock factor, at the distance of its
centre of gravity from the seam, must not exceed the moments that these joints bear together.
"""

from collections.abc import Iterator

from packdown.geometry import Direction
from packdown.model import JointKind
from packdown.teardown.graph import BuildGraph, bits, components

__all__ = ["bent"]

#: Moment of one gram over one micrometre, in millinewton-metres: standard gravity, in fractions.
GRAVITY, GRAVITY_UNIT = 980_665, 10**11


def bent(graph: BuildGraph, mask: int, standing: int, down: Direction, shock_factor: int) -> int:
    """Return the mask of pieces that hang on a seam which they bend open, or 0 if none do.

    Parameters
    ----------
    graph, mask
        The build and the pieces of the sub-assembly.
    standing
        Those of them that stand on the lowest level.
    down
        The direction that is down.
    shock_factor
        How many times its weight must be borne.
    """
    for axis, at in graph.seams:
        if axis == down.axis:
            continue
        for sign in (1, -1):
            for hung in _hung(graph, mask, standing, down, (axis, at, sign)):
                bears = _bears(graph, mask, hung, (axis, at))
                if bears is None:
                    continue
                weight = sum(graph.build.pieces[i].weight_g for i in bits(hung))
                lever = sum(graph.moments[i][axis] for i in bits(hung))
                moment = sign * (lever - at * weight * graph.moment_unit) * shock_factor * GRAVITY
                if moment > bears * graph.moment_unit * GRAVITY_UNIT:
                    return hung
    return 0


def _hung(
    graph: BuildGraph,
    mask: int,
    standing: int,
    down: Direction,
    seam: tuple[int, int, int],
) -> Iterator[int]:
    """Yield the sets beyond a seam that neither stand nor rest on what is outside them."""
    axis, at, sign = seam
    edge = axis if sign > 0 else axis + 3
    beyond = sum(1 << i for i in bits(mask) if sign * (graph.boxes[i][edge] - at) >= 0)
    if not beyond or beyond == mask:
        return
    rest = graph.lies_on[down]
    for part in components(beyond, graph.held(down)):
        lies = 0
        for i in bits(part):
            lies |= rest[i]
        if not part & standing and not lies & mask & ~part:
            yield part


def _bears(graph: BuildGraph, mask: int, hung: int, seam: tuple[int, int]) -> int | None:
    """Return the moment that holds a set at a seam; None if it is held elsewhere or never bent."""
    total = 0
    for pair, joint in graph.joints:
        if pair & mask != pair or not pair & hung or pair & hung == pair:
            continue
        if joint.kind is JointKind.STACKED:
            continue
        if joint.bends_mnm is None or (joint.axis, graph.plane(pair, joint.axis)) != seam:
            return None
        total += joint.bends_mnm
    return total
