"""Stowing plans, wholly and in part."""

import zlib
from dataclasses import replace

import pytest

from packdown.errors import StoreError, UsageError
from packdown.files import plan_json
from packdown.model import short_id
from packdown.store.connection import Store
from packdown.store.counting import count
from packdown.store.differences import Difference
from packdown.store.finding import find
from packdown.store.moving import move
from packdown.store.stowing import preview_stow, stow
from packdown.store.tally import Answer
from packdown.store.undoing import undo
from packdown.verify import verify
from support.plans import GOOD
from support.stores import everything, places, state, stowed
from support.stow_plans import stowing_plan

FIRST = stowing_plan(
    {"long": ["crate#1", "crate#2", "mill/wall", "tile#1"], "small": ["crate#3", "tile#2"]},
    left=["tile#3"],
)
AGAIN = stowing_plan(
    {"long": ["crate#3", "crate#1", "mill/wall", "tile#2"], "small": ["crate#2", "tile#1"]},
    left=["tile#3"],
)
MOVED = stowing_plan(
    {"long": ["crate#1", "tile#1"], "small": ["crate#2", "crate#3", "mill/wall", "tile#2"]},
    left=["tile#3"],
)


def test_the_plans_of_these_tests_are_plans() -> None:
    """They keep every rule, but for naming what is left out and the bounds of builds."""
    assert verify(stowing_plan({"long": ["crate#1", "tile#1"], "small": ["tile#2"]})).ok


def test_every_piece_is_where_the_plan_puts_it(store: Store) -> None:
    """What is packed lies in its container, what is not is not stowed."""
    stowed(store, FIRST)
    assert places(store) == {
        "crate#1": "long",
        "crate#2": "long",
        "crate#3": "small",
        "mill/wall": "long",
        "tile#1": "long",
        "tile#2": "small",
        "tile#3": "unstowed",
    }


def test_loose_keys_are_pieces(store: Store) -> None:
    """The three keys in the bag of the hand-made plan can be counted, moved and lost."""
    stowed(store, GOOD)
    keys = {piece: place for piece, place in places(store).items() if piece.startswith("key:")}
    assert keys == {f"key:mill#{n}": "box" for n in (1, 2, 3)}


def test_a_preview_writes_nothing(store: Store) -> None:
    """Looking does not even make the store."""
    preview = preview_stow(store, FIRST)
    assert Difference(what="Crate", in_build=False, number=2, before="new", after="long") in (
        preview.differences
    )
    with pytest.raises(StoreError, match="no store yet"), store.reading():
        pass


def test_pieces_that_are_alike_are_not_told_apart(store: Store) -> None:
    """Where another plan exchanges crates for crates, nothing has changed."""
    stowed(store, FIRST)
    assert preview_stow(store, AGAIN).differences == ()


def test_differences_are_counted_by_kind(store: Store) -> None:
    """One crate and the wall go from the long container to the small one."""
    stowed(store, FIRST)
    assert preview_stow(store, MOVED).differences == (
        Difference(what="Crate", in_build=False, number=1, before="long", after="small"),
        Difference(what="mill", in_build=True, number=1, before="long", after="small"),
    )


def test_a_part_of_a_plan_leaves_other_containers_alone(store: Store) -> None:
    """What came out of the stowed container, and goes into none that is, is out."""
    stowed(store, FIRST)
    stowed(store, MOVED, "long")
    # the long container gives up a crate and the wall; the small one is as it was
    now = places(store)
    assert now["mill/wall"] == "out"
    assert sorted(now[f"crate#{n}"] for n in (1, 2, 3)) == ["long", "out", "small"]
    assert sorted(now[f"tile#{n}"] for n in (1, 2, 3)) == ["long", "small", "unstowed"]
    stowed(store, MOVED, "small")
    assert places(store)["mill/wall"] == "small"
    assert "out" not in places(store).values()


def test_a_container_is_not_robbed_where_others_are_at_hand(store: Store) -> None:
    """By its number a tile would come from the small container, but another one is free."""
    stowed(store, FIRST)
    more = stowing_plan(
        {"long": ["tile#2", "tile#1", "mill/wall", "crate#1", "crate#2"], "small": ["crate#3"]},
        left=["tile#3"],
    )
    stowed(store, more, "long")
    now = places(store)
    # two tiles lie in the long container now; the small one keeps the one it had
    assert sorted(now[f"tile#{n}"] for n in (1, 2, 3)) == ["long", "long", "small"]


def test_keys_that_are_back_in_joints_are_not_out(store: Store) -> None:
    """A plan that splits fewer joints needs fewer loose keys."""
    stowed(store, GOOD)
    fewer = replace(
        GOOD,
        items=tuple(replace(i, keys=2) if i.id == "keys" else i for i in GOOD.items),
    )
    stowed(store, fewer)
    now = places(store)
    assert [now[f"key:mill#{n}"] for n in (1, 2, 3)] == ["box", "box", "unstowed"]


def test_containers_go_by_their_short_ids(store: Store) -> None:
    """A label says enough to stow by."""
    assert stowed(store, FIRST, short_id("small").lower()).containers == ("small",)


def test_an_unknown_container_is_named(store: Store) -> None:
    """The nearest name is offered."""
    with pytest.raises(UsageError, match="no container smal"):
        stowed(store, FIRST, "smal")


def test_tags_come_from_the_workspace_and_stay(store: Store) -> None:
    """Stowing without the workspace at hand keeps the tags that are known."""
    stowed(store, FIRST)
    stow(store, MOVED, plan_json(MOVED))
    assert {row[0]: row[2] for row in everything(store)["parts"]}["tile"] == "floor\nGrey"


