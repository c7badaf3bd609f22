"""Whole jobs on small workspaces: every plan keeps every rule, and says truly what it reached."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packdown.errors import UsageError
from packdown.model import JointState, Plan, Prefer
from packdown.planning import plan_workspace
from packdown.verify import verify
from support import small


@given(seed=st.integers(0, 10**6), prefer=st.sampled_from(Prefer))
@settings(max_examples=25, deadline=None, derandomize=True)
def test_every_plan_of_a_random_workspace_keeps_every_rule(seed: int, prefer: Prefer) -> None:
    """Whatever the workspace and the preference, the verifier finds nothing broken."""
    plan = plan_workspace(small.random_workspace(seed), effort=3, seed=seed, prefer=prefer)
    assert verify(plan).violations == ()


@pytest.mark.parametrize("seed", range(3))
def test_same_seed_and_effort_give_the_same_plan(seed: int) -> None:
    """Two runs that are asked the same answer the same."""
    workspace = small.random_workspace(seed)
    first = plan_workspace(workspace, effort=4, seed=seed)
    assert plan_workspace(workspace, effort=4, seed=seed) == first


def test_one_container_for_everything_splits_nothing() -> None:
    """Where all stands assembled in one container, no joint is split and the effort is proved."""
    workspace = small.workspace(
        [small.row("row", 6), small.room("room")],
        small.loose(small.tile(), 8),
        [small.crate("big", 600, 500, 300)],
    )
    plan = plan_workspace(workspace, effort=2)
    assert plan.not_packed == ()
    assert plan.objective.joints_split == 0
    assert plan.bounds.effort_s.met


def test_a_long_row_is_split_no_more_than_it_must() -> None:
    """Six 60 mm tiles in a 200 mm tray make two runs of three: one joint of one key is split."""
    workspace = small.workspace([small.row("row", 6)], [], [small.crate("tray", 200, 150, 40)])
    plan = plan_workspace(workspace, effort=2)
    assert [len(sub) for sub in plan.builds[0].sub_assemblies] == [3, 3]
    assert plan.objective.joints_split == 1
    assert plan.objective.keys_freed == 1
    assert sum(item.keys for item in plan.items) == 1
    assert plan.builds[0].proved


def test_what_has_no_room_is_left_out_with_its_reason() -> None:
    """Ten thick tiles do not all go into a small tray; each one left out says why."""
    workspace = small.workspace(
        [], small.loose(small.tile(), 10), [small.crate("tray", 70, 70, 25)]
    )
    plan = plan_workspace(workspace, effort=2)
    assert len(plan.not_packed) == 7  # three layers of 8 mm in 25 mm
    assert all("no room left" in entry.reason for entry in plan.not_packed)
    assert verify(plan).ok


def test_larger_containers_split_fewer_joints() -> None:
    """The same row in ever longer trays is split ever less."""
    split = []
    for length in (70, 130, 200, 260, 400):
        workspace = small.workspace(
            [small.row("row", 6)],
            [],
            [small.crate(f"tray{n}", length, 100, 60) for n in range(2)],
        )
        plan = plan_workspace(workspace, effort=3)
        assert plan.not_packed == ()
        split.append(plan.objective.joints_split)
    assert split == sorted(split, reverse=True)
    assert (split[0], split[-1]) == (5, 0)


def test_joints_kept_on_request_are_never_split() -> None:
    """A row whose middle joint is kept is split beside it."""
    row = small.row("row", 4)
    middle = row.joints[1]
    kept = small.with_fixed(row, middle.id)
    workspace = small.workspace([kept], [], [small.crate("tray", 200, 150, 40)])
    plan = plan_workspace(workspace, effort=2)
    states = {joint.id: joint.state for joint in plan.builds[0].joints}
    assert plan.not_packed == ()
    assert states[middle.id] is JointState.KEPT
    assert verify(plan).ok


def test_only_chosen_containers_are_used() -> None:
    """A plan for one container leaves the others empty, and an unknown one is named."""
    crates = [small.crate("one", 300, 300, 100), small.crate("two", 300, 300, 100)]
    workspace = small.workspace([], small.loose(small.tile(), 4), crates)
    plan = plan_workspace(workspace, effort=1, containers=("two",))
    assert [container.id for container in plan.containers] == ["two"]
    with pytest.raises(UsageError) as caught:
        plan_workspace(workspace, effort=1, containers=("tow",))
    assert '"two"' in caught.value.hint


def test_a_stop_keeps_the_first_whole_answer() -> None:
    """Stopped at once, a plan still comes out, and it keeps every rule."""
    plan = plan_workspace(small.random_workspace(5), effort=50, stop=lambda: True)
    assert verify(plan).ok


def test_the_first_packing_can_be_finished_before_the_search_goes_on() -> None:
    """It is told once, is a plan that keeps every rule, and changes nothing of the answer."""
    workspace = small.random_workspace(5)
    told: list[Plan] = []
    plan = plan_workspace(workspace, effort=6, first=lambda finish: told.append(finish()))
    assert len(told) == 1
    assert verify(told[0]).ok
    assert plan == plan_workspace(workspace, effort=6)


def test_what_goes_into_no_container_does_not_cost_the_rest_its_joints() -> None:
    """A measured build larger than the tray is left out; the row beside it stays whole."""
    row = small.row("row", 3)
    whole = small.build_of("hulk", [(small.tile("slab", size=400, weight_g=900), (0, 0, 0), 0)])
    workspace = small.workspace([row, whole], [], [small.crate("tray", 300, 200, 60)])
    plan = plan_workspace(workspace, effort=6)
    assert [entry.item for entry in plan.not_packed] == ["hulk/p0"]
    assert "goes into none of the containers" in plan.not_packed[0].reason
    assert plan.objective.joints_split == 0
    assert not plan.bounds.containers.met
    assert verify(plan).ok


def test_a_container_that_stands_on_one_left_at_home_is_used_all_the_same() -> None:
    """Without the lower one of a stack the upper one simply stands on the ground."""
    lower = small.crate("lower", 300, 200, 60, stack_limit_g=5_000)
    upper = small.crate("upper", 300, 200, 60, stacked_on="lower")
    workspace = small.workspace([small.row("row", 3)], [], [lower, upper])
    plan = plan_workspace(workspace, effort=1, containers=("upper",))
    assert plan.not_packed == ()
    assert verify(plan).ok
