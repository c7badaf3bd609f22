"""Finding pieces in the store."""

import pytest

from packdown.errors import UsageError
from packdown.model import short_id
from packdown.store.connection import Store
from packdown.store.finding import box_of, find
from packdown.store.records import Hit, HitKind, State
from support.plans import GOOD
from support.stores import stowed
from support.stow_plans import stowing_plan

CRATES = [f"crate#{n}" for n in range(1, 11)]
PLAN = stowing_plan(
    {"long": [*CRATES, "mill/wall", "tile#1"], "small": ["crate#11", "mill/roof"], "spare": []},
    left=["tile#2"],
)


def best(store: Store, words: str) -> Hit:
    """Return the best hit."""
    with store.reading() as rows:
        return find(rows, words).hits[0]


def test_a_part_is_found_in_every_container(store: Store) -> None:
    """Eleven crates: ten in one container, one in the other, the easiest to reach first."""
    stowed(store, PLAN)
    hit = best(store, "crates")
    assert (hit.kind, hit.id, hit.number) == (HitKind.PART, "crate", 11)
    assert {(t.box.id if t.box else "", t.number) for t in hit.totals} == {
        ("long", 10),
        ("small", 1),
    }
    reach = [len(place.item.lift_first) for place in hit.places if place.item]
    assert reach == sorted(reach)


def test_what_lies_above_is_told(store: Store) -> None:
    """The first crate is under the ninth, which must be lifted first."""
    stowed(store, PLAN)
    place = best(store, "crate#1").places[0]
    assert place.item is not None
    assert place.item.layer == 1
    assert place.item.under == ("crate#9",)
    assert place.item.lift_first == ((9, "crate#9"),)


def test_a_build_and_a_part_of_it(store: Store) -> None:
    """The build is found with all its pieces, or only one kind of them."""
    stowed(store, PLAN)
    assert (best(store, "mill").kind, best(store, "mill").number) == (HitKind.BUILD, 2)
    wall = best(store, "mill wall")
    assert (wall.kind, wall.number) == (HitKind.PART_OF_BUILD, 1)
    assert wall.totals[0].box is not None
    assert wall.totals[0].box.id == "long"


def test_tags_of_parts_and_of_builds(store: Store) -> None:
    """A word that only the workspace's tags hold is enough."""
    stowed(store, PLAN)
    assert best(store, "goods").id == "crate"
    assert best(store, "water").id == "mill"
    assert best(store, "gray").id == "tile"  # the tag is Grey


def test_a_short_id_finds_the_container(store: Store) -> None:
    """What a label says is what a search understands."""
    stowed(store, PLAN)
    hit = best(store, short_id("small").lower())
    assert (hit.kind, hit.id, hit.number) == (HitKind.CONTAINER, "small", 2)
    assert best(store, "spare").number == 0


def test_what_is_not_stowed_is_found_too(store: Store) -> None:
    """A piece that was left out of the plan is said to be nowhere."""
    stowed(store, PLAN)
    assert best(store, "tile#2").places[0].state is State.UNSTOWED


def test_loose_keys_are_found_by_their_build(store: Store) -> None:
    """Keys lie in the bag of their build."""
    stowed(store, GOOD)
    hit = best(store, "loose key mill")
    assert hit.number == 3
    assert hit.places[0].item is not None
    assert hit.places[0].item.name == "keys"


def test_only_so_many_hits(store: Store) -> None:
    """What is left off is counted."""
    stowed(store, stowing_plan({"long": [f"wall-{n}#1" for n in range(1, 9)]}))
    with store.reading() as rows:
        found = find(rows, "wall", num_hits=3, num_places=1)
    assert len(found.hits) == 3
    assert found.num_more == 5


def test_nothing_found(store: Store) -> None:
    """Nonsense finds nothing."""
    stowed(store, PLAN)
    with store.reading() as rows:
        assert find(rows, "xyzzy").hits == ()


def test_containers_by_any_of_their_names(store: Store) -> None:
    """Id, short id and name are understood; others are refused with the nearest one."""
    stowed(store, PLAN)
    with store.reading() as rows:
        for name in ("long", short_id("long"), short_id("long").lower(), "LONG"):
            assert box_of(rows, name).id == "long"
        with pytest.raises(UsageError, match="no container lonng"):
            box_of(rows, "lonng")