def test_what_others_changed_meanwhile_is_not_overwritten(store: Store) -> None:
    """Between looking and writing someone else stowed: the user looks again."""
    stowed(store, FIRST)
    seen = preview_stow(store, MOVED).after_change
    stowed(store, AGAIN)
    before = everything(store)
    with pytest.raises(StoreError, match="changed it meanwhile"):
        stow(store, MOVED, plan_json(MOVED), after_change=seen)
    assert everything(store) == before


def test_one_plan_is_kept_once(store: Store) -> None:
    """However often it is stowed, its document is there once, and as it was."""
    stowed(store, FIRST)
    stowed(store, FIRST)
    rows = everything(store)
    assert len(rows["plans"]) == 1
    assert len(rows["stowings"]) == 2
    assert zlib.decompress(rows["plans"][0][-1]).decode() == plan_json(FIRST)  # type: ignore[arg-type]


def test_a_missing_piece_stays_missing_where_another_is_at_hand(store: Store) -> None:
    """The plan happens to name the tile that is missing; the one that is out is meant."""
    tiles = stowing_plan({"long": ["tile#1", "tile#2"], "small": ["tile#3"]})
    stowed(store, tiles)
    count(store, "long", [Answer(what="tile#1", found=0)])
    move(store, ["tile#2"], "out")
    one = stowing_plan({"long": ["tile#1"], "small": ["tile#3"]}, left=["tile#2"])
    stowed(store, one, "long")
    assert sorted(places(store).values()) == ["long", "missing", "small"]


def test_what_is_broken_stays_broken_under_another_name(store: Store) -> None:
    """However pieces that are alike are named, as many are broken as before."""
    stowed(store, stowing_plan({"long": ["tile#1", "tile#2"], "small": []}))
    count(store, "long", [Answer(what="tile#2", found=1, broken=1)])
    move(store, ["tile#1"], "out")
    other = stowing_plan({"long": ["tile#1"], "small": []}, left=["tile#2"])
    stowed(store, other, "long")
    with store.reading() as rows:
        found = rows.rows("SELECT id, state, condition FROM pieces ORDER BY id")
    assert found == [("tile#1", "stowed", "broken"), ("tile#2", "out", "whole")]


def test_what_is_inside_measured_pieces(store: Store) -> None:
    """It is found by its name in the workspace, which is remembered."""
    whole = stowing_plan({"long": ["mill/whole"], "small": []})
    counted = replace(whole.pieces[0], contains=(("tile", 4), ("ladder", 1)))
    whole = replace(whole, pieces=(counted,))
    stowed(store, whole)
    stow(store, whole, plan_json(whole))  # without the workspace at hand
    with store.reading() as rows:
        tiles, ladder = find(rows, "floor tile").hits[0], find(rows, "ladder").hits[0]
    assert (tiles.name, tiles.number, tiles.places[0].inside) == ("Floor tile", 4, "Whole")
    assert (ladder.name, ladder.number) == ("ladder", 1)


def test_units_of_one_name_in_two_builds(store: Store) -> None:
    """Measured units may share an id: each goes by its own name."""
    plan = stowing_plan({"long": ["mill/left", "quay/left"], "small": []})
    named = (plan.pieces[0], replace(plan.pieces[1], name="Left pier"))
    stowed(store, replace(plan, pieces=named))
    with store.reading() as rows:
        assert find(rows, "left pier").hits[0].places[0].number == 1
        assert {hit.name for hit in find(rows, "left").hits} == {"Left", "Left pier"}


def test_a_build_takes_up_loose_pieces_and_gives_them_back(store: Store) -> None:
    """They go by other names then, but are owned once, and nothing is left lying about."""
    loose_ones = stowing_plan({"long": ["tile#1", "tile#2", "tile#3"], "small": []})
    built = stowing_plan({"long": ["tile#1"], "small": ["mill/tile"]}, left=["quay/tile"])
    stowed(store, loose_ones)
    before = state(store)
    assert preview_stow(store, built).differences == (
        Difference(what="quay", in_build=True, number=1, before="long", after="out"),
        Difference(what="mill", in_build=True, number=1, before="long", after="small"),
    )
    stowed(store, built)
    assert places(store) == {"mill/tile": "small", "quay/tile": "out", "tile#1": "long"}
    stowed(store, loose_ones)
    assert places(store) == {"tile#1": "long", "tile#2": "long", "tile#3": "long"}
    undo(store)
    undo(store)
    assert state(store) == before


def test_a_measured_build_takes_up_loose_pieces(store: Store) -> None:
    """What was counted in it is no longer loose."""
    stowed(store, stowing_plan({"long": ["tile#1", "tile#2", "tile#3"], "small": []}))
    whole = stowing_plan({"long": ["tile#1", "mill/whole"], "small": []})
    counted = (whole.pieces[0], replace(whole.pieces[1], contains=(("tile", 2),)))
    stowed(store, replace(whole, pieces=counted))
    assert places(store) == {"mill/whole": "long", "tile#1": "long"}


def test_what_the_plan_names_no_more_is_out(store: Store) -> None:
    """Two tiles were sold: the plan is of one, and the others are for the user to strike off."""
    stowed(store, stowing_plan({"long": ["tile#1", "tile#2", "tile#3"], "small": []}))
    stowed(store, stowing_plan({"long": ["tile#1"], "small": []}))
    assert sorted(places(store).values()) == ["long", "out", "out"]


def test_a_store_is_for_one_workspace(store: Store) -> None:
    """A plan of another one is told apart before anything is written."""
    stowed(store, FIRST)
    other = replace(MOVED, workspace="spheres")
    assert preview_stow(store, other).other_workspaces == ("cubes",)
    assert preview_stow(store, MOVED).other_workspaces == ()
