"""Joints that are kept hold their sub-assembly together, also on the way."""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import permutations

import networkx as nx

from packdown.geometry import (
    Cuboid,
    Vector,
    WayUp,
    bounds,
    inside_hull,
    lowest_faces,
    rests_on,
    rotate_cuboid,
    rotate_vector,
)
from packdown.model import Joint, JointKind, JointState, Piece
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken

__all__ = [
    "fixed_joints_are_kept",
    "joint_states_are_true",
    "joints_are_not_bent",
    "lonely_pieces_are_alone",
    "sub_assemblies_hang_together",
    "sub_assemblies_hold",
    "sub_assemblies_stand",
]

Edge = tuple[str | int, str | int]
"""From piece to piece; the weight comes from and goes to places that no piece is named like."""
WEIGHT, GROUND = 0, 1
GRAVITY = Fraction(980_665, 10**11)
"""Moment of one gram over one micrometre, in millinewton-metres: standard gravity."""


def joint_states_are_true(lookup: Lookup) -> Broken:
    """Yield joints said to be kept between sub-assemblies, or said to be split within one."""
    for build in lookup.builds.values():
        home = {piece: n for n, sub in enumerate(build.sub_assemblies) for piece in sub}
        for joint in build.joints:
            if set(joint.pieces) <= home.keys():
                same = home[joint.pieces[0]] == home[joint.pieces[1]]
                true = JointState.KEPT if same else JointState.SPLIT
                if joint.state is not true:
                    yield joint.id, f"is said to be {joint.state}, its sub-assemblies say {true}"


def fixed_joints_are_kept(lookup: Lookup) -> Broken:
    """Yield joints that are split although they must not be."""
    for joint in lookup.joints.values():
        if joint.fixed and joint.state is JointState.SPLIT:
            yield joint.id, f"is split, but is {joint.kind} and must stay"


def lonely_pieces_are_alone(lookup: Lookup) -> Broken:
    """Yield sub-assemblies in which others are joined to a piece that must travel alone."""
    for build in lookup.builds.values():
        for sub in build.sub_assemblies:
            for name in sub:
                if len(sub) > 1 and name in lookup.pieces and lookup.pieces[name].alone:
                    yield build.id, f"{name} must travel alone, not with {len(sub) - 1} others"


def sub_assemblies_hang_together(lookup: Lookup) -> Broken:
    """Yield sub-assemblies that fall into several parts."""
    for build in lookup.builds.values():
        for sub in build.sub_assemblies:
            graph = nx.Graph()
            graph.add_nodes_from(piece for piece in sub if piece in lookup.pieces)
            graph.add_edges_from(joint.pieces for joint in lookup.joints_in(sub))
            parts = sorted(sorted(part) for part in nx.connected_components(graph))
            if len(parts) > 1:
                shown = " | ".join(", ".join(part) for part in parts)
                yield build.id, f"sub-assembly falls into {len(parts)} parts: {shown}"


def _flow_network(lookup: Lookup, pieces: Sequence[Piece], way_up: WayUp) -> nx.DiGraph:
    """Return how the weight of pieces can reach the ground.

    To each piece comes its weight times the shock factor; from piece to piece goes what a joint
    holds (both ways), or anything where one rests on the other; from the lowest pieces anything
    goes to the ground. No capacity means no limit. Stacked joints hold nothing.
    """
    turned = {p.id: [rotate_cuboid(c, way_up, 0) for c in p.cuboids_um] for p in pieces}
    low = min(cuboid.z0 for solid in turned.values() for cuboid in solid)
    firm: set[Edge] = {(a, b) for a, b in permutations(turned, 2) if rests_on(turned[a], turned[b])}
    firm |= {(name, GROUND) for name in turned if bounds(turned[name]).z0 == low}
    limited: Counter[Edge] = Counter()
    for joint in lookup.joints_in(turned):
        if joint.kind is JointKind.STACKED:
            continue
        for edge in (joint.pieces, joint.pieces[::-1]):
            if joint.holds_g is None:
                firm.add(edge)
            else:
                limited[edge] += joint.holds_g
    for piece in pieces:
        limited[WEIGHT, piece.id] = lookup.plan.rules.shock_factor * piece.weight_g
    graph = nx.DiGraph()
    graph.add_edges_from((*edge, {"capacity": most}) for edge, most in limited.items())
    graph.remove_edges_from(firm)
    graph.add_edges_from(firm)
    return graph


