"""Counting containers."""

import pytest

from packdown.errors import InputError, UsageError
from packdown.store.connection import Store
from packdown.store.counting import CountResult, count
from packdown.store.finding import find
from packdown.store.moving import move
from packdown.store.sweeping import sweep
from packdown.store.tally import Answer, Rest
from packdown.store.undoing import undo
from support.plans import GOOD
from support.stores import everything, places, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan(
    {"long": ["crate#1", "crate#2", "crate#3", "mill/wall"], "small": ["crate#4", "tile#1"]},
    left=["tile#2"],
)


def counted(
    store: Store, container: str, *answers: tuple[str, int] | tuple[str, int, int], **more: Rest
) -> CountResult:
    """Count with short answers."""
    return count(
        store,
        container,
        [Answer(what=a[0], found=a[1], broken=a[2] if len(a) > 2 else None) for a in answers],
        **more,
    )


def test_what_is_missing_was_last_seen_here(store: Store) -> None:
    """Two of three crates are there: the third is missing, and where to look is told."""
    stowed(store, PLAN)
    result = counted(store, "long", ("crate", 2), rest=Rest.THERE)
    assert (result.expected, result.found) == (4, 3)
    lost = result.missing[0]
    assert (lost.name, lost.number, lost.places) == ("Crate", 1, ((1, "front"),))
    assert lost.seen is not None
    assert lost.seen[0] == "stow"
    assert sorted(places(store).values()).count("missing") == 1
    with store.reading() as rows:
        missing = sweep(rows).loose
        hit = find(rows, "crate").hits[0]
    assert [(one.name, one.seen_in and one.seen_in.id) for one in missing] == [("Crate", "long")]
    assert hit.places[-1].seen_in == result.box


def test_what_is_not_named_is_left_alone(store: Store) -> None:
    """Only what was looked at is recorded."""
    stowed(store, PLAN)
    result = counted(store, "long", ("crate", 3))
    assert [(one.name, one.number) for one in result.uncounted] == [("mill/wall", 1)]
    assert result.missing == ()
    assert counted(store, "long", ("crate", 3), rest=Rest.MISSING).missing[0].number == 1


def test_what_is_extra_comes_from_where_it_was(store: Store) -> None:
    """First what is missing is found again, then what is elsewhere, each once."""
    stowed(store, PLAN)
    counted(store, "long", ("crate", 2))
    found = counted(store, "small", ("crate", 2), ("tile", 2))
    assert [(e.name, e.number, str(e.state), e.box) for e in found.extra] == [
        ("Crate", 1, "missing", None),
        ("Tile", 1, "unstowed", None),
    ]
    again = counted(store, "small", ("crate", 3))
    assert [(e.number, e.box and e.box.id) for e in again.extra] == [(1, "long")]
    assert list(places(store).values()).count("small") == 5


def test_more_than_are_owned(store: Store) -> None:
    """Nobody has so many: nothing is recorded."""
    stowed(store, PLAN)
    before = everything(store)
    with pytest.raises(InputError, match="6 more than expected, 3 more are owned"):
        counted(store, "small", ("crate", 7))
    with pytest.raises(InputError, match="the store has no elephant"):
        counted(store, "small", ("elephant", 1))
    with pytest.raises(InputError, match="2 broken of 1 found"):
        counted(store, "small", ("crate", 1, 2))
    with pytest.raises(UsageError, match="no container nowhere"):
        counted(store, "nowhere")
    assert everything(store) == before


def test_what_is_broken_stays_so(store: Store) -> None:
    """It is remembered until a count says otherwise."""
    stowed(store, PLAN)
    assert counted(store, "long", ("crate", 3, 1)).broken[0].number == 1
    assert counted(store, "long", ("crate", 3)).broken[0].number == 1
    with store.reading() as rows:
        assert find(rows, "crate").hits[0].places[-1].broken
    assert counted(store, "long", ("crate", 3, 0)).broken == ()


def test_pieces_of_a_sub_assembly(store: Store) -> None:
    """It is there, or gone, or some of its pieces are."""
    stowed(store, GOOD)
    assert counted(store, "box", ("half-1", 3)).missing == ()
    with pytest.raises(InputError, match="2 of 3 pieces do not say which"):
        counted(store, "box", ("half-1", 2))
    # what is said of one piece counts more than what is said of the whole
    one = counted(store, "box", ("b1", 0), ("half-1", 3))
    assert [(lost.name, lost.number) for lost in one.missing] == [("b1 of half-1", 1)]
    gone = counted(store, "box", ("half-1", 0))
    assert [(lost.name, lost.number) for lost in gone.missing] == [("half-1", 2)]


def test_keys_are_counted(store: Store) -> None:
    """One of three loose keys is lost."""
    stowed(store, GOOD)
    result = counted(store, "box", ("Loose key of Mill", 2))
    assert [(lost.name, lost.number) for lost in result.missing] == [("Loose key of Mill", 1)]
    assert counted(store, "box", ("key:mill", 3)).extra[0].number == 1


def test_a_count_is_recorded_and_undone(store: Store) -> None:
    """Its record stays, its effect does not."""
    stowed(store, PLAN)
    before = places(store)
    counted(store, "long", ("crate", 0), ("wall", 1))
    undo(store)
    assert places(store) == before
    lines = [row[2:] for row in everything(store)["count_lines"]]
    assert lines == [("mill/wall", 1, 1, 0), ("crate", 3, 0, 0)]


def test_pieces_put_in_by_hand_are_expected_too(store: Store) -> None:
    """They have no place, but should be there."""
    stowed(store, PLAN)
    move(store, ["tile#2"], "long")
    lost = counted(store, "long", ("tile", 0)).missing[0]
    assert (lost.number, lost.places, lost.seen and lost.seen[0]) == (1, (), "move")
