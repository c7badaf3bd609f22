"""The main job on the example: what fits, what is split, and what larger containers change."""

from dataclasses import replace

import pytest

from packdown.geometry import bounds
from packdown.model import Container, ItemKind, Plan, Prefer, Workspace
from packdown.planning import plan_workspace
from packdown.verify import verify

EFFORT = 4


def with_containers(works: Workspace, containers: tuple[Container, ...], limit_g: int) -> Workspace:
    """Return the example with other containers and another limit of their weight."""
    settings = replace(works.settings, weight_limit_g=limit_g)
    return replace(works, containers=containers, settings=settings)


def enlarged(container: Container, percent: int) -> Container:
    """Return a container with a larger inside, that stands alone and may hold more."""
    length, width, height = (side * percent // 100 for side in container.inner_um)
    inner = (length, width, height)
    return replace(
        container,
        inner_um=inner,
        outer_um=inner,
        payload_g=100_000,
        stacked_on=None,
        stack_limit_g=None,
    )


@pytest.fixture(scope="module")
def plan(works: Workspace) -> Plan:
    """Return a plan of the example as it ships."""
    return plan_workspace(works, effort=EFFORT)


def test_the_example_is_packed_whole_and_every_rule_is_kept(plan: Plan) -> None:
    """Nothing is left out, at least four containers are used, and some joints are split."""
    assert plan.not_packed == ()
    assert verify(plan).violations == ()
    assert plan.objective.containers >= 4
    assert plan.objective.joints_split > 0


def test_bounds_stay_below_the_plan_and_split_builds_show_their_gap(plan: Plan) -> None:
    """The beacon is taller and the causeway longer than any container: both bounds say so."""
    bound = {build.id: build.effort_bound_s for build in plan.builds}
    assert bound["beacon"] > 0
    assert bound["causeway"] > 0
    assert plan.bounds.containers.value >= 4
    assert plan.bounds.effort_s.value <= plan.objective.effort_s


def test_larger_containers_split_fewer_joints(works: Workspace, plan: Plan) -> None:
    """With every side half as long again, fewer joints of the same builds are split."""
    larger = tuple(enlarged(container, 150) for container in works.containers)
    wide = plan_workspace(with_containers(works, larger, 100_000), effort=1, prefer=Prefer.REBUILD)
    assert wide.not_packed == ()
    assert verify(wide).ok
    assert wide.objective.joints_split < plan.objective.joints_split
    assert wide.objective.effort_s < plan.objective.effort_s


def test_one_container_for_everything_splits_no_joint(works: Workspace) -> None:
    """A container that holds all builds as they stand proves that nothing need be split.

    The pieces that are to be kept apart are the one thing that a single container cannot do.
    """
    hall = enlarged(works.containers[0], 100)
    side = (1_600_000, 1_200_000, 700_000)
    hall = replace(hall, id="hall", inner_um=side, outer_um=side)
    hall_alone = replace(with_containers(works, (hall,), 1_000_000), keep_apart=())
    whole = plan_workspace(hall_alone, effort=1)
    assert whole.not_packed == ()
    assert verify(whole).ok
    assert whole.objective.joints_split == 0
    assert whole.bounds.effort_s.met


def test_small_pieces_lie_in_the_hollows_of_rooms(plan: Plan) -> None:
    """Some loose piece lies within the bounding box of a room it does not touch from above."""
    inside = 0
    for container in plan.containers:
        kinds = {item.id: item.kind for item in plan.items}
        for room in container.fill:
            if kinds[room.item] is not ItemKind.SUB_ASSEMBLY or len(room.cuboids_um) == 1:
                continue
            box = bounds(room.cuboids_um)
            for other in container.fill:
                if other is room:
                    continue
                inside += bounds(other.cuboids_um).overlaps(box)
    assert inside > 0
