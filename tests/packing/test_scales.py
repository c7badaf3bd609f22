"""Dual feasible functions: what fits side by side still does when it is scaled."""

import numpy as np
import pytest

from packdown.packing.bounds.scales import FAMILIES, Family, Scale
from packdown.packing.bounds.tightest import NUMBER


def most_worth(values: list[int], side: int) -> int:
    """Return the most that lengths 1, 2, ... of some values are worth on a side, by trying all."""
    best = [0] * (side + 1)
    for room in range(1, side + 1):
        best[room] = max(best[room - length] + values[length - 1] for length in range(1, room + 1))
    return best[side]


@pytest.mark.parametrize("family", [*FAMILIES, NUMBER], ids=lambda family: family.rule.__name__)
@pytest.mark.parametrize("side", [1, 2, 7, 12, 30, 37])
def test_no_lengths_that_fit_are_worth_more_than_the_side(family: Family, side: int) -> None:
    """Over all multisets of lengths that fit, none is scaled to more than the scaled side."""
    lengths = np.arange(1, side + 1)
    for parameter in family.parameters(lengths, side):
        scale = Scale(family.rule, int(parameter))
        values = scale(lengths, side).tolist()
        assert min(values) >= 0
        assert values[-1] == scale.of(side) > 0
        assert most_worth(values, side) == scale.of(side)


def test_scaling_proves_what_volume_does_not() -> None:
    """Five lengths of 3 need three sides of 8: two fit on one, so each counts for half of it.

    By length alone 5 * 3 / 8 rounds up to 2.
    """
    family = next(family for family in FAMILIES if family.rule.__name__ == "steps")
    _, table = family.table(np.array([3]), 8)
    assert 5 * table.max() > 2
