"""Builds as graphs."""

from dataclasses import replace
from random import Random

import networkx as nx
import pytest

from packdown.geometry import Direction
from packdown.teardown.graph import BuildGraph, bits, graph_of
from support.teardown_builds import build_of, joint, mm, piece, random_build, row


def test_bits_are_listed_from_the_lowest() -> None:
    """A mask of pieces 0, 2 and 5 lists just these."""
    assert list(bits(0b100101)) == [0, 2, 5]


def test_a_row_has_seams_between_its_tiles_as_planes() -> None:
    """Three tiles have two planes, with one and two tiles below them."""
    assert BuildGraph(row(3)).planes == (0b001, 0b011)


def test_contacts_are_known_for_each_side_that_may_be_down() -> None:
    """A wall on a floor lies on it upright, and carries it upside down."""
    build = build_of(
        [piece("floor", mm(0, 0, 0, 60, 60, 6)), piece("wall", mm(0, 0, 6, 60, 6, 60))]
    )
    lies_on = graph_of(build).lies_on
    assert (lies_on[Direction.DOWN], lies_on[Direction.UP]) == ([0, 0b01], [0b10, 0])
    assert lies_on[Direction.LEFT] == [0, 0]


def test_fixed_joints_make_units() -> None:
    """Of three tiles the last two, never to be split, are one unit."""
    build = row(3)
    fixed = replace(build, joints=(build.joints[0], joint("t1", "t2", fixed=True)))
    assert graph_of(fixed).units == [0b001, 0b110]


@pytest.mark.parametrize("seed", range(10))
def test_components_agree_with_networkx(seed: int) -> None:
    """The parts of random subsets that joints hold together are those networkx finds."""
    random = Random(seed)
    build = random_build(random, 12)
    graph = graph_of(build)
    whole = nx.Graph([joint.pieces for joint in build.joints])
    whole.add_nodes_from(piece.id for piece in build.pieces)
    mask = random.getrandbits(12) | 1
    found = {frozenset(graph.ids(part)) for part in graph.components(mask)}
    assert found == {frozenset(p) for p in nx.connected_components(whole.subgraph(graph.ids(mask)))}
    assert graph.is_connected(mask) == (len(found) == 1)
