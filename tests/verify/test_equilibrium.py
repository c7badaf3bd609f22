"""The verifier's program of equilibrium, against an outside solver and against the splitter."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from packdown.files.defaults import read_defaults
from packdown.geometry import WayUp
from packdown.model import JointKind
from packdown.teardown.collapse import collapse
from packdown.teardown.graph import graph_of
from packdown.verify.equilibrium import load_factor
from support.grown_builds import SHAPES, grown_build
from support.statics import load_carried
from support.teardown_builds import build_of, joint, mm, piece, undermined


def test_forces_agree_with_an_outside_solver() -> None:
    """In any way up, random builds with weak joints carry what the outside solver says."""
    loads: Counter[bool] = Counter()
    for seed in range(60):
        random = Random(seed)
        build = undermined(random)
        for way in (WayUp.UPRIGHT, random.choice(list(WayUp))):
            load = load_factor(build.pieces, build.joints, way, 3)
            assert load == pytest.approx(load_carried(build, way, 3), abs=1e-6), (seed, way)
            loads[load > 3 - 1e-6] += 1
    assert min(loads.values()) > 10


@pytest.mark.parametrize("shape", SHAPES)
def test_forces_and_motions_give_one_load(shape: str) -> None:
    """Written twice, by forces here and by motions in splitting, the answer is the same.

    The builds have slanted covers and joints a tenth as strong as usual; a third of their pieces
    was taken away, so that many of them give way.
    """
    settings = read_defaults().settings
    for seed in range(3):
        random = Random(seed)
        build = grown_build(shape, 30, settings, seed=seed)
        left = {each.id for each in random.sample(build.pieces, 2 * len(build.pieces) // 3)}
        build = replace(
            build,
            pieces=tuple(each for each in build.pieces if each.id in left),
            joints=tuple(
                replace(each, holds_g=(each.holds_g or 0) // 10, bends_mnm=random.randrange(9))
                for each in build.joints
                if left.issuperset(each.pieces)
            ),
        )
        graph = graph_of(build)
        for way in (WayUp.UPRIGHT, WayUp.UPSIDE_DOWN, WayUp.ON_LEFT, WayUp.ON_BACK):
            load = load_factor(build.pieces, build.joints, way, 3)
            assert load == pytest.approx(collapse(graph, graph.all, way, 3).load, abs=1e-6)


def test_glue_carries_anything() -> None:
    """A joint that never parts and is never bent open carries any load."""
    build = build_of(
        [
            piece("tower", mm(0, 0, 0, 90, 30, 60), weight_g=5_000),
            piece("arm", mm(90, 0, 50, 190, 30, 60), weight_g=90),
        ],
        [joint("tower", "arm", kind=JointKind.GLUED, holds_g=None)],
    )
    # About the foot's edge 90 g at 50 mm turn against 5,000 g at 45 mm.
    assert load_factor(build.pieces, build.joints, WayUp.UPRIGHT, 50) == pytest.approx(50)
