"""Payloads of containers that are carried on each other."""

from dataclasses import replace

import pytest

from packdown.model import usable_payloads
from support.making import container
from support.plans import RULES


def test_stack_shares_what_the_lowest_bears() -> None:
    """Two containers on one that bears 1,000 g may hold half of it each, less their tares."""
    low = container("low", (50, 50, 50), stack_limit_g=1_000)
    on_it = [replace(container(name, (50, 50, 50)), stacked_on="low") for name in ("a", "b")]
    # (1,000 - 2 x 200) / 2 = 300 g each.
    assert usable_payloads([low, *on_it], RULES) == {"low": 2_000, "a": 300, "b": 300}


@pytest.mark.parametrize("ring", [("a",), ("a", "b"), ("a", "b", "c")])
def test_ring_is_refused(ring: tuple[str, ...]) -> None:
    """Containers that stand on each other in a ring are misuse, and do not run for ever."""
    below = dict(zip(ring, ring[1:] + ring[:1], strict=True)) | {"top": ring[0]}
    boxes = [replace(container(n, (50, 50, 50)), stacked_on=below[n]) for n in ("top", *ring)]
    with pytest.raises(ValueError, match="stands on itself"):
        usable_payloads(boxes, RULES)
