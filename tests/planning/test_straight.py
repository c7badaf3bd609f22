"""Straight cuts are taken where they spare enough keys that would be pulled in place."""

from dataclasses import replace

from packdown.files.defaults import read_defaults
from packdown.model import Build, Plan, Straight, Workspace
from packdown.planning.job import Job
from packdown.planning.straight import starting_split
from packdown.report.straight_words import straight_sentences
from packdown.teardown import effort_of
from support.grown_builds import grown_build
from support.plans import GOOD
from support.small import crate

SETTINGS = read_defaults().settings


def job_of(build: Build, *, in_place_ms: int) -> Job:
    """Return a job for one build and boxes of 200 mm, with a time for a key pulled in place."""
    settings = replace(SETTINGS, effort=replace(SETTINGS.effort, in_place_ms=in_place_ms))
    box = crate("box", 200, 150, 120)
    workspace = Workspace(
        name="Hall",
        settings=settings,
        parts=(),
        loose=(),
        builds=(build,),
        containers=(box,),
        key_weight_g=1,
    )
    return Job(workspace=workspace, containers=(box,))


def test_keys_pulled_in_place_decide() -> None:
    """The least split of a two-storey hall pulls 13 keys in place; straight cuts none, for 29 s.

    They are taken if pulling those takes more than 29 s, not if it takes no time.
    """
    hall = grown_build("two-storey", 86, SETTINGS, seed=32)
    quick = job_of(hall, in_place_ms=0)
    least = starting_split(quick, hall)
    assert quick.straight == {}
    slow = job_of(hall, in_place_ms=SETTINGS.effort.in_place_ms)
    taken = starting_split(slow, hall)
    (noted, why) = slow.straight[hall.id]
    assert noted == taken != least
    assert why.keys_in_place < why.least_keys_in_place
    efforts = [effort_of(hall, subs, slow.rules.place_s) for subs in (least, taken)]
    assert why.least_s == efforts[0] < efforts[1] <= 1.05 * efforts[0]


def test_a_build_without_keys_in_place_keeps_its_least_split() -> None:
    """A room that comes apart by sliding and lifting alone has nothing to spare."""
    room = grown_build("room", 41, SETTINGS, seed=35)
    job = job_of(room, in_place_ms=60_000)
    moves = job.moves(room, starting_split(job, room))
    assert moves
    assert sum(move.keys_first for move in moves) == 0
    assert job.straight == {}


def test_it_is_said_what_straight_cuts_cost_and_spare() -> None:
    """The sentence counts the seconds more, and the keys."""
    assert straight_sentences(GOOD) == ()
    told = straight_sentences(_with_straight(GOOD, least_s=GOOD.builds[0].effort_s - 12))
    assert [build for build, _ in told] == [GOOD.builds[0].id]
    assert "12 s more than the least effort found" in told[0][1]
    assert "spares pulling 3 keys in place" in told[0][1]


def _with_straight(plan: Plan, *, least_s: int) -> Plan:
    why = Straight(least_s=least_s, keys_in_place=1, least_keys_in_place=4)
    return replace(plan, builds=(replace(plan.builds[0], straight=why), *plan.builds[1:]))
