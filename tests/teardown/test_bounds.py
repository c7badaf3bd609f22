"""Lower bounds of the effort."""

from dataclasses import replace
from itertools import combinations
from random import Random

import networkx as nx
import pytest

from packdown.teardown import effort_bound
from packdown.teardown.bounds import _least_on_path, _LeastCuts, cut_bound
from packdown.teardown.graph import graph_of
from packdown.teardown.room import rooms_of
from packdown.teardown.units import Units
from support.teardown_builds import (
    RULES,
    SETTINGS,
    box,
    build_of,
    joint,
    random_build,
    row,
)

TOLERANCE = SETTINGS.joint_tolerance_um


def test_no_bound_where_all_fits() -> None:
    """A row that fits whole need not be split."""
    assert effort_bound(row(6), [box("a", 200, 40, 10)], SETTINGS, RULES) == 0


@pytest.mark.parametrize(("length", "effort"), [(91, 12), (90, 24), (59, 60)])
def test_a_row_is_bounded_exactly(length: int, effort: int) -> None:
    """Six tiles in boxes for three, for two and for one need 1, 2 and 5 cuts of 12 s."""
    assert effort_bound(row(6), [box("a", length, 40, 10)], SETTINGS, RULES) == effort


def test_weight_alone_asks_for_places() -> None:
    """Tiles of 240 g altogether ask for three boxes of 100 g: two more places, two joints.

    The bound by cuts sees two places and, of the joints, only what parts two heavy tiles: none.
    """
    build = row(6)
    rooms = rooms_of([box("a", 200, 40, 10, payload_g=100)], RULES)
    assert cut_bound(Units(graph_of(build), TOLERANCE), rooms, 5) == 2 * 5


def test_fixed_joints_are_never_cut() -> None:
    """With the first joint fixed and the second dear, the bound takes the dear one."""
    tiles = row(3).pieces
    joints = [joint("t0", "t1", effort_s=1, fixed=True), joint("t1", "t2", effort_s=50)]
    build = build_of(tiles, joints)
    assert effort_bound(build, [box("a", 70, 40, 10)], SETTINGS, RULES) == 55


def test_a_plan_that_cannot_be_still_gets_a_bound() -> None:
    """Two fixed tiles that fit nowhere leave the rest of the row with its own bound."""
    build = row(4)
    joints = tuple(replace(j, fixed=j.id == "b/t0+t1") for j in build.joints)
    fixed = replace(build, joints=joints)
    assert 0 < effort_bound(fixed, [box("a", 50, 40, 10)], SETTINGS, RULES) <= 2 * 12


def test_no_containers_no_bound() -> None:
    """Without containers nothing can be said."""
    assert effort_bound(row(3), [], SETTINGS, RULES) == 0


@pytest.mark.parametrize("seed", range(6))
def test_least_cuts_of_all_pairs_agree_with_networkx(seed: int) -> None:
    """The lightest edge on the tree's path is the least cut that networkx finds for each pair."""
    build = random_build(Random(seed), 9)
    units = Units(graph_of(build), TOLERANCE)
    cuts = _LeastCuts(units)
    tree = cuts.tree()
    network = nx.Graph()
    network.add_nodes_from(range(units.count))
    for (a, b), effort in units.efforts.items():
        network.add_edge(a, b, capacity=effort)
    for a, b in combinations(range(units.count), 2):
        least = nx.minimum_cut_value(network, a, b)
        assert _least_on_path(tree, a, b) == least == cuts.value([a], [b])


@pytest.mark.parametrize("seed", range(6))
def test_a_larger_box_never_raises_the_bound(seed: int) -> None:
    """What a box asks for, a larger one never exceeds."""
    build = random_build(Random(seed), 12)
    bounds = [
        effort_bound(build, [box("a", side, side, side)], SETTINGS, RULES) for side in (65, 95, 125)
    ]
    assert bounds == sorted(bounds, reverse=True)
