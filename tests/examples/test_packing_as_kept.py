"""The example packs with its builds kept as whole as they can be, without a search for splits."""

import pytest

from packdown.model import PackingProblem
from packdown.packing import pack
from packdown.planning.job import Job
from packdown.planning.whole_job import least_effort_split
from support.packing_problems import violations
from support.saltworks import example


@pytest.fixture(scope="module")
def asked() -> PackingProblem:
    """The items of the least-effort split, and all containers of the example."""
    job = Job(workspace=example(), containers=example().containers)
    return job.problem(least_effort_split(job))


@pytest.mark.parametrize("seed", range(3))
def test_what_has_few_homes_is_not_crowded_out(asked: PackingProblem, seed: int) -> None:
    """Rooms that fit one or two containers alone have their place, and loose pieces the rest."""
    packing = pack(asked, effort=1, seed=seed)
    wrong = [fault for fault in violations(asked, packing) if not fault.startswith("references")]
    assert wrong == []  # the builds that are referred to are no part of a packing problem
    assert packing.unpacked == ()
    assert len(packing.fills) <= 6
