"""Contents and counts as plain rows."""

import pytest

from packdown.errors import InputError, UsageError
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.exchange import Content, Stated, contents, counts, put_contents
from packdown.store.finding import box_of
from packdown.store.moving import move
from packdown.store.tally import Answer
from support.stores import everything, places, stowed
from support.stow_plans import stowing_plan

PLAN = stowing_plan({"long": ["crate#1", "mill/wall"], "small": ["crate#2"]}, left=["tile#1"])


def stated(rows: tuple[Content, ...]) -> list[Stated]:
    """State what a table of contents says."""
    return [
        Stated(piece=r.piece, place=r.place, condition=r.condition, event=r.event) for r in rows
    ]


def test_every_piece_is_a_row(store: Store) -> None:
    """With its names, its place in words, and what it was put in as."""
    stowed(store, PLAN)
    with store.reading() as rows:
        found = {row.piece: row for row in contents(rows)}
        inside = contents(rows, box_of(rows, "long"))
    assert found["mill/wall"] == Content(
        piece="mill/wall",
        part="wall",
        name="Wall",
        build="mill",
        place="long",
        condition="whole",
        event="",
        item="mill/wall",
        layer=1,
        where="front left",
    )
    assert found["tile#1"].place == "unstowed"
    assert {row.piece for row in inside} == {"crate#1", "mill/wall"}


def test_what_goes_out_comes_in_again(store: Store) -> None:
    """A table that nobody altered changes nothing; an old one brings back the old places."""
    stowed(store, PLAN)
    with store.reading() as rows:
        table = stated(contents(rows))
    with pytest.raises(UsageError, match="already recorded"):
        put_contents(store, table, "contents.csv")
    before = places(store)
    move(store, ["crate"], "out", event="Spring day")
    count(store, "long", [Answer(what="wall", found=1, broken=1)])
    assert set(put_contents(store, table, "contents.csv")) == {"crate#1", "crate#2", "mill/wall"}
    assert places(store) == before


def test_all_that_is_wrong_is_named_at_once(store: Store) -> None:
    """Nothing is then recorded."""
    stowed(store, PLAN)
    before = everything(store)
    table = [
        Stated(piece="crate#9", place="long", entry="line 2"),
        Stated(piece="crate#1", place="nowhere", entry="line 3"),
        Stated(piece="crate#2", place="out", condition="bent", entry="line 4"),
        Stated(piece="tile#1", place="out", entry="line 5"),
        Stated(piece="tile#1", place="long", entry="line 6"),
    ]
    with pytest.raises(InputError) as caught:
        put_contents(store, table, "contents.csv")
    assert [problem.entry for problem in caught.value.problems] == [
        "line 2", "line 3", "line 4", "line 6",
    ]  # fmt: skip
    assert everything(store) == before


def test_counts_are_listed(store: Store) -> None:
    """Every line of every count, with what was expected."""
    stowed(store, PLAN)
    count(store, "long", [Answer(what="crate", found=0), Answer(what="wall", found=1)])
    with store.reading() as rows:
        found = counts(rows)
    assert [(line.container, line.what, line.expected, line.found) for line in found] == [
        ("long", "mill/wall", 1, 1),
        ("long", "crate", 1, 0),
    ]
