"""What lies in a container, and the containers of a build."""

import pytest

from packdown.errors import UsageError
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.listing import list_container, spread_of
from packdown.store.moving import move
from packdown.store.tally import Answer
from support.plans import GOOD
from support.stores import stowed


def test_a_container_and_all_that_is_in_it(store: Store) -> None:
    """What is in the box of the hand-made plan, with what it weighs."""
    stowed(store, GOOD)
    with store.reading() as rows:
        listing = list_container(rows, "box")
    # a floor, a wall and a balcony; a floor and a wall; 3 keys; two tiles; two crates
    assert [item.present for item in listing.items] == [3, 2, 3, 1, 1, 2]
    assert listing.number == 12
    # 500 g of box, 90 + 70 g without the keys in their joints, 3 g of keys, 50 g, 8 g
    assert listing.weight_g == 721
    assert listing.stacked_on is None
    with store.reading() as rows:
        tray = list_container(rows, "tray")
    assert tray.stacked_on == listing.box


def test_what_was_taken_out_and_put_in(store: Store) -> None:
    """An item that lost a piece says so; what came by hand and what is missing is listed apart."""
    stowed(store, GOOD)
    move(store, ["b1", "s1"], "case")
    count(store, "box", [Answer(what="t1", found=0)])
    with store.reading() as rows:
        box, case = list_container(rows, "box"), list_container(rows, "case")
    assert (box.items[0].present, box.items[0].num_pieces) == (2, 3)
    assert [(one.name, one.number) for one in box.missing] == [("t1", 1)]
    assert [(one.name, one.number) for one in case.by_hand] == [("b1 of Mill", 1), ("s1", 1)]


def test_a_build_over_two_containers(store: Store) -> None:
    """The chimney is in the tray that stands on the box: the tray is unpacked first."""
    stowed(store, GOOD)
    with store.reading() as rows:
        spread = spread_of(rows, "mil")
    assert (spread.id, spread.number) == ("mill", 9)
    assert [(stop.box.id, stop.number) for stop in spread.stops] == [("tray", 1), ("box", 8)]
    assert [box.id for box in spread.stops[1].lift_off] == ["tray"]
    assert {named.name for named in spread.stops[1].what} == {"half-1", "half-2", "keys"}


def test_what_of_a_build_is_elsewhere(store: Store) -> None:
    """What is out is counted apart."""
    stowed(store, GOOD)
    move(store, ["chimney"], "out")
    with store.reading() as rows:
        spread = spread_of(rows, "mill")
        assert [(str(total.state), total.number) for total in spread.elsewhere] == [("out", 1)]
        with pytest.raises(UsageError, match="no build xyzzy"):
            spread_of(rows, "xyzzy")
