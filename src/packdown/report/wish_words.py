"""What became of the owner's wishes, apart from what the work takes."""

from packdown.model import JointState, Plan, PlanBuild
from packdown.report.words import counted, joint_words

__all__ = ["wish_sentences"]


def wish_sentences(plan: Plan) -> tuple[tuple[str, str], ...]:
    """Return for each build with joints that are rather kept, by its id, how many of them are."""
    alone = {piece.id for piece in plan.pieces if piece.alone}
    told = ((build.id, _sentence(build, alone)) for build in plan.builds)
    return tuple((build, sentence) for build, sentence in told if sentence)


def _sentence(build: PlanBuild, alone: set[str]) -> str:
    wished = [joint for joint in build.joints if joint.spare_s and alone.isdisjoint(joint.pieces)]
    split = [joint for joint in wished if joint.state is JointState.SPLIT]
    if not wished:
        return ""
    what = f"{build.name}: of {counted(len(wished), 'joint')} rather kept"
    if not split:
        return f"{what}, none is split."
    verb = "is" if len(split) == 1 else "are"
    return f"{what}, {len(split)} {verb} split: {joint_words(joint.id for joint in split)}."
