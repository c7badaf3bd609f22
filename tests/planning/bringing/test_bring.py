"""What is brought to small events: as much as full enumeration finds, and never more."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import pytest

from packdown.geometry import bounds
from packdown.model import Bringing, Event, ItemKind, Limits, Pick, Wish, Workspace
from packdown.planning.bringing import Chosen, Demand, Oracle, Packer, bring, choose
from packdown.verify import check_bringing, verify
from support import events

WORKS = events.collection()
PACKER = Packer(tries=1, repairs=2)
"""Shared by all tests: it answers the same question only once."""


def brought(event: Event, workspace: Workspace = WORKS) -> Bringing:
    """Return what is brought in the end, however long it takes."""
    return bring(workspace, event, effort=None)


def overlap(event: Event, one: Pick, two: Pick) -> bool:
    """Whether the sessions of two wishes go on at the same time."""
    by_name = {session.id: session for session in event.sessions}
    a, b = by_name[one.session], by_name[two.session]
    return a.day == b.day and max(a.start_s, b.start_s) < min(a.end_s, b.end_s)


def owned_at_once(event: Event, picks: tuple[Pick, ...]) -> bool:
    """Whether all that overlapping sessions want at once is owned: counted minute by minute."""
    builds = {build.id: build for build in (*WORKS.builds, *WORKS.designs)}
    by_name = {session.id: session for session in event.sessions}
    days = {session.day for session in event.sessions}
    for day, minute in ((day, minute) for day in days for minute in range(0, 24 * 60, 30)):
        now: Counter[str] = Counter()
        for pick in picks:
            session = by_name[pick.session]
            if session.day == day and session.start_s <= 60 * minute < session.end_s:
                if pick.wish.build:
                    now.update(piece.part for piece in builds[pick.wish.build].pieces)
                else:
                    now[pick.wish.part or ""] += pick.wish.count
        if any(number > dict(WORKS.owned)[part] for part, number in now.items()):
            return False
    return True


def room_on_tables(event: Event, picks: tuple[Pick, ...]) -> bool:
    """Whether builds fit one table each, and all tables of their session together."""
    table = event.limits.table_um
    if table is None:
        return True
    builds = {build.id: build for build in (*WORKS.builds, *WORKS.designs)}
    area: Counter[str] = Counter()
    for pick in (pick for pick in picks if pick.wish.build):
        pieces = builds[pick.wish.build or ""].pieces
        x, y, _ = bounds([cuboid for piece in pieces for cuboid in piece.cuboids_um]).size
        fits = (x <= table[0] and y <= table[1]) or (y <= table[0] and x <= table[1])
        if not fits:
            return False
        area[pick.session] += x * y
    return all(area[s.id] <= s.tables * table[0] * table[1] for s in event.sessions)


def best_of_all(event: Event) -> tuple[int, int]:
    """Return musts and worth of the best of all choices, each of them packed if it may be."""
    oracle = Oracle(demand=Demand(workspace=WORKS, event=event), packer=PACKER)
    picks = oracle.demand.picks
    best = (0, 0)
    for size in range(1, len(picks) + 1):
        for choice in combinations(range(len(picks)), size):
            taken = tuple(picks[number] for number in choice)
            value = (sum(p.wish.must for p in taken), sum(p.wish.worth for p in taken))
            twice = any(
                a.wish.build and a.wish.build == b.wish.build and overlap(event, a, b)
                for a, b in combinations(taken, 2)
            )
            if value <= best or twice:
                continue
            if owned_at_once(event, taken) and room_on_tables(event, taken):
                best = value if oracle.accept(choice) else best
    return best


def chosen(event: Event) -> Chosen:
    """Return the best choice, however long it takes to find."""
    return choose(Demand(workspace=WORKS, event=event), PACKER, effort=None)


@pytest.mark.parametrize("seed", range(100))
def test_equals_full_enumeration(seed: int) -> None:
    """On small random events the value is that of the best of all choices, and is proved."""
    event = events.random_event(seed)
    found = chosen(event)
    assert found.value == best_of_all(event)
    assert found.proved


@pytest.mark.parametrize("seed", range(0, 100, 12))
def test_answers_keep_every_rule(seed: int) -> None:
    """The plan and the choice are right, and what stays has its reasons."""
    event = events.random_event(seed)
    found = brought(event)
    assert check_bringing(WORKS, found) == ()
    assert verify(found.plan).ok
    demand = Demand(workspace=WORKS, event=event)
    assert (found.musts, found.worth) == choose(demand, Packer(), effort=None).value


def relaxed(limits: Limits) -> Iterator[Limits]:
    """Yield limits of which one is looser each, up to none at all."""
    every = ("flat", "long", "low")
    if limits.containers is not None:
        for name in every:
            if name not in limits.containers:
                names = tuple(own for own in every if own in (*limits.containers, name))
                yield replace(limits, containers=names)
        yield replace(limits, containers=None)
    for field, more in (
        ("most_containers", 1), ("weight_g", 300), ("set_up_s", 20), ("strike_s", 20),
    ):  # fmt: skip
        now = getattr(limits, field)
        if now is not None:
            for looser in (now + more, 2 * now, None):
                yield replace(limits, **{field: looser})  # type: ignore[arg-type]
    yield replace(limits, helpers=limits.helpers + 1)
    yield replace(limits, journeys=limits.journeys + 1)
    if limits.table_um is not None:
        yield replace(limits, table_um=(1_200_000, 250_000))
        yield replace(limits, table_um=None)


@pytest.mark.parametrize("seed", range(12))
def test_looser_limits_never_bring_less(seed: int) -> None:
    """Of events whose limits differ in one, the looser is worth at least as much."""
    event = events.random_event(seed)
    value = chosen(event).value
    for limits in relaxed(event.limits):
        assert chosen(replace(event, limits=limits)).value >= value, limits


def test_pieces_of_builds_of_different_sessions_are_brought_once() -> None:
    """The path of three tiles is made of tiles of the row; together they take eight at once."""
    row, path = Wish(build="row"), Wish(build="path")
    apart = brought(
        events.event(events.session("one", 9, 10, row), events.session("two", 12, 13, path))
    )
    assert apart.whole == ("row",)
    assert apart.made_there == ("path",)
    assert len(apart.plan.pieces) == 5
    at_once = brought(
        events.event(events.session("one", 9, 12, row), events.session("two", 11, 13, path))
    )
    assert at_once.whole == ("row", "path")
    assert len(at_once.plan.pieces) == 8


def test_what_is_needed_first_is_packed_last() -> None:
    """In the order of sessions; nothing needed later lies on what is needed before it."""
    found = brought(
        events.event(
            events.session("late", 10, 13, Wish(build="cell")),
            events.session("early", 9, 12, Wish(build="row")),
            containers=("long", "low"),
        )
    )
    parts = [item for item in found.plan.items if item.kind is ItemKind.SUB_ASSEMBLY]
    assert {item.build: item.needed for item in parts} == {"row": 1, "cell": 2}
    assert verify(found.plan).ok


def test_a_build_of_two_sessions_is_packed_once_and_may_stay() -> None:
    """It stays where it stands if the next session of the day wants it too."""
    row = Wish(build="row")
    found = brought(
        events.event(
            events.session("one", 9, 10, row),
            events.session("two", 12, 13, row),
            events.session("three", 9, 10, row, day=2),
        )
    )
    assert len(found.plan.pieces) == 5
    assert [turn.sets_up for turn in found.turnovers] == [("row",), (), (), ("row",), ()]
    assert [turn.stays for turn in found.turnovers] == [(), ("row",), (), (), ()]
    assert [turn.strikes for turn in found.turnovers] == [(), (), ("row",), (), ("row",)]


def test_musts_come_before_any_worth() -> None:
    """A must of worth 1 is met though two wishes of worth 9 have to stay for it."""
    found = brought(
        events.event(
            events.session("one", 9, 12, Wish(build="room", must=True), Wish(build="row", worth=9)),
            events.session("two", 10, 13, Wish(build="path", worth=9)),
        ),
        events.collection(tiles=5),
    )
    assert (found.musts, found.worth) == (1, 1)


@pytest.mark.parametrize(
    ("limits", "wish", "reason", "remedy"),
    [
        ({}, Wish(build="room"), "1 x Tile short", "get 1 more Tile"),
        ({"containers": ("low",)}, Wish(build="cell"), "second container", "bring Long"),
        (
            {"containers": ("flat", "low"), "most_containers": 1},
            Wish(build="cell"),
            "second container, 1 allowed",
            "allow 2",
        ),
        ({"weight_g": 800}, Wish(build="cell"), "would weigh", "allow "),
        ({"set_up_s": 30}, Wish(build="cell"), "set-up would take", "another helper"),
        ({"strike_s": 30}, Wish(build="cell"), "clearing up", "another helper"),
        ({"table_um": (320_000, 65_000)}, Wish(build="cell"), "larger than a table", "push"),
        ({"table_um": (320_000, 65_000)}, Wish(build="path"), "no room on the tables", "ask for"),
    ],
)
def test_reasons(limits: dict[str, object], wish: Wish, reason: str, remedy: str) -> None:
    """What stays beside the row says what is in the way, and what would make it fit."""
    row = Wish(build="row", worth=9)
    works = events.collection(tiles=8 if wish.build == "room" else 11)
    found = brought(events.event(events.session("one", 9, 12, row, wish), **limits), works)
    (left,) = found.left
    assert left.pick.wish == wish
    assert any(reason in said for said in left.reasons), left
    assert any(remedy in said for said in left.remedies), left


def test_change_of_sessions_without_a_pause() -> None:
    """Where one session follows on the other, nothing can be set up between them."""
    found = brought(
        events.event(
            events.session("one", 9, 10, Wish(build="row")),
            events.session("two", 10, 11, Wish(build="room", worth=2)),
        )
    )
    assert [pick.wish.build for pick in found.chosen] == ["room"]
    assert "changing over would take" in found.left[0].reasons[0]


def test_same_seed_and_effort_bring_the_same() -> None:
    """Two runs that are asked the same answer the same."""
    event = events.random_event(3)
    first = bring(WORKS, event, effort=6, seed=1)
    assert bring(WORKS, event, effort=6, seed=1) == first


def test_stopped_at_once_nothing_false_is_said() -> None:
    """Without time for any packing, nothing is brought, and that is not called proved."""
    event = events.event(events.session("one", 9, 10, Wish(build="row")))
    found = bring(WORKS, event, stop=lambda: True)
    assert check_bringing(WORKS, found) == ()
    assert not found.proved or found.chosen
