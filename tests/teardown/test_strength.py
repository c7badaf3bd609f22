"""What holds in transit."""

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, product
from random import Random

import networkx as nx
import pytest

from packdown.geometry import WayUp, bounds, rests_on, rotated
from packdown.model import Build, JointKind
from packdown.teardown.graph import graph_of
from packdown.teardown.strength import hanging, holds
from support.teardown_builds import build_of, joint, mm, piece, random_build, row


def bridge(weight_g: int) -> Build:
    """Return a tower with three beams in a row at its top; the outer two hang free."""
    return build_of(
        [
            piece("tower", mm(0, 0, 0, 30, 30, 60), weight_g=900),
            *(
                piece(f"beam{i}", mm(30 * i, 0, 60, 30 * i + 30, 30, 70), weight_g=weight_g)
                for i in range(3)
            ),
        ],
        [joint("tower", "beam0", 2), joint("beam0", "beam1"), joint("beam1", "beam2")],
    )


@pytest.mark.parametrize(("weight_g", "held"), [(200, True), (201, False)])
def test_an_overhang_holds_up_to_what_its_joint_bears(weight_g: int, held: bool) -> None:  # noqa: FBT001
    """Two free beams of 200 g pull 3 x 400 = 1,200 g, just what the joint holds; 201 g is over."""
    graph = graph_of(bridge(weight_g))
    assert holds(graph, graph.all, WayUp.UPRIGHT, 3) is held
    assert holds(graph, graph.all, WayUp.UPRIGHT, 1)


def test_what_comes_off_is_named() -> None:
    """Of the beams that are too heavy those beyond the joint come off, not the one on the tower."""
    graph = graph_of(bridge(401))
    assert graph.ids(hanging(graph, graph.all, WayUp.UPRIGHT, 3)) == ("b/beam1", "b/beam2")


def test_a_glued_joint_never_parts() -> None:
    """A tile of 90 kg glued to the side of a post hangs safely."""
    build = build_of(
        [
            piece("post", mm(0, 0, 0, 30, 30, 60)),
            piece("slab", mm(30, 0, 30, 60, 30, 60), weight_g=90_000),
        ],
        [joint("post", "slab", kind=JointKind.GLUED, holds_g=None, fixed=True)],
    )
    graph = graph_of(build)
    assert holds(graph, graph.all, WayUp.UPRIGHT, 3)


def test_a_stacked_joint_holds_nothing_upside_down() -> None:
    """A short piece that lies on a tall one's shelf falls when turned over, whatever is claimed."""
    build = build_of(
        [
            piece("shelf", mm(0, 0, 0, 60, 30, 10), mm(0, 0, 10, 30, 30, 60)),
            piece("chest", mm(30, 0, 10, 60, 30, 30)),
        ],
        [joint("shelf", "chest", 2, kind=JointKind.STACKED, holds_g=5_000)],
    )
    graph = graph_of(build)
    assert holds(graph, graph.all, WayUp.UPRIGHT, 3)
    assert not holds(graph, graph.all, WayUp.UPSIDE_DOWN, 3)


@pytest.mark.parametrize(("chest_g", "held"), [(300, True), (301, False)])
def test_a_hanging_shelf_bears_what_lies_on_it(chest_g: int, held: bool) -> None:  # noqa: FBT001
    """A shelf of 100 g keyed to a post bears a chest of 300 g: the key holds 3 x 400 g."""
    build = build_of(
        [
            piece("post", mm(0, 0, 0, 30, 30, 60)),
            piece("shelf", mm(30, 0, 30, 60, 30, 40), weight_g=100),
            piece("chest", mm(30, 0, 40, 60, 30, 60), weight_g=chest_g),
        ],
        [joint("post", "shelf"), joint("shelf", "chest", 2, kind=JointKind.STACKED, holds_g=0)],
    )
    graph = graph_of(build)
    assert holds(graph, graph.all, WayUp.UPRIGHT, 3) is held


def test_a_row_on_its_end_rests_tile_on_tile() -> None:
    """Tiles in a row that stands on its left end carry each other and need no joint."""
    graph = graph_of(row(40))
    assert holds(graph, graph.all, WayUp.ON_LEFT, 1_000)


def _sets(names: list[str]) -> Iterator[frozenset[str]]:
    for count in range(1, len(names) + 1):
        for chosen in combinations(names, count):
            yield frozenset(chosen)


def _holds_by_every_set(build: Build, way: WayUp, shock: int) -> bool:
    """Try every set of pieces, on solids turned into the way up."""
    flat = [cuboid for piece in build.pieces for cuboid in piece.cuboids_um]
    turned = iter(rotated(flat, way, 0)[0])
    solids = {piece.id: [next(turned) for _ in piece.cuboids_um] for piece in build.pieces}
    weight = {piece.id: piece.weight_g for piece in build.pieces}
    stands = {name for name, solid in solids.items() if bounds(solid).z0 == 0}
    for chosen in _sets(list(solids)):
        carried = any(
            rests_on(solids[upper], solids[lower])
            for upper in chosen
            for lower in solids
            if lower not in chosen
        )
        if chosen & stands or carried:
            continue
        held = sum(
            joint.holds_g or 0
            for joint in build.joints
            if len(chosen & set(joint.pieces)) == 1 and joint.kind is not JointKind.STACKED
        )
        if shock * sum(weight[name] for name in chosen) > held:
            return False
    return True


def test_one_flow_agrees_with_trying_every_set() -> None:
    """The maximum flow gives the answer of all hanging sets, in all ways up of random builds."""
    answers: Counter[tuple[bool, bool]] = Counter()
    for seed in range(10):
        build = random_build(Random(seed), 7)
        graph = graph_of(build)
        for way, shock in product(WayUp, (1, 3, 8)):
            answer = holds(graph, graph.all, way, shock)
            assert answer == _holds_by_every_set(build, way, shock), (seed, way, shock)
            answers[way is WayUp.UPRIGHT, answer] += 1
    assert answers[False, True] > 20
    assert answers[False, False] > 20


@pytest.mark.parametrize("seed", range(12))
def test_the_least_cut_agrees_with_networkx(seed: int) -> None:
    """A general library finds as much flow in the full network, nothing settled beforehand."""
    build = random_build(Random(100 + seed), 14)
    graph = graph_of(build)
    for way, shock in product((WayUp.UPRIGHT, WayUp.ON_LEFT), (1, 3)):
        network = nx.DiGraph()
        flat = [cuboid for piece in build.pieces for cuboid in piece.cuboids_um]
        turned = dict(zip([p.id for p in build.pieces], rotated(flat, way, 0)[0], strict=True))
        for one in build.pieces:
            network.add_edge("weights", one.id, capacity=shock * one.weight_g)
            if turned[one.id].z0 == 0:
                network.add_edge(one.id, "table")
            for two in build.pieces:
                if rests_on([turned[one.id]], [turned[two.id]]):
                    network.add_edge(one.id, two.id)
        for edge in build.joints:
            if edge.kind is not JointKind.STACKED:
                for a, b in (edge.pieces, edge.pieces[::-1]):
                    if not network.has_edge(a, b):
                        network.add_edge(a, b, capacity=edge.holds_g)
        network.add_node("table")
        through = nx.maximum_flow_value(network, "weights", "table")
        needed = shock * sum(piece.weight_g for piece in build.pieces)
        assert holds(graph, graph.all, way, shock) == (through == needed)
