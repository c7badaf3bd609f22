"""Where a build starts from: the split of least effort, or straight cuts where these spare keys.

A key between parts that slide past each other must be pulled while both stand in place. Cuts right
through a build seldom ask for that; where they cost little more, they are the better choice.
"""

from packdown import teardown
from packdown.model import Build, Straight
from packdown.planning.job import Job, SubAssembly
from packdown.planning.moves import in_build_order

__all__ = ["starting_split"]

#: Most that straight cuts may cost above the least effort, in percent.
MORE_PERCENT = 5

Subs = tuple[SubAssembly, ...]


def starting_split(job: Job, build: Build) -> Subs:
    """Return the sub-assemblies from which the search for a build starts.

    Straight cuts are taken, and noted in the job, where they cost at most a little more than the
    split of least effort and that is made good by keys that need not be pulled in place.

    Parameters
    ----------
    job, build
        The job, and one of its builds.
    """
    least = _split(job, build, teardown.Aim.LEAST)
    pulled = _keys_in_place(job, build, least)
    if not pulled:
        return least
    cuts = _split(job, build, teardown.Aim.STRAIGHT)
    spared = _keys_in_place(job, build, cuts)
    if spared is None or any(job.item(build, sub) is None for sub in cuts):
        return least
    cost, more = (teardown.cost_of(build, subs, job.rules.place_s) for subs in (least, cuts))
    in_place_s = job.settings.effort.in_place_s
    if 100 * more <= (100 + MORE_PERCENT) * cost and (
        more + in_place_s(spared) < cost + in_place_s(pulled)
    ):
        job.straight[build.id] = (
            cuts,
            Straight(least_s=cost, keys_in_place=spared, least_keys_in_place=pulled),
        )
        return cuts
    return least


def _split(job: Job, build: Build, aim: teardown.Aim) -> Subs:
    key_weight_g = job.workspace.key_weight_g
    found = teardown.split(build, job.containers, job.settings, job.rules, key_weight_g, aim=aim)
    return in_build_order(build, found.sub_assemblies)


def _keys_in_place(job: Job, build: Build, subs: Subs) -> int | None:
    """Return how many keys are pulled in place; None if no straight moves take a build apart."""
    moves = job.moves(build, subs)
    return None if moves is None else sum(move.keys_first for move in moves)
