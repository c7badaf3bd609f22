"""Sets of units that a few minimum cuts find."""

from random import Random

import networkx as nx
import pytest

from packdown.teardown.frontier import SCALE
from packdown.teardown.graph import graph_of
from packdown.teardown.pricing import Window
from packdown.teardown.units import Units
from support.teardown_builds import random_build, row
from support.unit_sets import every_set

ANY_WEIGHT = 10**6
PLACE = 10 * SCALE


def weight_of(units: Units, mask: int) -> int:
    """Return the weight of a set with keys of 1 g in its joints."""
    inner = sum(n for (a, b), n in units.keys.items() if mask >> a & 1 and mask >> b & 1)
    return inner + sum(w for unit, w in enumerate(units.weights) if mask >> unit & 1)


@pytest.mark.parametrize("seed", range(12))
def test_no_set_is_above_the_bound(seed: int) -> None:
    """No joined set that is light enough is worth more than told, and all that are found are such.

    Worth is counted over every set by networkx.
    """
    random = Random(seed)
    units = Units(graph_of(random_build(random, 9)), 200)
    payload = random.choice([300, 500, ANY_WEIGHT])
    prices = [random.randrange(60) * SCALE for _ in range(units.count)]
    worths = every_set(units, prices)
    light = {mask: worth for mask, worth in worths.items() if weight_of(units, mask) <= payload}
    window = Window(units, (1 << units.count) - 1, payload, 1)
    found = window.best(prices, PLACE, lambda mask: mask in light)
    assert found.most >= max(PLACE, *light.values())
    assert all(light[mask] == worth > PLACE for mask, worth in found.masks.items())


@pytest.mark.parametrize("seed", range(12))
def test_the_best_set_by_size_alone_is_a_minimum_cut(seed: int) -> None:
    """What is gained less what is cut agrees with the minimum cut that networkx finds."""
    random = Random(100 + seed)
    units = Units(graph_of(random_build(random, 14)), 200)
    prices = [random.randrange(40) * SCALE for _ in range(units.count)]
    network = nx.DiGraph()
    for unit, price in enumerate(prices):
        network.add_edge("source", unit, capacity=price)
        network.add_edge(unit, "sink", capacity=0)
    for (a, b), effort in units.efforts.items():
        network.add_edge(a, b, capacity=effort * SCALE)
        network.add_edge(b, a, capacity=effort * SCALE)
    most = sum(prices) - nx.minimum_cut_value(network, "source", "sink")
    window = Window(units, (1 << units.count) - 1, ANY_WEIGHT, 1)
    assert window.best(prices, -1, lambda _: True).most == most


@pytest.mark.parametrize("seed", range(6))
def test_parts_of_sets_agree_with_networkx(seed: int) -> None:
    """What joints hold together is what networkx finds connected."""
    random = Random(200 + seed)
    units = Units(graph_of(random_build(random, 14)), 200)
    network = nx.Graph()
    network.add_nodes_from(range(units.count))
    network.add_edges_from(units.efforts)
    for _ in range(20):
        mask = random.randrange(1, 1 << units.count)
        members = [unit for unit in range(units.count) if mask >> unit & 1]
        parts = nx.connected_components(network.subgraph(members))
        assert set(units.joined(mask)) == {sum(1 << unit for unit in part) for part in parts}


def test_weight_has_its_price() -> None:
    """Of four tiles of 40 g worth 80 s a payload of 80 g takes no more than half.

    Half of them weigh 80 g without their key; the price of weight leaves them 40 s at most.
    """
    units = Units(graph_of(row(4)), 200)
    prices = [20 * SCALE] * 4
    few = Window(units, 0b1111, 80, 1).best(prices, PLACE, lambda mask: mask.bit_count() < 2)
    assert few.most <= 40 * SCALE
    assert Window(units, 0b1111, 163, 1).best(prices, PLACE, bool).most == 80 * SCALE
