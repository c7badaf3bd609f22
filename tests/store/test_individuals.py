"""Pieces that are told apart."""

import pytest

from packdown.errors import UsageError
from packdown.store.connection import Store
from packdown.store.finding import find
from packdown.store.individuals import Individual, describe, individual, strike_off
from packdown.store.moving import move
from packdown.store.undoing import undo
from support.stores import places, state, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan({"long": ["crate#1", "crate#2"], "small": ["crate#3"]})


def test_a_piece_gets_a_name_tags_and_photos(store: Store) -> None:
    """It is found by any of these, and goes by its name."""
    stowed(store, PLAN)
    describe(store, "crate#2", name="The chipped one", tags=["sorry"], paths=["a.jpg", "b.jpg"])
    with store.reading() as rows:
        for words in ("chiped one", "sorry"):
            assert find(rows, words).hits[0].id == "crate#2"
        assert individual(rows, "the chipped one") == Individual(
            piece="crate#2", name="The chipped one", tags=("sorry",), photos=("a.jpg", "b.jpg")
        )
    assert move(store, ["The chipped one"], "out").pieces == ("crate#2",)


def test_what_is_not_said_stays(store: Store) -> None:
    """Each of name, tags and photos is changed alone; without any it is one of many again."""
    stowed(store, PLAN)
    describe(store, "crate#2", name="Chipped", paths=["a.jpg"])
    assert describe(store, "crate#2", tags=["sorry"]).name == "Chipped"
    undo(store)
    with store.reading() as rows:
        assert individual(rows, "crate#2").tags == ()
    plain = describe(store, "crate#2", name="", paths=[])
    assert plain == Individual(piece="crate#2")


def test_an_individual_is_not_exchanged(store: Store) -> None:
    """A plan that names it means it, though others of its part are alike."""
    stowed(store, PLAN)
    describe(store, "crate#3", name="The best")
    other = stowing_plan({"long": ["crate#1", "crate#3"], "small": ["crate#2"]})
    stowed(store, other, "long")
    assert places(store) == {"crate#1": "long", "crate#2": "out", "crate#3": "long"}


def test_its_photos_are_told_with_its_place(store: Store) -> None:
    """Whoever looks for it sees what it looks like."""
    stowed(store, PLAN)
    describe(store, "crate#2", name="Chipped", paths=["a.jpg"])
    with store.reading() as rows:
        assert find(rows, "chipped").hits[0].photos == ("a.jpg",)
        assert find(rows, "crate").hits[0].photos == ()


def test_what_is_no_longer_owned(store: Store) -> None:
    """It is nowhere any more, and comes back if that is undone."""
    stowed(store, PLAN)
    describe(store, "crate#2", name="Chipped", paths=["a.jpg"])
    before = state(store)
    assert strike_off(store, ["crate#2", "small"]) == ("crate#2", "crate#3")
    assert places(store) == {"crate#1": "long"}
    undo(store)
    assert state(store) == before
    with pytest.raises(UsageError, match="no elephant"):
        strike_off(store, ["elephant"])


def test_several_pieces_are_no_individual(store: Store) -> None:
    """Which one is meant must be said."""
    stowed(store, PLAN)
    with pytest.raises(UsageError, match="3 pieces are called crate"):
        describe(store, "crate", name="Mine")
