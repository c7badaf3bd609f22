"""Moving pieces by hand."""

import pytest

from packdown.errors import UsageError
from packdown.model import short_id
from packdown.store.connection import Store
from packdown.store.finding import find
from packdown.store.moving import move
from packdown.store.sweeping import sweep
from support.plans import GOOD
from support.stores import everything, places, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan(
    {
        "long": [*(f"crate#{n}" for n in range(1, 10)), "mill/wall", "mill/roof"],
        "small": ["crate#10", "tile#1"],
        "spare": [],
    }
)


def where(store: Store, prefix: str) -> set[str]:
    """Return where pieces of a prefix are."""
    return {place for piece, place in places(store).items() if piece.startswith(prefix)}


def test_one_piece_goes_into_another_container(store: Store) -> None:
    """It is then in that container alone, without a place in it."""
    stowed(store, PLAN)
    moved = move(store, ["crate#1"], short_id("small"))
    assert moved.pieces == ("crate#1",)
    assert places(store)["crate#1"] == "small"
    with store.reading() as rows:
        assert find(rows, "crate#1").hits[0].places[0].item is None


def test_a_build_goes_out_for_an_event(store: Store) -> None:
    """Its pieces are found by the event, and swept up until they are stowed again."""
    stowed(store, PLAN)
    move(store, ["mill"], "out", event="Spring day")
    assert where(store, "mill/") == {"out"}
    with store.reading() as rows:
        assert find(rows, "spring").hits[0].number == 2
        loose = sweep(rows).loose
    assert [(one.name, one.event, one.seen_in and one.seen_in.id) for one in loose] == [
        ("Roof", "Spring day", "long"),
        ("Wall", "Spring day", "long"),
    ]
    stowed(store, PLAN, "long")
    with store.reading() as rows:
        assert sweep(rows).loose == ()


def test_so_many_of_a_part_the_easiest_first(store: Store) -> None:
    """On the first three crates lie another crate, the wall and the roof: they are left."""
    stowed(store, PLAN)
    moved = move(store, ["crate"], "spare", source="long", number=6)
    assert set(moved.pieces) == {f"crate#{n}" for n in range(4, 10)}
    with pytest.raises(UsageError, match="several places"):
        move(store, ["crate"], "out", number=1)
    with pytest.raises(UsageError, match="there are only 10"):
        move(store, ["crate"], "out", number=11)
    with pytest.raises(UsageError, match="no tile lies in long"):
        move(store, ["tile"], "out", source="long")


def test_a_container_is_emptied(store: Store) -> None:
    """A container stands for all that is in it."""
    stowed(store, PLAN)
    assert len(move(store, ["small"], "out").pieces) == 2
    assert "small" not in places(store).values()


def test_an_item_of_the_plan_moves_as_a_whole(store: Store) -> None:
    """All pieces of a sub-assembly go where it goes, and a bag with its keys."""
    stowed(store, GOOD)
    assert set(move(store, ["half-1"], "spare").pieces) == {"f1", "w1", "b1"}
    assert len(move(store, ["keys"], "spare").pieces) == 3


def test_what_is_there_already(store: Store) -> None:
    """Nothing is recorded then."""
    stowed(store, PLAN)
    before = everything(store)
    with pytest.raises(UsageError, match="already to long"):
        move(store, ["mill"], "long")
    with pytest.raises(UsageError, match="no elephant"):
        move(store, ["elephant"], "out")
    with pytest.raises(UsageError, match="only what is out"):
        move(store, ["mill"], "long", event="Spring day")
    assert everything(store) == before


def test_the_load_of_the_container_is_told(store: Store) -> None:
    """Thirteen pieces of 10 g in one container that may hold 2 kg."""
    stowed(store, PLAN)
    moved = move(store, ["long"], "small")
    assert (moved.weight_g, moved.payload_g) == (130, 2_000)
