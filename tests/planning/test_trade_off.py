"""Plans to choose from: each keeps every rule, and none is better in everything."""

from itertools import pairwise

import pytest

from packdown.model import Plan, Prefer
from packdown.planning import plan_workspace, trade_off
from packdown.verify import verify
from support import small


def _weights(plan: Plan) -> tuple[int, int, int]:
    own = plan.objective
    return (own.containers, own.volume_um3, own.effort_s)


@pytest.mark.parametrize("seed", range(6))
def test_none_is_better_in_everything(seed: int) -> None:
    """Fewest containers come first; only what fits nowhere on its own is left out."""
    plans = trade_off(small.random_workspace(seed), effort=4, seed=seed)
    weights = [_weights(plan) for plan in plans]
    assert weights == sorted(set(weights))
    for one in weights:
        assert not any(
            other != one and all(a <= b for a, b in zip(other, one, strict=True))
            for other in weights
        )
    for plan in plans:
        assert verify(plan).ok
        assert all("none of the containers" in left.reason for left in plan.not_packed)


def test_somewhere_there_is_a_choice() -> None:
    """In one of these workspaces a container less costs joints, and each gain has its price."""
    fronts = [trade_off(small.random_workspace(seed), effort=6, seed=seed) for seed in range(5)]
    assert any(len(plans) > 1 for plans in fronts)
    for plans in fronts:
        for one, two in pairwise(plans):
            assert two.objective.containers >= one.objective.containers


def test_no_choice_is_worse_than_the_plan_of_its_preference() -> None:
    """The plan that spares most effort, and the one that spares boxes, are among the choices."""
    workspace = small.random_workspace(3)
    plans = trade_off(workspace, effort=6, seed=0)
    for prefer, key in ((Prefer.REBUILD, 2), (Prefer.BOXES, 0)):
        alone = plan_workspace(workspace, effort=6, seed=0, prefer=prefer)
        assert min(_weights(plan)[key] for plan in plans) <= _weights(alone)[key]


def test_the_same_twice() -> None:
    """A number means the same plan the next time."""
    workspace = small.random_workspace(7)
    assert trade_off(workspace, effort=3) == trade_off(workspace, effort=3)
