"""From the best state of a search to a plan."""

from collections.abc import Sequence
from dataclasses import fields, replace

from packdown import __version__, teardown
from packdown.model import (
    Bound,
    Bounds,
    Build,
    Container,
    Item,
    JointState,
    Objective,
    PackedContainer,
    Plan,
    PlanBuild,
    Prefer,
    Step,
    Steps,
)
from packdown.packing.bounds import container_bounds
from packdown.planning.job import Job, SubAssembly, joint_states
from packdown.planning.reasons import reason_for
from packdown.planning.state import State
from packdown.planning.work import work_steps

__all__ = ["plan_of"]


def plan_of(
    job: Job, state: State, *, prefer: Prefer, seed: int, effort: int, draft: bool = False
) -> Plan:
    """Return the plan of a state, with its steps, its objective and the bounds of the job.

    A draft says nothing of weak parts and has bounds of 0: it is found several times faster.
    """
    builds = tuple(
        _plan_build(job, build, state.partition[build.id], draft=draft) for build in job.builds
    )
    containers = _packed(job.containers, state)
    left = set(state.packing.unpacked)
    take_down, rebuild = work_steps(job, state, containers)
    builds = tuple(_with_keys_in_place(build, take_down) for build in builds)
    objective = _objective(job, state.items, builds, containers)
    return Plan(
        created_with=__version__,
        workspace=job.workspace.name,
        seed=seed,
        effort=effort,
        prefer=prefer,
        rules=job.rules,
        pieces=(*(piece for build in job.builds for piece in build.pieces), *job.workspace.loose),
        items=state.items,
        containers=containers,
        builds=builds,
        not_packed=tuple(
            reason_for(item, job.containers, job.rules) for item in state.items if item.id in left
        ),
        steps=Steps(take_down=take_down, rebuild=rebuild),
        objective=objective,
        bounds=NO_BOUNDS if draft else _bounds(job, builds, objective, complete=not left),
    )


NO_BOUNDS = Bounds(
    **dict.fromkeys(("effort_s", "containers", "volume_um3", "weight_g"), Bound(value=0, met=False))
)


def _plan_build(job: Job, build: Build, subs: tuple[SubAssembly, ...], *, draft: bool) -> PlanBuild:
    states = joint_states(build, subs)
    effort = teardown.effort_of(build, subs, job.rules.place_s)
    plain = PlanBuild(
        id=build.id,
        name=build.name,
        joints=tuple(replace(joint, state=states[joint.id]) for joint in build.joints),
        sub_assemblies=subs,
        effort_s=effort,
        effort_bound_s=0,
        proved=effort == 0,
    )
    if draft:
        return plain
    straight, spared = job.straight.get(build.id, ((), None))
    asked = (build, job.containers, job.settings, job.rules)
    bound = teardown.effort_bound(*asked)
    return replace(
        plain,
        effort_bound_s=bound,
        proved=effort == bound,
        weak=teardown.weak_parts(build, subs, job.settings, job.workspace.key_weight_g),
        joints_bound=teardown.joints_bound(*asked),
        straight=spared if subs == straight else None,
    )


def _with_keys_in_place(build: PlanBuild, take_down: Sequence[Step]) -> PlanBuild:
    """Say how many keys the steps of straight cuts pull in place; nothing if that spares none."""
    if build.straight is None:
        return build
    pulled = sum(step.keys_first for step in take_down if step.build == build.id)
    spares = pulled < build.straight.least_keys_in_place
    return replace(
        build, straight=replace(build.straight, keys_in_place=pulled) if spares else None
    )


def _packed(containers: tuple[Container, ...], state: State) -> tuple[PackedContainer, ...]:
    fills = {fill.container: fill.placements for fill in state.packing.fills}
    return tuple(
        PackedContainer(
            **{entry.name: getattr(container, entry.name) for entry in fields(Container)},
            fill=fills.get(container.id, ()),
        )
        for container in containers
    )


def _objective(
    job: Job,
    items: tuple[Item, ...],
    builds: tuple[PlanBuild, ...],
    containers: tuple[PackedContainer, ...],
) -> Objective:
    split = [j for build in builds for j in build.joints if j.state is JointState.SPLIT]
    effort = sum(build.effort_s for build in builds)
    used = [container for container in containers if container.fill]
    weight = {item.id: item.weight_g for item in items}
    return Objective(
        effort_s=effort,
        effort_low_s=round(effort * job.rules.effort_low),
        effort_high_s=round(effort * job.rules.effort_high),
        joints_split=len(split),
        keys_freed=sum(joint.keys for joint in split),
        containers=len(used),
        volume_um3=sum(container.volume_um3 for container in used),
        weight_g=sum(c.tare_g + sum(weight[p.item] for p in c.fill) for c in used),
    )


def _bounds(
    job: Job, builds: tuple[PlanBuild, ...], objective: Objective, *, complete: bool
) -> Bounds:
    """Return lower bounds for plans that pack everything; none is met by one that does not."""
    pieces = [piece for build in job.builds for piece in build.pieces]
    least = container_bounds((*pieces, *job.workspace.loose), job.containers, job.rules)

    def bound(value: int, reached: int) -> Bound:
        return Bound(value=value, met=complete and value == reached)

    return Bounds(
        effort_s=bound(sum(build.effort_bound_s for build in builds), objective.effort_s),
        containers=bound(least.containers, objective.containers),
        volume_um3=bound(least.volume_um3, objective.volume_um3),
        weight_g=bound(least.weight_g, objective.weight_g),
        joints_split=bound(sum(b.joints_bound or 0 for b in builds), objective.joints_split),
    )
