"""Pictures of steps: who moves, where joints are, which way."""

import re
from dataclasses import replace

from packdown.model import JointState
from packdown.report.joint_marks import JOINT_WORDS, arrow, sign
from packdown.report.lookup import look_up
from packdown.report.stages import stages
from packdown.report.step_pictures import step_pictures
from support.book_plan import book_plan

PLAN = book_plan()
LOOKUP = look_up(PLAN)
BUILD = PLAN.builds[0]


def _pictures(steps: str) -> list[str]:
    """Draw all steps of a list, each with the joints that it opens or closes."""
    number = {p: n for n, part in enumerate(BUILD.sub_assemblies) for p in part}
    split = [joint for joint in BUILD.joints if joint.state is JointState.SPLIT]
    drawn = []
    for step in getattr(PLAN.steps, steps):
        if step.build == BUILD.id and step.direction:
            sides = ({number[p] for p in step.pieces}, {number[p] for p in step.stays})
            own = [
                joint.id
                for joint in split
                for a, b in [[number[p] for p in joint.pieces]]
                if (a in sides[0] and b in sides[1]) or (b in sides[0] and a in sides[1])
            ]
            (stage,) = stages(LOOKUP, BUILD, [replace(step, joints=tuple(own))])
            drawn += [one.drawing() for one in step_pictures(LOOKUP, BUILD, stage)]
    return drawn


def test_each_step_has_an_arrow_and_its_joints() -> None:
    """Strong and pale pieces, one arrow, and two signs a joint: on either part."""
    for drawing in _pictures("take_down"):
        assert drawing.count('class="arrow"') == 1
        assert 'class="nt"' in drawing
        assert 'class="ot"' in drawing
        assert drawing.count('class="j"') == 2 * drawing.count('class="tie"') > 0


def test_keys_are_counted_where_there_are_several() -> None:
    """A sign stands for a joint; how many keys are in it is written beside it."""
    several = max(joint.keys for joint in BUILD.joints if joint.state is JointState.SPLIT)
    drawings = "".join(_pictures("take_down"))
    assert (f">{several} x</text>" in drawings) == (several > 1)


def test_the_arrow_goes_away_in_taking_down_and_back_in_rebuilding() -> None:
    """Its tip is the farthest point from its tail, and both lists have it the other way round."""
    down = arrow((100, 100), (100, 400))
    back = arrow((100, 400), (100, 100))
    assert re.findall(r"M(\d+) (\d+)", down) == [("87", "100")]
    assert re.findall(r"M(\d+) (\d+)", back) == [("113", "400")]
    assert arrow((5, 5), (5, 5)) == ""


def test_signs_of_joints_differ_in_shape() -> None:
    """No two kinds look alike in grey print."""
    shapes = {sign(kind, (0, 0)) for kind in JOINT_WORDS}
    assert len(shapes) == len(JOINT_WORDS)
