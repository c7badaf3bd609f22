"""What is on the table while a build is taken down or rebuilt stands, or is said to be held."""

from collections.abc import Iterable

from packdown.geometry import WayUp
from packdown.verify.equilibrium import SLACK, load_factor
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken
from packdown.verify.steps import work_at_table

__all__ = ["stages_stand"]


def stages_stand(lookup: Lookup) -> Broken:
    """Yield steps after which, or before which, something falls that nobody is told to hold.

    What stays, or what is joined to, stands where the whole stands; what is moved stands by
    itself on the table, unless it is a sub-assembly, which is in the hand.
    """
    subs = {frozenset(sub) for build in lookup.builds.values() for sub in build.sub_assemblies}
    answers: dict[tuple[frozenset[str], ...], float] = {}
    for where, step in work_at_table(lookup):
        held = frozenset(step.holds)
        strange = held - {*step.pieces, *step.stays}
        if strange:
            yield where, f"holds {min(strange)}, which is not at work"
        halves = [(frozenset(step.stays), frozenset(step.pieces))]
        if frozenset(step.pieces) not in subs:
            halves.append((frozenset(step.pieces), frozenset()))
        for half in halves:
            key = (*half, held)
            if key not in answers:
                answers[key] = _load(lookup, *key)
            if answers[key] < 1 - SLACK:
                what = min(half[0], default="nothing")
                rest = f" and {len(half[0]) - 1} more" if len(half[0]) > 1 else ""
                yield where, f"{what}{rest} would fall, and is not held"


def _load(
    lookup: Lookup, half: Iterable[str], beside: Iterable[str], held: frozenset[str]
) -> float:
    """Return how many times its weight a half carries upright, up to once."""
    pieces, others = (
        [lookup.pieces[piece] for piece in sorted(some) if piece in lookup.pieces]
        for some in (half, beside)
    )
    if not pieces:
        return 1.0
    joints = lookup.joints_in(piece.id for piece in pieces)
    return load_factor(pieces, joints, WayUp.UPRIGHT, 1, held=held, beside=others)
