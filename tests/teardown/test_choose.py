"""Choosing among known sub-assemblies."""

from packdown.teardown.choose import choose
from packdown.teardown.graph import graph_of
from support.teardown_builds import row


def test_the_cheapest_exact_cover_is_chosen() -> None:
    """Of overlapping sets on four tiles two halves are best, for one joint and place only."""
    graph = graph_of(row(4))
    singles = [0b0001, 0b0010, 0b0100, 0b1000]
    assert sorted(choose(graph, [0b0011, 0b0110, 0b1100], singles, 5)) == [0b0011, 0b1100]


def test_what_is_known_is_kept_where_nothing_is_better() -> None:
    """A set that leaves a tile uncovered is of no use."""
    graph = graph_of(row(3))
    assert sorted(choose(graph, [0b101], [0b011, 0b100], 5)) == [0b011, 0b100]
