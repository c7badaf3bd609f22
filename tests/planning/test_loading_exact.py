"""The search for loads against an exact model in CP-SAT (OR-Tools), on small random loads."""

import pytest

from packdown.model import LoadRules
from packdown.planning.loading import load
from support.exact_load import can_load
from support.loads import random_load

SEEDS = (2, 3, 8, 14, 18, 19, 20, 21, 22, 26)
WORK = 2.0


@pytest.mark.parametrize("seed", SEEDS[:5])
def test_the_model_allows_what_the_search_loads(seed: int) -> None:
    """Else its "no" would prove nothing: it must not be stricter than the rules."""
    space, cargo = random_load(seed)
    loading = load(space, cargo, effort=1)
    number = len(loading.loaded)
    inside = {place.container for place in loading.loaded}
    chosen = [one for one in cargo if one.id in inside]
    assert can_load(space, chosen, LoadRules(), number, WORK) == "yes"


def test_nine_of_ten_loads_are_as_full_as_can_be() -> None:
    """The model proves for at least nine of ten that no other set has one container more."""
    full = 0
    for seed in SEEDS:
        space, cargo = random_load(seed)
        loading = load(space, cargo, effort=3)
        one_more = len(loading.loaded) + 1
        full += can_load(space, cargo, LoadRules(), one_more, WORK) == "no"
    assert full >= 9


def test_more_than_there_is_cannot_be_loaded() -> None:
    """The model says no without being asked to search."""
    space, cargo = random_load(2)
    assert can_load(space, cargo, LoadRules(), len(cargo) + 1, WORK) == "no"
