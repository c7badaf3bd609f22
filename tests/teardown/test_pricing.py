"""Sets of units that are worth more than they cost."""

from itertools import combinations
from random import Random

import networkx as nx
import pytest

from packdown.teardown.graph import graph_of
from packdown.teardown.pricing import SCALE, Window
from packdown.teardown.units import Units
from support.teardown_builds import random_build, row

ANY_WEIGHT = 10**6
PLACE = 10 * SCALE


def every_set(units: Units, prices: list[int]) -> dict[int, int]:
    """Return what each connected set of units is worth."""
    network = nx.Graph()
    network.add_nodes_from(range(units.count))
    network.add_edges_from(units.efforts)
    found = {}
    for size in range(1, units.count + 1):
        for chosen in combinations(range(units.count), size):
            if nx.is_connected(network.subgraph(chosen)):
                cut = sum(
                    effort
                    for pair, effort in units.efforts.items()
                    if len(set(pair) & set(chosen)) == 1
                )
                mask = sum(1 << unit for unit in chosen)
                found[mask] = sum(prices[unit] for unit in chosen) - SCALE * cut
    return found


@pytest.mark.parametrize("seed", range(12))
def test_the_dearest_set_is_found_and_never_above_the_bound(seed: int) -> None:
    """Of all connected sets that are light enough the thorough look finds the dearest.

    The quick one never finds more, and its bound is never below.
    """
    random = Random(seed)
    units = Units(graph_of(random_build(random, 9)), 200)
    payload = random.choice([300, 500, ANY_WEIGHT])
    prices = [random.randrange(60) * SCALE for _ in range(units.count)]
    worths = every_set(units, prices)

    def light(mask: int) -> bool:
        inner = sum(
            number for (a, b), number in units.keys.items() if mask >> a & 1 and mask >> b & 1
        )
        weight = sum(w for unit, w in enumerate(units.weights) if mask >> unit & 1)
        return weight + inner <= payload

    best = max(PLACE, *(worth for mask, worth in worths.items() if light(mask)))
    window = Window(units, (1 << units.count) - 1, payload, 1)
    by_pieces = {units.pieces(mask): mask for mask in worths}

    def whole(pieces: int) -> bool:
        return light(by_pieces[pieces])

    thorough = window.thorough(prices, PLACE, whole)
    quick = window.quick(prices, PLACE, whole)
    assert thorough.most == best
    assert max(thorough.masks.values(), default=PLACE) == best
    assert quick.most >= best
    assert all(worths[mask] == worth and light(mask) for mask, worth in quick.masks.items())


def test_a_set_that_cannot_stay_whole_gives_way_to_the_next() -> None:
    """Of four tiles worth 20 s each all are best: 80 s; if that must not be, three.

    Three are worth 60 s less the 7 s of one joint.
    """
    units = Units(graph_of(row(4)), 200)
    window = Window(units, 0b1111, ANY_WEIGHT, 1)
    prices = [20 * SCALE] * 4
    assert window.thorough(prices, PLACE, lambda _: True).masks[0b1111] == 80 * SCALE
    found = window.thorough(prices, PLACE, lambda mask: mask != 0b1111)
    assert found.most == max(found.masks.values()) == 53 * SCALE


def test_weight_has_its_price() -> None:
    """Of four tiles of 40 g worth 80 s a payload of 80 g takes no more than half.

    Half of them weigh 80 g without their key; the price of weight leaves them 40 s at most.
    """
    units = Units(graph_of(row(4)), 200)
    window = Window(units, 0b1111, 80, 1)
    found = window.quick([20 * SCALE] * 4, PLACE, lambda mask: mask.bit_count() < 2)
    assert found.most <= 40 * SCALE
    assert Window(units, 0b1111, 163, 1).quick([20 * SCALE] * 4, PLACE, bool).most == 80 * SCALE