def sub_assemblies_hold(lookup: Lookup) -> Broken:
    """Yield sub-assemblies from which something would come off in transit.

    The weight, times the shock factor, must flow to the ground through joints and contacts; by
    the theorem of Ford and Fulkerson (1956), Canadian Journal of Mathematics 8, 399-404, this is
    so exactly if no set of pieces pulls harder than the joints around it hold.
    """
    for loaded in lookup.packed_sub_assemblies:
        pieces = lookup.pieces_of(loaded.item)
        graph = _flow_network(lookup, pieces, loaded.place.way_up)
        needed = lookup.plan.rules.shock_factor * sum(piece.weight_g for piece in pieces)
        carried, (hanging, _) = nx.minimum_cut(graph, WEIGHT, GROUND)
        if carried < needed:
            off = sorted(hanging - {WEIGHT})
            pull = lookup.plan.rules.shock_factor * sum(lookup.pieces[p].weight_g for p in off)
            held = pull - (needed - carried)
            how = f"would come off {loaded.place.way_up}: pulls with {pull} g, held with {held} g"
            yield loaded.id, f"{', '.join(off)} {how}"


def joints_are_not_bent(lookup: Lookup) -> Broken:
    """Yield sub-assemblies in which something bends the joints open that alone hold it.

    Where pieces lie wholly beyond a plane, stand on nothing, and only joints in that plane hold
    them, these joints must bear the moment of their weight, times the shock factor, about it.
    """
    for loaded in lookup.packed_sub_assemblies:
        pieces = {piece.id: piece for piece in lookup.pieces_of(loaded.item)}
        solids = {
            name: [rotate_cuboid(c, loaded.place.way_up, 0) for c in piece.cuboids_um]
            for name, piece in pieces.items()
        }
        for hung, plane, bears in _cantilevers(lookup, solids, loaded.place.way_up):
            moment = sum(
                abs(_middle(solids[name], plane[0]) - plane[1]) * pieces[name].weight_g
                for name in hung
            )
            pull = lookup.plan.rules.shock_factor * moment * GRAVITY
            if pull > bears:
                how = f"{float(pull):.1f} mN m, held with {bears} mN m"
                yield (
                    loaded.id,
                    f"{', '.join(sorted(hung))} would bend off {loaded.place.way_up}: {how}",
                )


def _middle(solid: Sequence[Cuboid], axis: int) -> Fraction:
    """Return where the centre of gravity of a solid is along an axis."""
    whole = sum(cuboid.volume for cuboid in solid)
    return Fraction(sum(c.volume * (c[axis] + c[axis + 3]) for c in solid), 2 * whole)


def _cantilevers(
    lookup: Lookup, solids: dict[str, list[Cuboid]], way_up: WayUp
) -> Iterator[tuple[frozenset[str], tuple[int, int], int]]:
    """Yield what hangs on one plane alone, the plane, and the moment its joints bear."""
    joints = [joint for joint in lookup.joints_in(solids) if joint.kind is not JointKind.STACKED]
    meets = {joint.id: _plane(lookup, joint, way_up) for joint in joints}
    boxes = {name: bounds(solid) for name, solid in solids.items()}
    ground = min(box.z0 for box in boxes.values())
    rests = [(a, b) for a, b in permutations(solids, 2) if rests_on(solids[a], solids[b])]
    held = nx.Graph([joint.pieces for joint in lookup.joints_in(solids)] + rests)
    for axis, at in sorted({plane for plane in meets.values() if plane[0] < 2}):
        for beyond in (
            [name for name, box in boxes.items() if box[axis] >= at],
            [name for name, box in boxes.items() if box[axis + 3] <= at],
        ):
            for part in map(frozenset, nx.connected_components(held.subgraph(beyond))):
                stands = any(boxes[name].z0 == ground for name in part)
                if stands or any(a in part and b not in part for a, b in rests):
                    continue
                edge = [joint for joint in joints if len(part & set(joint.pieces)) == 1]
                bears = [joint.bends_mnm for joint in edge if meets[joint.id] == (axis, at)]
                if len(bears) == len(edge) and None not in bears and len(part) < len(solids):
                    yield part, (axis, at), sum(each or 0 for each in bears)


def _plane(lookup: Lookup, joint: Joint, way_up: WayUp) -> tuple[int, int]:
    """Return axis and place of the plane in which a joint meets once it is turned."""
    ends = [bounds(lookup.pieces[name].cuboids_um)[joint.axis] for name in joint.pieces]
    unit = rotate_vector(_along(joint.axis, 1), way_up, 0)
    axis = next(axis for axis in range(3) if unit[axis])
    return axis, rotate_vector(_along(joint.axis, max(ends)), way_up, 0)[axis]


def _along(axis: int, length: int) -> Vector:
    x, y, z = (length if a == axis else 0 for a in range(3))
    return (x, y, z)


def sub_assemblies_stand(lookup: Lookup) -> Broken:
    """Yield packed sub-assemblies that would tip over their own lowest faces."""
    for loaded in lookup.packed_sub_assemblies:
        x, y, _ = loaded.centre
        if not inside_hull((x, y), lowest_faces(loaded.cuboids)):
            yield loaded.id, f"tips over its own footing {loaded.place.way_up}"
