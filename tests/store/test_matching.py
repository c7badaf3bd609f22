"""Which name some words mean."""

import doctest
import importlib

import pytest

from packdown.store.matching import Subject, best_matches, split_words

PARTS = tuple(
    Subject("part", name.casefold(), name, tags)
    for name, tags in (
        ("Floor 2 x 2", "ground"),
        ("Floor 4 x 2", "ground"),
        ("Wall with window", ""),
        ("Wall with doorway", ""),
        ("Stairs, left", "steps"),
        ("Stairs, right", "steps"),
        ("Crate", "goods"),
        ("Mooring post", "harbour goods"),
    )
)
BUILDS = (Subject("build", "mill", "Mill", "water"), Subject("build", "quay", "Old quay", ""))


def first(query: str) -> str:
    """Return the name of what fits best; two that fit together are joined."""
    matches = best_matches(query, (), PARTS, BUILDS)
    return " of ".join(subject.name for subject in matches[0].subjects) if matches else ""


@pytest.mark.parametrize(
    ("query", "name"),
    [
        ("stairs left", "Stairs, left"),
        ("left stair", "Stairs, left"),
        ("stiars rihgt", "Stairs, right"),
        ("wall wndow", "Wall with window"),
        ("wallwithdoorway", "Wall with doorway"),
        ("floor 4x2", "Floor 4 x 2"),
        ("flor 2 x 2", "Floor 2 x 2"),
        ("cratte", "Crate"),
        ("MOORING", "Mooring post"),
        ("harbor", "Mooring post"),
        ("old kuay", "Old quay"),
        ("water", "Mill"),
        ("mill crate", "Crate of Mill"),
        ("window of the quay", "Wall with window of Old quay"),
    ],
)
def test_what_is_meant_comes_first(query: str, name: str) -> None:
    """Typing errors, word order, parts of words, tags and builds are all understood."""
    assert first(query) == name


def test_nothing_is_like_nonsense() -> None:
    """What resembles no name is not found."""
    assert first("xyzzy") == ""
    assert first("") == ""
    assert first("!?") == ""


def test_numbers_are_not_guessed() -> None:
    """A size that nobody has does not count as one that differs in a digit."""
    best = best_matches("floor 4 x 2", (), PARTS)
    assert best[0].score > best[1].score + 0.05


def test_a_tag_finds_all_that_have_it() -> None:
    """Both things for trade are found, and equally well."""
    found = best_matches("goods", (), PARTS)
    assert {match.subjects[0].name for match in found[:2]} == {"Crate", "Mooring post"}


def test_accents_and_case_do_not_matter() -> None:
    """Words are compared in their plain form."""
    assert split_words("Mühlen-Tor") == ["muhlen", "tor"]
    assert doctest.testmod(importlib.import_module("packdown.store.matching")).failed == 0
