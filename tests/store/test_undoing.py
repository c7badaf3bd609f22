"""The history, and taking back what it tells of."""

import pytest

from packdown.errors import UsageError
from packdown.store.connection import Store
from packdown.store.individuals import describe
from packdown.store.moving import move
from packdown.store.undoing import history, undo
from support.stores import everything, places, state, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan({"long": ["crate#1", "mill/wall"], "small": ["crate#2"]})
OTHER = stowing_plan({"long": ["crate#2", "tile#1"], "small": ["crate#1"], "new": ["mill/wall"]})


def test_each_change_is_taken_back(store: Store) -> None:
    """Step by step everything is as it was, down to the empty store."""
    states = []
    for change in (
        lambda: stowed(store, PLAN),
        lambda: move(store, ["crate#1"], "out", event="Spring day"),
        lambda: stowed(store, OTHER),
        lambda: move(store, ["tile"], "small"),
    ):
        change()
        states.append(state(store))
    for before in reversed(states[:-1]):
        undo(store)
        assert state(store) == before
    undo(store)
    assert not any(state(store).values())
    with pytest.raises(UsageError, match="nothing to undo"):
        undo(store)


def test_an_undoing_is_undone(store: Store) -> None:
    """The history only grows: what was taken back can be put back."""
    stowed(store, PLAN)
    move(store, ["crate"], "out")
    after = state(store)
    undo(store)
    undo(store, 3)
    assert state(store) == after
    with store.reading() as rows:
        entries = history(rows)
    assert [(e.id, e.verb, e.undoes, e.stands) for e in entries] == [
        (4, "undo", 3, True),
        (3, "undo", 2, False),
        (2, "move", None, True),
        (1, "stow", None, True),
    ]


def test_history_is_only_added_to(store: Store) -> None:
    """What it told once it tells for ever."""
    stowed(store, PLAN)
    move(store, ["crate"], "out")
    told = everything(store)
    undo(store)
    undo(store)
    now = everything(store)
    for name in ("changes", "change_rows", "plans", "stowings", "stowed_containers"):
        assert now[name][: len(told[name])] == told[name]


def test_what_a_later_change_builds_on_stays(store: Store) -> None:
    """An earlier change is undone alone only if no later one touched the same pieces."""
    stowed(store, PLAN)
    move(store, ["crate#1"], "out")
    move(store, ["crate#2"], "out")
    move(store, ["crate#1"], "small")
    before = everything(store)
    with pytest.raises(UsageError, match=r"a later one changed crate#1 again"):
        undo(store, 2)
    assert everything(store) == before
    undo(store, 3)
    assert places(store) == {"crate#1": "small", "crate#2": "small", "mill/wall": "long"}


def test_what_a_later_description_needs_stays(store: Store) -> None:
    """A piece that was given a name since cannot vanish; nothing is changed then."""
    stowed(store, PLAN)
    describe(store, "crate#1", name="Chipped")
    before = everything(store)
    with pytest.raises(UsageError, match="change 1 cannot be undone"):
        undo(store, 1)
    assert everything(store) == before


def test_what_cannot_be_undone(store: Store) -> None:
    """Unknown changes, and those that are undone already, are named."""
    stowed(store, PLAN)
    move(store, ["crate"], "out")
    undo(store, 2)
    with pytest.raises(UsageError, match="change 2 is undone already"):
        undo(store, 2)
    with pytest.raises(UsageError, match="there is no change 9"):
        undo(store, 9)
