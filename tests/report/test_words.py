"""Sentences."""

import doctest
from dataclasses import replace

import pytest

from packdown.geometry import WayUp
from packdown.model import NotPacked
from packdown.report import bound_words, words
from packdown.report.lookup import look_up
from support.book_plan import book_plan

LOOKUP = look_up(book_plan())


def test_examples_in_the_docstrings_hold() -> None:
    """The module's own examples are run."""
    result = doctest.testmod(words)
    assert result.attempted > 0
    assert result.failed == 0


@pytest.mark.parametrize("way", list(WayUp))
def test_every_way_up_has_its_words(way: WayUp) -> None:
    """No two ways read alike."""
    said = [words.lying(other, 0) for other in WayUp]
    assert said.count(words.lying(way, 0)) == 1


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [(30, 60, "30 to 60 s"), (60, 600, "60 s to 10 min"), (600, 600, "about 10 min")],
)
def test_ranges(low: int, high: int, said: str) -> None:
    """The unit is said once where both ends share it."""
    assert words.minutes_range(low, high) == said


def test_a_gist_is_short_and_holdings_are_complete() -> None:
    """The table has a few words, the book counts by name."""
    crate = LOOKUP.plan.containers[0]
    assert words.gist(LOOKUP, crate) == "Lantern House, Rope Bridge, 23 loose, 1 bag"
    assert words.holdings(LOOKUP, crate).startswith("1 part of Lantern House, 4 parts of Rope")


def test_the_headline_counts_what_stays_whole() -> None:
    """None of the three builds fits in one piece."""
    assert "Of 3 builds, none stay whole; 47 joints are split." in words.headline(LOOKUP)
    assert words.split_words(LOOKUP.plan.builds[2]) == "10 of 16 joints: 6 keyed, 4 stacked"
    assert words.split_share(LOOKUP.plan.builds[2]) == "10 of 16"


def test_things_left_out_are_counted_by_name_and_reason() -> None:
    """Fourteen alike are one line; a single one is named by its id."""
    loose = [item.id for item in LOOKUP.plan.items if item.id.startswith("floor#")]
    left = tuple(NotPacked(item=name, reason="no room") for name in (*loose, "bag-1"))
    lookup = replace(LOOKUP, plan=replace(LOOKUP.plan, not_packed=left))
    assert words.left_out(lookup) == (
        ("12 x Flagstone floor", "no room"),
        ("Bag of keys (bag-1)", "no room"),
    )


def test_bounds_are_said_only_of_plans_that_pack_all() -> None:
    """A plan that leaves half of it out must not be called proved least."""
    assert LOOKUP.plan.not_packed
    assert {bound for _, _, bound in bound_words.bounds_sentences(LOOKUP.plan)} == {""}
    full = replace(LOOKUP.plan, not_packed=())
    said = {what: bound for what, _, bound in bound_words.bounds_sentences(full)}
    assert said["Containers"] == "at most 1 more than necessary"
    assert said["Weight"] == "proved least"
