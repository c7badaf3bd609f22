"""Why straight cuts were taken, in words."""

from packdown.model import Plan
from packdown.report.words import counted
from packdown.units import format_minutes

__all__ = ["straight_sentences"]


def straight_sentences(plan: Plan) -> tuple[tuple[str, str], ...]:
    """Return, by the id of each build that straight cuts part, what they cost and what they spare.

    Where nothing is said, the split of least effort that was found is taken.
    """
    told = []
    for build in plan.builds:
        if build.straight:
            spared = build.straight.least_keys_in_place - build.straight.keys_in_place
            more = build.effort_s - build.straight.least_s
            cost = f"{format_minutes(more)} more" if more > 0 else "no more"
            sentence = (
                f"{build.name}: parted along straight cuts, {cost} than the least effort found; "
                f"that spares pulling {counted(spared, 'key')} in place."
            )
            told.append((build.id, sentence))
    return tuple(told)
