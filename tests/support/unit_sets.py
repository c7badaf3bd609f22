"""Every joined set of units of a small build, the plain way."""

from collections.abc import Sequence
from itertools import combinations

import networkx as nx

from packdown.teardown.frontier import SCALE
from packdown.teardown.units import Units

__all__ = ["every_set"]


def every_set(units: Units, prices: Sequence[int]) -> dict[int, int]:
    """Return what each connected set of units is worth: its prices less the joints at its edge."""
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
