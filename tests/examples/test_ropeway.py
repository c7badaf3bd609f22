"""The second example: an event of six sessions over two days, and what is brought to it."""

import pytest

from packdown.data import data_folder
from packdown.files import read_event, read_workspace
from packdown.model import Bringing, Event, Plan, Workspace
from packdown.planning.bringing import bring
from packdown.planning.bringing.strike import gone_pieces, strike
from packdown.verify import check_bringing, verify, verify_load

FOLDER = data_folder("examples") / "ropeway"


@pytest.fixture(scope="module")
def works() -> Workspace:
    """The collection."""
    return read_workspace(FOLDER)


@pytest.fixture(scope="module")
def event(works: Workspace) -> Event:
    """The event."""
    return read_event(FOLDER, "pass-days", works)


@pytest.fixture(scope="module")
def brought(works: Workspace, event: Event) -> Bringing:
    """What is brought, with few packings tried."""
    return bring(works, event, effort=5)


def test_size_of_the_event(works: Workspace, event: Event) -> None:
    """Six sessions on two days, ten builds, seven containers, one small car."""
    builds = {wish.build for s in event.sessions for wish in s.wishes if wish.build}
    assert len(event.sessions) == 6
    assert len({session.day for session in event.sessions}) == 2
    assert len(builds) == 10
    assert len(works.containers) == 7
    assert event.limits.load_space == "car"


def test_the_answer_keeps_every_rule(works: Workspace, brought: Bringing) -> None:
    """Plan, loads and choice are verified; all musts are met; what stays says why."""
    assert verify(brought.plan).violations == ()
    assert check_bringing(works, brought) == ()
    assert all(verify_load(load).ok for load in brought.loads)
    assert brought.loads
    assert not any(left.pick.wish.must for left in brought.left)
    assert brought.left
    told = {left.pick.wish.build: left for left in brought.left}
    assert told["inn"].reasons == ("2 x Wall short",)
    assert told["inn"].remedies == ("get 2 more Wall",)
    assert any("would weigh" in reason for left in brought.left for reason in left.reasons)


def test_the_way_home(works: Workspace, brought: Bringing) -> None:
    """What stands at the end is packed with all the rest, but for what is gone."""
    plan: Plan = brought.plan
    gone = gone_pieces(plan, ["sledge=1", "crate=2"])
    assert len(gone) == 3
    home = strike(works, plan, standing=["bridge", "stockade"], gone=gone, effort=2)
    assert verify(home).ok
    assert home.not_packed == ()
    assert len(home.pieces) == len(plan.pieces) - 3
    assert {build.id for build in home.builds} == {"bridge", "stockade"}
    used = {container.id for container in plan.containers if container.fill}
    assert {container.id for container in home.containers} == used
