"""What the search takes off for a repair never tears a cluster, and rests on nothing missing."""

import numpy as np

from packdown.packing.construct import construct
from packdown.packing.kinds import kinds_of
from packdown.packing.recipes import recipe
from packdown.packing.search import Search
from support.packing_problems import block, crate, problem


def test_taking_off_the_last_tears_no_cluster() -> None:
    """However many are taken off, of a cluster all stay or none."""
    items = [block(f"item-{n}", (10, 10, 10 + n)) for n in range(6)]
    asked = problem(
        items,
        [crate("box", (30, 20, 20))],
        keep_together=(("item-1", "item-4"), ("item-0", "item-2")),
    )
    kinds = kinds_of(asked)
    rows = construct(kinds, 0, kinds.counts, recipe(kinds, np.ones(6), 0, 0))
    assert len(rows) == 6
    lengths = set()
    for seed in range(40):
        kept = Search(kinds, seed, lambda: False)._lifted(rows)
        names = {kinds.items[kind][0].id for kind in kept[:, 0].tolist()}
        assert kept.tolist() == rows[: len(kept)].tolist()
        assert len(names & {"item-1", "item-4"}) != 1
        assert len(names & {"item-0", "item-2"}) != 1
        lengths.add(len(kept))
    assert len(lengths) > 1
