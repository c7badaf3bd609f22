"""How far a plan is from the least possible, in words."""

from collections.abc import Callable

from packdown.model import Plan, PlanBuild
from packdown.report.words import minutes_range
from packdown.units import format_litres, format_minutes, format_weight

__all__ = [
    "BOUNDS_NEED_ALL",
    "bound_words",
    "bounds_sentences",
    "build_bound",
    "fewest_joints",
]

BOUNDS_NEED_ALL = "Not compared with the least possible: that is known for plans that pack all."

_Row = tuple[str, str, int, int, Callable[[int], str]]


def bound_words(value: int, least: int, shown: str) -> str:
    """Say how far a figure can be from the least possible.

    Parameters
    ----------
    value, least
        The figure, and its lower bound.
    shown
        The difference in words.
    """
    return "proved least" if value <= least else f"at most {shown} more than necessary"


def bounds_sentences(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """Return what is counted, how much of it there is, and how far that is from the least.

    The last is empty where things are left out, since bounds are for plans that pack all.
    """
    have, least = plan.objective, plan.bounds
    rows: tuple[_Row, ...] = (
        ("Containers", str(have.containers), have.containers, least.containers.value, str),
        (
            "Inner volume",
            format_litres(have.volume_um3),
            have.volume_um3,
            least.volume_um3.value,
            format_litres,
        ),
        (
            "Weight",
            format_weight(have.weight_g),
            have.weight_g,
            least.weight_g.value,
            format_weight,
        ),
        *_joints(plan),
        (
            "Splitting and rebuilding",
            minutes_range(have.effort_low_s, have.effort_high_s),
            have.effort_s,
            least.effort_s.value,
            format_minutes,
        ),
    )
    return tuple(
        (what, shown, "" if plan.not_packed else bound_words(value, bound, style(value - bound)))
        for what, shown, value, bound, style in rows
    )


def build_bound(build: PlanBuild) -> str:
    """Say how far the work on a build is from the least it needs."""
    extra = format_minutes(build.effort_s - build.effort_bound_s)
    return bound_words(build.effort_s, build.effort_bound_s, extra)


def fewest_joints(build: PlanBuild) -> str:
    """Say how many joints every plan splits at least, where that is known."""
    return "" if build.joints_bound is None else str(build.joints_bound)


def _joints(plan: Plan) -> tuple[_Row, ...]:
    split, bound = plan.objective.joints_split, plan.bounds.joints_split
    return (("Joints split", str(split), split, bound.value, str),) if bound else ()
