"""What the plan costs, added up anew."""

from collections.abc import Iterator

from packdown.model import Bound, JointState, PlanBuild
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken

__all__ = [
    "bounds_hold",
    "build_efforts_add_up",
    "objective_adds_up",
    "proofs_are_true",
]


def _effort_s(lookup: Lookup, build: PlanBuild) -> int:
    split = sum(joint.effort_s for joint in build.joints if joint.state is JointState.SPLIT)
    return split + lookup.plan.rules.place_s * max(0, len(build.sub_assemblies) - 1)


def build_efforts_add_up(lookup: Lookup) -> Broken:
    """Yield builds whose effort is not that of their split joints and sub-assemblies.

    Where straight cuts were taken for the keys they spare, what is said of them must be so.
    """
    for build in lookup.plan.builds:
        effort = _effort_s(lookup, build)
        if build.effort_s != effort:
            yield build.id, f"states an effort of {build.effort_s} s, it is {effort} s"
        if build.straight:
            keys = sum(s.keys_first for s in lookup.plan.steps.take_down if s.build == build.id)
            if keys != build.straight.keys_in_place:
                yield (
                    build.id,
                    f"states {build.straight.keys_in_place} keys pulled in place of {keys}",
                )
            if build.straight.least_s < build.effort_bound_s:
                least, bound = build.straight.least_s, build.effort_bound_s
                yield build.id, f"states a split of {least} s, below the bound of {bound} s"


def objective_adds_up(lookup: Lookup) -> Broken:
    """Yield figures of the objective that differ from what the plan adds up to."""
    plan, stated = lookup.plan, lookup.plan.objective
    effort = sum(_effort_s(lookup, build) for build in plan.builds)
    split = [j for build in plan.builds for j in build.joints if j.state is JointState.SPLIT]
    used = [load for load in lookup.loads if load.items]
    for what, figure, true, unit in (
        ("effort", stated.effort_s, effort, "s"),
        ("joints split", stated.joints_split, len(split), "joints"),
        ("keys freed", stated.keys_freed, sum(joint.keys for joint in split), "keys"),
        ("containers", stated.containers, len(used), "containers"),
        ("volume", stated.volume_um3, sum(load.container.volume_um3 for load in used), "um3"),
        ("weight", stated.weight_g, sum(load.gross_g for load in used), "g"),
    ):
        if figure != true:
            yield what, f"states {figure} {unit}, it is {true} {unit}"
    for what, figure, factor in (
        ("shortest effort", stated.effort_low_s, plan.rules.effort_low),
        ("longest effort", stated.effort_high_s, plan.rules.effort_high),
    ):
        if not abs(figure - effort * factor) <= 1:
            yield what, f"states {figure} s, it is {effort * factor:.1f} s"


def _bounds(lookup: Lookup) -> Iterator[tuple[str, int, Bound]]:
    objective, bounds = lookup.plan.objective, lookup.plan.bounds
    yield "effort_s", objective.effort_s, bounds.effort_s
    yield "containers", objective.containers, bounds.containers
    yield "volume_um3", objective.volume_um3, bounds.volume_um3
    yield "weight_g", objective.weight_g, bounds.weight_g
    if bounds.joints_split is not None:
        yield "joints_split", objective.joints_split, bounds.joints_split


def bounds_hold(lookup: Lookup) -> Broken:
    """Yield bounds above the objective, and bounds that are not met as they say.

    A plan that leaves something out may cost less than any that packs everything: it may lie
    below the bounds and meets none.
    """
    complete = not lookup.plan.not_packed
    for what, figure, bound in _bounds(lookup):
        if complete and bound.value > figure:
            yield what, f"the bound {bound.value} is above the plan's {figure}"
        elif bound.met != (complete and figure == bound.value):
            said = "met" if bound.met else "not met"
            yield what, f"the bound {bound.value} is said to be {said}, the plan has {figure}"


def proofs_are_true(lookup: Lookup) -> Broken:
    """Yield builds that lie below a bound, or are wrongly said to be proved least."""
    for build in lookup.plan.builds:
        split = sum(joint.state is JointState.SPLIT for joint in build.joints)
        if build.joints_bound is not None and split < build.joints_bound:
            yield build.id, f"splits {split} joints, fewer than its bound {build.joints_bound}"
        if build.effort_s < build.effort_bound_s:
            yield (
                build.id,
                f"effort {build.effort_s} s is below its bound {build.effort_bound_s} s",
            )
        elif build.proved != (build.effort_s == build.effort_bound_s):
            said = "proved" if build.proved else "not proved"
            yield (
                build.id,
                f"is said to be {said}: effort {build.effort_s} s, bound {build.effort_bound_s} s",
            )
