"""What the pictures of taking down and rebuilding show: who stands where at each step."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from packdown.geometry import Cuboid, Direction, Solid, Vector, bounds, translate
from packdown.model import PlanBuild, Step, StepKind
from packdown.report.lookup import Lookup
from packdown.report.views import Seen, Target, choose_views

__all__ = ["LEAST_PLACE", "Shown", "Stage", "stages"]

LEAST_PLACE = 1 / 3
"""Share of a place that must be free in one view; it shows where a part goes, not which it is."""
LEAST_WAY_UM = 30_000
"""A moving part is drawn so far beyond where it is clear of the staying one."""


class Shown(StrEnum):
    """What must be seen of a stage, in the order of the shares of its views."""

    MOVING = "the moving part"
    STAYING = "the staying part"
    PLACE = "the place of the moving part"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One step that parts or joins: the staying part, and the moving one off its place.

    Parameters
    ----------
    step
        The step.
    moving, staying
        Solid of each piece as it is drawn, by its id.
    offset_um
        From the place of the moving part to where it is drawn.
    box
        Bounds of what is drawn.
    fresh
        Numbers of the sub-assemblies that no earlier step of the list showed, from 1.
    views
        Whence it is drawn: one view, or two where the first hides something. Their shares are
        those of `Shown`, in that order.
    """

    step: Step
    moving: Mapping[str, Solid]
    staying: Mapping[str, Solid]
    offset_um: Vector
    box: Cuboid
    fresh: tuple[int, ...]
    views: tuple[Seen, ...]


def stages(lookup: Lookup, build: PlanBuild, steps: Iterable[Step]) -> Iterator[Stage]:
    """Yield a stage for each step of a list that parts or joins a build.

    Parameters
    ----------
    lookup
        The plan.
    build
        The build.
    steps
        All steps of taking down, or all of rebuilding.
    """
    known: set[int] = set()
    for step in steps:
        if step.build == build.id and step.direction:
            away = step.direction.opposite if step.kind is StepKind.JOIN else step.direction
            parts = lookup.parts_within(build.id, (*step.pieces, *step.stays))
            yield _stage(lookup, step, away, tuple(n for n in parts if n not in known))
            known.update(parts)


def _stage(lookup: Lookup, step: Step, away: Direction, fresh: tuple[int, ...]) -> Stage:
    place = {name: lookup.pieces[name].cuboids_um for name in step.pieces}
    staying = {name: lookup.pieces[name].cuboids_um for name in step.stays}
    offset = _offset(_all(place), _all(staying), away)
    moving = {name: translate(solid, *offset) for name, solid in place.items()}
    moved, stood = _all(moving), _all(staying)
    targets = {
        Shown.MOVING: Target(moved, stood),
        Shown.STAYING: Target(stood, moved),
        Shown.PLACE: Target(_all(place), stood, LEAST_PLACE),
    }
    box = bounds(moved + stood)
    return Stage(
        step=step,
        moving=moving,
        staying=staying,
        offset_um=offset,
        box=box,
        fresh=fresh,
        views=choose_views([targets[what] for what in Shown], box),
    )


def _all(solids: Mapping[str, Solid]) -> Solid:
    return tuple(cuboid for solid in solids.values() for cuboid in solid)


def _offset(place: Solid, staying: Solid, away: Direction) -> Vector:
    """Return how far off its place a part is drawn: clear of the staying one, and a little more."""
    here, there = bounds(place), bounds(staying)
    axis, forward = away.axis, sum(away.vector) > 0
    deep = there[axis + 3] - here[axis] if forward else here[axis + 3] - there[axis]
    way = max(0, deep) + LEAST_WAY_UM
    x, y, z = (way * part for part in away.vector)
    return x, y, z
