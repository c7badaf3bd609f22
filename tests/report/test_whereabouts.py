"""Where things are, in words."""

import doctest
from dataclasses import replace

from packdown.geometry import Cuboid
from packdown.report import whereabouts
from packdown.report.whereabouts import found_data, hit_lines, place_words
from packdown.store.records import Box, Found, Hit, HitKind, State, StowedItem, Total, Whereabouts

BOX = Box(id="long", short_id="ZHKF08", name="Long box")
STAIRS = StowedItem(
    number=4,
    item="stairs#1",
    name="Stairs",
    kind="loose",
    layer=2,
    box_um=Cuboid(0, 0, 100, 50, 50, 150),
    inner_um=(600, 400, 200),
    under=("Bridge deck",),
    lift_first=((9, "Crate"), (7, "Bridge deck")),
)
PLACE = Whereabouts(number=1, state=State.STOWED, box=BOX, item=STAIRS)
HIT = Hit(
    kind=HitKind.PART,
    id="stairs",
    name="Stairs",
    score=1.0,
    number=3,
    totals=(
        Total(state=State.STOWED, box=BOX, number=2),
        Total(state=State.MISSING, box=None, number=1),
    ),
    places=(
        PLACE,
        Whereabouts(
            number=1,
            state=State.MISSING,
            seen_in=BOX,
            event="Spring day",
        ),
    ),
)


def test_a_place_in_words() -> None:
    """Layer, third of the container, and what is above."""
    assert place_words(STAIRS) == "second layer, front left, under Bridge deck"
    free = replace(STAIRS, under=(), lift_first=())
    assert place_words(free) == "second layer, front left, nothing above it"
    many = replace(STAIRS, under=("A", "B", "C", "D", "E"))
    assert place_words(many) == "second layer, front left, under A, B, C and 2 more"


def test_a_hit_in_lines() -> None:
    """A heading, each place, and what comes out first."""
    assert list(hit_lines(HIT)) == [
        "Stairs: 3 pieces",
        "  Long box (ZHKF08): 2, 1 of them in the second layer, front left, under Bridge deck",
        "    lift out first: Crate (9) and Bridge deck (7)",
        "  missing for Spring day, last seen in Long box (ZHKF08): 1",
    ]


def test_pieces_put_in_by_hand() -> None:
    """Their container is known, their place is not."""
    hand = replace(HIT, totals=HIT.totals[:1], places=(replace(PLACE, item=None, broken=True),))
    assert list(hit_lines(hand))[1] == (
        "  Long box (ZHKF08): 2, 1 of them put in by hand, place not recorded, broken"
    )


def test_places_that_are_not_described_are_counted() -> None:
    """Where only some places are described, the totals of the others are still given."""
    assert list(hit_lines(replace(HIT, places=HIT.places[:1])))[-1] == "  missing: 1"


def test_data_hold_the_words() -> None:
    """Another program gets the same words, beside the figures."""
    data = found_data(Found(hits=(HIT,)))
    assert data["hits"][0]["places"][0]["words"] == place_words(STAIRS)
    assert data["hits"][0]["places"][1]["words"].startswith("missing")


def test_the_examples_of_the_docs() -> None:
    """What the documentation shows is what the functions return."""
    assert doctest.testmod(whereabouts).failed == 0
