"""What must not travel as it is, in words."""

from packdown.model import Plan, PlanBuild, Weak
from packdown.report.words import counted, joint_words

__all__ = ["weak_sentence", "weak_sentences"]

STANDS = "may stand on the shelf, not travel"
FALLS = "may neither stand on the shelf nor travel"


def weak_sentence(weak: Weak) -> str:
    """Say what pieces may do as they are joined, and which joints to open before they travel.

    Returns
    -------
    str
        Such as ``may stand on the shelf, not travel: open this joint: deck-2 + deck-3``.
    """
    may = STANDS if weak.stands else FALLS
    if not weak.open_joints:
        return f"{may}: no joint that may be opened would help"
    what = "open this joint" if len(weak.open_joints) == 1 else "open these joints"
    return f"{may}: {what}: {joint_words(weak.open_joints)}"


def weak_sentences(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """Return what of a plan must not travel as it is.

    Returns
    -------
    tuple of (str, str, str)
        Id of the build, what of it, and the sentence about it.
    """
    return tuple(
        (build.id, _subject(plan, build, weak), _told(build, weak))
        for build in plan.builds
        for weak in build.weak
    )


def _subject(plan: Plan, build: PlanBuild, weak: Weak) -> str:
    """Name a whole build, or the part of it that the plan numbers."""
    numbers = [
        number
        for number, sub in enumerate(build.sub_assemblies, 1)
        if set(sub) == set(weak.pieces) and len(build.sub_assemblies) > 1
    ]
    pieces = counted(len(weak.pieces), "piece")
    if numbers:
        return f"{build.name} part {numbers[0]} ({pieces})"
    own = sum(piece.build == build.id for piece in plan.pieces)
    whole = len(weak.pieces) == own
    return f"{build.name} as a whole" if whole else f"{build.name}, {pieces} as they are joined,"


def _told(build: PlanBuild, weak: Weak) -> str:
    """Add what the plan does about it: it parts what is weak, or it is none for transport."""
    sentence = weak_sentence(weak)
    subs = [set(sub) for sub in build.sub_assemblies]
    if set(weak.pieces) in subs:
        return f"{sentence}. This plan leaves it so: it is for the shelf."
    weak_subs = [entry for entry in build.weak if set(entry.pieces) in subs]
    if weak_subs:
        return f"{sentence}."
    return f"{sentence}. This plan takes it apart so that every part may travel."
