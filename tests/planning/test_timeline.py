"""Timelines keep the order and the helpers, and are as short as they are said to be."""

import itertools
import random

import networkx as nx
import pytest

from packdown.model import Task, tasks_of
from packdown.planning import plan_workspace, quick_length, schedule
from packdown.planning.timeline import shortest_possible
from packdown.verify import check_timeline
from support import small


def task(n: int, seconds: int, *after: int, helpers: int = 1) -> Task:
    """Return a step as work."""
    return Task(n=n, seconds=seconds, helpers=helpers, after=after)


def random_tasks(seed: int, most: int) -> tuple[Task, ...]:
    """Return some steps drawn at random, a few of them for two."""
    rng = random.Random(seed)
    number = rng.randint(1, most)
    return tuple(
        task(
            n,
            rng.randint(1, 9),
            *sorted(rng.sample(range(1, n), min(n - 1, rng.choice((0, 0, 1, 2))))),
            helpers=rng.choice((1, 1, 1, 2)),
        )
        for n in range(1, number + 1)
    )


GRAHAM = (
    task(1, 3),
    task(2, 2),
    task(3, 2),
    task(4, 2),
    task(5, 4, 4),
    task(6, 4, 4),
    task(7, 4, 4),
    task(8, 4, 4),
    task(9, 9, 1),
)
"""The nine tasks of Graham (1969), from memory: three processors need 12 units of time."""


def test_published_example() -> None:
    """Three helpers are done with the tasks of Graham (1969) after 12, which is proved."""
    made = schedule(GRAHAM, 3)
    assert check_timeline(GRAHAM, made) == ()
    assert (made.length_s, made.bound_s) == (12, 12)


def test_published_anomaly_is_avoided() -> None:
    """A fourth helper never makes it longer; in the list order of Graham (1969) it took 15."""
    lengths = [quick_length(GRAHAM, helpers) for helpers in range(1, 6)]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[3] <= 12


@pytest.mark.parametrize("seed", range(60))
def test_random_timelines_keep_every_rule(seed: int) -> None:
    """Order, helpers and lengths are right, with and without improvement."""
    tasks = random_tasks(seed, 25)
    for helpers in (2, 3, 5):
        for limit in (0.0, 0.05):
            made = schedule(tasks, helpers, limit=limit)
            assert check_timeline(tasks, made) == ()


def longest_path(tasks: tuple[Task, ...]) -> int:
    """Return the longest chain of steps, by networkx."""
    graph = nx.DiGraph()
    graph.add_node("end")
    for one in tasks:
        graph.add_edge(one.n, "end", weight=one.seconds)
        for n in one.after:
            graph.add_edge(n, one.n, weight=next(t.seconds for t in tasks if t.n == n))
    return int(nx.dag_longest_path_length(graph, weight="weight"))


@pytest.mark.parametrize("seed", range(40))
def test_enough_helpers_need_the_longest_path(seed: int) -> None:
    """Where nobody has to wait for a helper, the length is the longest path of networkx."""
    tasks = random_tasks(seed, 20)
    chain = longest_path(tasks)
    assert schedule(tasks, 2 * len(tasks)).length_s == chain
    for helpers in (2, 4):
        total = sum(one.seconds for one in tasks)
        assert chain <= schedule(tasks, helpers).length_s <= total


def brute_force(tasks: tuple[Task, ...], helpers: int) -> int:
    """Return the shortest length by trying every order of giving out steps."""
    best = sum(one.seconds for one in tasks)
    for order in itertools.permutations(tasks):
        ends: dict[int, int] = {}
        spans: list[tuple[int, int, int]] = []
        for one in order:
            if any(n not in ends for n in one.after):
                break
            start = max((ends[n] for n in one.after), default=0)
            while not _free(spans, start, one, helpers):
                start = min(end for _, end, _ in spans if end > start)
            ends[one.n] = start + one.seconds
            spans.append((start, start + one.seconds, one.helpers))
        else:
            best = min(best, max(ends.values()))
    return best


def _free(spans: list[tuple[int, int, int]], start: int, one: Task, helpers: int) -> bool:
    """Whether enough helpers are free for a step during all its time."""
    moments = [start, *(begin for begin, _, _ in spans if start < begin < start + one.seconds)]
    return all(
        sum(busy for begin, end, busy in spans if begin <= moment < end) + one.helpers <= helpers
        for moment in moments
    )


@pytest.mark.parametrize("seed", range(40))
def test_short_timelines_equal_brute_force(seed: int) -> None:
    """Up to six steps: the timeline is as short as the best of all orders, and that is proved."""
    tasks = random_tasks(1_000 + seed, 6)
    made = schedule(tasks, 2)
    assert made.length_s == made.bound_s == brute_force(tasks, 2)


def test_bounds_hold_for_every_list() -> None:
    """The quick bound is above no timeline."""
    for seed in range(40):
        tasks = random_tasks(seed, 15)
        assert shortest_possible(tasks, 2) <= quick_length(tasks, 2)


def test_more_hands_than_one_person_has() -> None:
    """A step for two waits until both are free, and cannot be done by one alone."""
    tasks = (task(1, 5), task(2, 3, helpers=2))
    made = schedule(tasks, 2)
    assert check_timeline(tasks, made) == ()
    assert made.length_s == 8
    with pytest.raises(ValueError, match="needs 2 helpers"):
        schedule(tasks, 1)


def test_steps_of_a_plan() -> None:
    """Both directions of a plan become tasks that keep every rule; opening takes less."""
    workspace = small.workspace(
        [small.row("row", 6), small.room("room")],
        small.loose(small.tile(), 4),
        [small.crate(f"tray{n}", 140, 140, 60) for n in range(4)],
    )
    plan = plan_workspace(workspace, effort=2)
    down, up = (tasks_of(plan, run) for run in (plan.steps.take_down, plan.steps.rebuild))
    for tasks in (down, up):
        assert check_timeline(tasks, schedule(tasks, 3)) == ()
    joints = [joint for build in plan.builds for joint in build.joints]
    split = sum(joint.effort_s for joint in joints if joint.state == "split")
    place = plan.rules.place_s * len(plan.items)
    for tasks, share in ((down, 0.4), (up, 0.6)):
        work = sum(one.seconds for one in tasks) - place
        assert abs(work - share * split) <= len(tasks)


def test_some_steps_wait_by_way_of_others() -> None:
    """Of two chosen steps the later waits for the earlier, though only a third links them."""
    workspace = small.workspace([], small.loose(small.tile(), 3), [small.crate("box", 100, 80, 60)])
    plan = plan_workspace(workspace, effort=1)
    tasks = tasks_of(plan, plan.steps.rebuild, chosen=(1, 3))
    assert [one.after for one in tasks] == [(), (1,)]


def test_nothing_to_do() -> None:
    """No steps take no time."""
    made = schedule((), 2)
    assert (made.length_s, made.bound_s, made.turns) == (0, 0, ())
    assert check_timeline((), made) == ()
