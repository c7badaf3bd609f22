"""Does a sub-assembly hold together in transit: one maximum flow from weights to footing.

Every piece sends its weight, times the shock factor, down to the pieces that stand. What lies on
another piece passes any weight to it; a joint passes as much as it holds, either way. By the
maximum flow minimum cut theorem all weight gets through if and only if no set of pieces that
hangs is heavier than the joints that hold it.

References
----------
Ford, L. R., Fulkerson, D. R. (1956), Canadian Journal of Mathematics 8, 399-404.
"""

from ortools.graph.python import max_flow

from packdown.geometry import Direction, WayUp
from packdown.model import JointKind
from packdown.teardown.graph import BuildGraph, bits
from packdown.teardown.leverage import bent

__all__ = ["DOWN_SIDE", "hanging", "holds"]

DOWN_SIDE = {
    WayUp.UPRIGHT: Direction.DOWN,
    WayUp.UPSIDE_DOWN: Direction.UP,
    WayUp.ON_LEFT: Direction.LEFT,
    WayUp.ON_RIGHT: Direction.RIGHT,
    WayUp.ON_FRONT: Direction.FRONT,
    WayUp.ON_BACK: Direction.BACK,
}


def holds(graph: BuildGraph, mask: int, way_up: WayUp, shock_factor: int) -> bool:
    """Whether a sub-assembly holds in a way up.

    It does if for every set of pieces that hangs, `shock_factor` times its weight is at most what
    the joints across its edge hold. A set hangs if no piece of it stands on the lowest level or
    lies on a piece outside the set. Stacked joints hold nothing. And what hangs wholly beyond one
    seam must not bend its joints open.

    Parameters
    ----------
    graph, mask
        The build and the pieces of the sub-assembly.
    way_up
        How it lies.
    shock_factor
        How many times its weight a joint must hold.
    """
    return not hanging(graph, mask, way_up, shock_factor)


def hanging(graph: BuildGraph, mask: int, way_up: WayUp, shock_factor: int) -> int:
    """Return the mask of pieces that come off, or 0 if all holds; see `holds`."""
    down = DOWN_SIDE[way_up]
    firm = _standing(graph, mask, down)
    lies_on = graph.lies_on[down]
    loose = mask & ~firm
    grew = True
    while loose and grew:
        resting = sum(1 << i for i in bits(loose) if lies_on[i] & firm)
        firm |= resting
        loose &= ~resting
        grew = bool(resting)
    if not loose:
        return 0
    off = _comes_off(graph, loose, firm, down, shock_factor)
    return off or bent(graph, mask, _standing(graph, mask, down), down, shock_factor)


def _standing(graph: BuildGraph, mask: int, down: Direction) -> int:
    """Return the pieces of a mask that reach its lowest level."""
    edge = down.axis if sum(down.vector) < 0 else down.axis + 3
    sign = -sum(down.vector)
    levels = {i: sign * graph.boxes[i][edge] for i in bits(mask)}
    lowest = min(levels.values())
    return sum(1 << i for i, level in levels.items() if level == lowest)


def _comes_off(graph: BuildGraph, loose: int, firm: int, down: Direction, shock_factor: int) -> int:
    """Return the pieces on the source side of the least cut, those cut off at once apart."""
    pieces = graph.build.pieces
    node = {i: n for n, i in enumerate(bits(loose), start=2)}
    load = {i: shock_factor * pieces[i].weight_g for i in node}
    endless = sum(load.values()) + 1
    flow = max_flow.SimpleMaxFlow()
    for i, n in node.items():
        flow.add_arc_with_capacity(0, n, load[i])
        for j in bits(graph.lies_on[down][i] & loose):
            flow.add_arc_with_capacity(n, node[j], endless)
    whole = loose | firm
    for pair, joint in graph.joints:
        if pair & whole != pair or not pair & loose or joint.kind is JointKind.STACKED:
            continue
        a, b = (node.get(i, 1) for i in bits(pair))
        most = endless if joint.holds_g is None else min(joint.holds_g, endless)
        flow.add_arc_with_capacity(a, b, most)
        flow.add_arc_with_capacity(b, a, most)
    status = flow.solve(0, 1)
    if status == flow.OPTIMAL and flow.optimal_flow() == endless - 1:
        return 0
    held_back = set(flow.get_source_side_min_cut())
    return sum(1 << i for i, n in node.items() if n in held_back)
