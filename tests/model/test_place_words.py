"""Places in a container, in words."""

import doctest
import importlib

import pytest

from packdown.geometry import Cuboid
from packdown.model import place_in_words

INNER = (300, 300, 100)


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        (0, 0, "front left"),
        (140, 0, "front"),
        (280, 0, "front right"),
        (0, 140, "left"),
        (140, 140, "middle"),
        (280, 280, "back right"),
    ],
)
def test_thirds_are_named(x: int, y: int, words: str) -> None:
    """The middle of the box decides; the front is where y is 0, the left where x is 0."""
    assert place_in_words(Cuboid(x, y, 0, x + 20, y + 20, 10), INNER) == words


def test_a_box_as_large_as_the_container_is_in_its_middle() -> None:
    """What fills the container lies in the middle of it."""
    assert place_in_words(Cuboid(0, 0, 0, *INNER), INNER) == "middle"


def test_the_examples_of_the_docs() -> None:
    """What the documentation shows is what the functions return."""
    result = doctest.testmod(importlib.import_module("packdown.model.place_words"))
    assert result.attempted
    assert not result.failed
