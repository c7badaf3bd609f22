"""Transit strength against its definition: no set of pieces that hangs pulls its joints apart."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from packdown.geometry import Cuboid, WayUp, bounds, disjoint_union, overlap, rests_on, rotated
from packdown.model import Item, ItemKind, Joint, JointKind, Piece, Plan, PlanBuild
from packdown.teardown.graph import graph_of
from packdown.teardown.strength import holds
from packdown.verify import RULES
from packdown.verify.lookup import Lookup
from support.making import container, item, joint, piece, place
from support.plans import GOOD
from support.solids import cuboids
from support.teardown_builds import undermined

SHOCK = 3


def _plan(pieces: list[Piece], joints: list[Joint], way_up: WayUp) -> Plan:
    """Return a plan with one sub-assembly of a build, right as far as its strength needs."""
    solid = disjoint_union(cuboid for one in pieces for cuboid in one.cuboids_um)
    low = bounds(solid)
    whole: Item = item(
        "whole",
        tuple(one.id for one in pieces),
        1,
        *(c.moved(-low.x0, -low.y0, -low.z0) for c in solid),
        kind=ItemKind.SUB_ASSEMBLY,
        build="stack",
    )
    build = PlanBuild(
        id="stack",
        name="Stack",
        joints=tuple(joints),
        sub_assemblies=(whole.pieces,),
        effort_s=0,
        effort_bound_s=0,
        proved=True,
    )
    box = container("box", (100, 100, 100), place(whole, (2, 2, 0), way_up))
    return replace(GOOD, pieces=tuple(pieces), items=(whole,), containers=(box,), builds=(build,))


@st.composite
def _sub_assemblies(draw: st.DrawFn) -> tuple[list[Piece], list[Joint], WayUp]:
    """Return up to five pieces that share no volume, with joints between some of them."""
    solids: list[Cuboid] = []
    for cuboid in draw(st.lists(cuboids(reach=4), min_size=1, max_size=6)):
        if not overlap([cuboid], solids):
            solids.append(cuboid)
    pieces = [
        piece(f"p{number}", draw(st.integers(1, 9)), solid, build="stack")
        for number, solid in enumerate(solids)
    ]
    possible = list(combinations(range(len(pieces)), 2))
    pairs = draw(st.lists(st.sampled_from(possible), max_size=6)) if possible else []
    joints = [
        replace(
            joint(JointKind.MAGNETIC, (f"p{a}", f"p{b}"), 0, 0, 0, 1),
            id=f"j{number}",
            holds_g=draw(st.one_of(st.none(), st.integers(0, 60))),
        )
        for number, (a, b) in enumerate(pairs)
    ]
    return pieces, joints, draw(st.sampled_from(WayUp))


def _hanging_sets(pieces: list[Piece], way_up: WayUp) -> Iterator[set[str]]:
    """Yield every set of which no piece stands on the lowest level or on a piece outside."""
    whole = [one.cuboids_um[0] for one in pieces]
    placed, _ = rotated(whole, way_up, 0)
    turned = {one.id: [cuboid] for one, cuboid in zip(pieces, placed, strict=True)}
    standing = {name for name, solid in turned.items() if bounds(solid).z0 == 0}
    for count in range(1, len(pieces) + 1):
        for chosen in combinations(turned, count):
            inside = set(chosen)
            outside = [cuboid for name in turned.keys() - inside for cuboid in turned[name]]
            if not inside & standing and not any(rests_on(turned[n], outside) for n in inside):
                yield inside


def _holds(pieces: list[Piece], joints: list[Joint], way_up: WayUp) -> bool:
    weight = {one.id: one.weight_g for one in pieces}
    for hanging in _hanging_sets(pieces, way_up):
        crossing = [j.holds_g for j in joints if len(hanging & {*j.pieces}) == 1]
        held = [grams for grams in crossing if grams is not None]
        if len(held) == len(crossing) and SHOCK * sum(weight[n] for n in hanging) > sum(held):
            return False
    return True


@settings(max_examples=300, deadline=None)
@given(_sub_assemblies())
def test_flow_agrees_with_every_hanging_set(case: tuple[list[Piece], list[Joint], WayUp]) -> None:
    """The flow finds fault exactly where some set of hanging pieces is too heavy for its joints."""
    check = next(rule.check for rule in RULES if rule.name == "transit strength")
    broken = list(check(Lookup(_plan(*case))))
    assert bool(broken) != _holds(*case)


def test_the_verifier_agrees_with_the_solver_on_moments() -> None:
    """Written twice, the rules of forces and moments give one answer in all ways up."""
    names = ("transit strength", "leverage")
    rules = [rule.check for rule in RULES if rule.name in names]
    answers: Counter[tuple[bool, bool]] = Counter()
    for seed in range(40):
        build = undermined(Random(seed))
        weak = [
            replace(j, holds_g=3 * (j.holds_g or 0), bends_mnm=(j.bends_mnm or 0) // 10)
            for j in build.joints
        ]
        build = replace(build, joints=tuple(weak))
        graph = graph_of(build)
        for way in WayUp:
            lookup = Lookup(_plan(list(build.pieces), list(build.joints), way))
            by_forces, by_moments = (not list(check(lookup)) for check in rules)
            answer = holds(graph, graph.all, way, SHOCK)
            assert answer == (by_forces and by_moments), (seed, way)
            answers[by_forces, by_moments] += 1
    assert answers[True, False] > 5
    assert answers[True, True] > 10
