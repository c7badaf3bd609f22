"""What must not travel as it is joined is named, and so are the joints to open."""

from collections.abc import Collection, Iterator

import networkx as nx

from packdown.geometry import WayUp
from packdown.model import JointKind, PlanBuild, Weak
from packdown.verify.equilibrium import SLACK, load_factor
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken

__all__ = ["weak_parts_are_told"]

Part = frozenset[str]


def weak_parts_are_told(lookup: Lookup) -> Broken:
    """Yield what is not named although it must not travel, and what is wrongly said of it.

    Whole builds are looked at, and sub-assemblies of plans for the shelf; in plans for transport
    other rules tell whether these hold where they lie. What is named may be stronger than that.
    """
    rules = lookup.plan.rules
    for build in lookup.builds.values():
        told = {frozenset(weak.pieces) for weak in build.weak}
        subs = {frozenset(sub) for sub in build.sub_assemblies}
        wholes = set(_held_together(lookup, lookup.build_pieces[build.id]))
        for part in sorted(wholes | subs, key=sorted):
            packed = part in subs and rules.shock_factor >= rules.travel_factor
            if packed or part in told:
                continue
            if not _carries(lookup, part, rules.travel_factor):
                yield build.id, f"{_names(part)} must not travel as one, which is not told"
        for weak in build.weak:
            if frozenset(weak.pieces) not in wholes | subs:
                what = "neither a part of the whole nor a sub-assembly"
                yield build.id, f"{_names(weak.pieces)} is called weak, but is {what}"
            yield from _untrue(lookup, build, weak)


def _untrue(lookup: Lookup, build: PlanBuild, weak: Weak) -> Broken:
    """Yield what is said of a weak part and is not so."""
    rules, what = lookup.plan.rules, _names(weak.pieces)
    if weak.stands and not _carries(lookup, weak.pieces, rules.shelf_factor):
        yield build.id, f"{what} is said to stand on the shelf, but does not"
    inside = {joint.id: joint for joint in lookup.joints_in(weak.pieces)}
    for name in weak.open_joints:
        if name not in inside:
            yield build.id, f"{what} is to be opened at {name}, which is no joint of it"
        elif inside[name].fixed:
            yield build.id, f"{what} is to be opened at {name}, which must stay"
    openable = [name for name, joint in inside.items() if not joint.fixed]
    units = _held_together(lookup, weak.pieces, openable)
    if not weak.open_joints and any(len(unit) > 1 for unit in units):
        return
    for part in _held_together(lookup, weak.pieces, weak.open_joints):
        if not _carries(lookup, part, rules.travel_factor):
            yield build.id, f"{_names(part)} must not travel even once {what} is opened"


def _held_together(
    lookup: Lookup, pieces: Collection[str], opened: Collection[str] = ()
) -> Iterator[Part]:
    """Yield the sets of pieces that joints hold together which are not opened."""
    graph = nx.Graph()
    graph.add_nodes_from(piece for piece in pieces if piece in lookup.pieces)
    graph.add_edges_from(j.pieces for j in lookup.joints_in(pieces) if j.id not in opened)
    yield from map(frozenset, nx.connected_components(graph))


def _carries(lookup: Lookup, pieces: Collection[str], factor: int) -> bool:
    """Whether pieces carry so many times their weight in some way in which they may lie.

    A single piece always does: there is nothing to open.
    """
    known = [lookup.pieces[name] for name in sorted(pieces) if name in lookup.pieces]
    if len(known) < 2:
        return True
    joints = lookup.joints_in(piece.id for piece in known)
    ways = set(WayUp).intersection(*(piece.ways_up for piece in known))
    if any(joint.kind is JointKind.STACKED for joint in joints):
        ways &= {WayUp.UPRIGHT}
    return any(
        load_factor(known, joints, way, factor) >= factor * (1 - SLACK)
        for way in WayUp
        if way in ways
    )


def _names(pieces: Collection[str]) -> str:
    return ", ".join(sorted(pieces))
