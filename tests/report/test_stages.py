"""Following the rebuild pictures alone, picture by picture, every piece can be placed."""

from collections.abc import Mapping, Sequence

import pytest

from packdown.geometry import Solid, bounds, overlap, translate
from packdown.model import Build, Plan, PlanBuild, Step
from packdown.report.lookup import look_up
from packdown.report.stages import LEAST_PLACE, Shown, Stage, stages
from packdown.report.views import LEAST_SEEN, seen_of
from support.book_plan import book_plan
from support.grown_builds import grown_build
from support.painted import painted_share
from support.saltworks import build_of, example, placed
from support.single_pieces import in_single_pieces

SLACK = 0.05
"""Rays and pixels sample differently."""


def _solid(solids: Mapping[str, Solid]) -> Solid:
    return tuple(cuboid for solid in solids.values() for cuboid in solid)


def _are_enough(shares: Sequence[float], slack: float = 0.0) -> bool:
    """Whether both parts are half free in some view, and the place a third."""
    limits = {Shown.MOVING: LEAST_SEEN, Shown.STAYING: LEAST_SEEN, Shown.PLACE: LEAST_PLACE}
    return all(share >= limits[what] - slack for what, share in zip(Shown, shares, strict=True))


def _stages(plan: Plan, build: PlanBuild, steps: Sequence[Step]) -> list[Stage]:
    return list(stages(look_up(plan), build, steps))


def _follow(plan: Plan, build: PlanBuild) -> list[Stage]:
    """Place what each picture shows, and insist that it shows all that it needs."""
    found = _stages(plan, build, plan.steps.rebuild)
    table: set[frozenset[str]] = set()  # what stands there, put together so far
    for stage in found:
        moving, staying = frozenset(stage.moving), frozenset(stage.staying)
        fresh = [frozenset(build.sub_assemblies[number - 1]) for number in stage.fresh]
        assert not any(part & group for part in fresh for group in table)
        table.update(fresh)
        assert {moving, staying} <= table
        table -= {moving, staying}
        table.add(moving | staying)
        assert _are_enough(seen_of(stage.views)), stage.step.text
    pieces = frozenset(name for part in build.sub_assemblies for name in part)
    assert table == ({pieces} if len(build.sub_assemblies) > 1 else set())
    return found


def _drawn_shares(plan: Plan, stage: Stage) -> list[float]:
    """Return what the drawings of a stage show, the best of its views for each target."""
    moved, stood = _solid(stage.moving), _solid(stage.staying)
    place = tuple(c for name in stage.moving for c in look_up(plan).pieces[name].cuboids_um)
    pairs = {
        Shown.MOVING: (moved, stood),
        Shown.STAYING: (stood, moved),
        Shown.PLACE: (place, stood),
    }
    cameras = [seen.view.camera(stage.box) for seen in stage.views]
    return [max(painted_share(*pairs[what], c, stage.box) for c in cameras) for what in Shown]


@pytest.mark.parametrize("build", tuple(placed(example())), ids=lambda build: str(build.id))
def test_every_piece_of_the_example_can_be_placed_by_pictures(build: Build) -> None:
    """Each of the example's builds, even if every single piece travels alone."""
    plan = in_single_pieces(build)
    followed = _follow(plan, plan.builds[0])
    assert sum(len(stage.fresh) for stage in followed) == len(plan.pieces)


@pytest.mark.parametrize("shape", ["room", "corridor", "two-storey", "stepped", "bridge"])
def test_every_piece_of_a_large_build_can_be_placed_by_pictures(shape: str) -> None:
    """Generated builds of 40 to 60 pieces with walls, storeys, triangles and overhangs."""
    plan = in_single_pieces(grown_build(shape, 60, example().settings, seed=3))
    assert len(plan.pieces) >= 40
    followed = _follow(plan, plan.builds[0])
    assert sum(len(stage.fresh) for stage in followed) == len(plan.pieces)


def test_the_pictures_show_what_the_rays_promise() -> None:
    """On the drawn polygons of a build of 38 pieces each part is as free as was said."""
    plan = in_single_pieces(build_of(example(), "brine-pans"))
    for stage in _follow(plan, plan.builds[0]):
        assert _are_enough(_drawn_shares(plan, stage), SLACK)


def test_parts_of_several_pieces_are_followed_too() -> None:
    """A plan with builds in larger parts: the same pictures the other way for taking down."""
    plan = book_plan()
    for build in plan.builds:
        up = _follow(plan, build)
        down = _stages(plan, build, plan.steps.take_down)
        assert len(up) == len(down) == len(build.sub_assemblies) - 1
        for one, two in zip(up, reversed(down), strict=True):
            assert one.offset_um == two.offset_um
            assert one.moving == two.moving


def test_the_moving_part_is_drawn_clear_of_the_rest() -> None:
    """It is off its place, against the way it will go, and beside what stays."""
    plan = in_single_pieces(build_of(example(), "beacon"))
    lookup = look_up(plan)
    for stage in _stages(plan, plan.builds[0], plan.steps.rebuild):
        moved, stood = _solid(stage.moving), _solid(stage.staying)
        assert not overlap((bounds(moved),), (bounds(stood),))
        way = stage.step.direction
        assert way is not None
        assert sum(a * b for a, b in zip(stage.offset_um, way.vector, strict=True)) < 0
        back = tuple(-by for by in stage.offset_um)
        for name, solid in stage.moving.items():
            assert translate(solid, *back) == lookup.pieces[name].cuboids_um
