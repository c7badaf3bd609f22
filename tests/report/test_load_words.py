"""A load in words and in pictures."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

from packdown.model import Loading
from packdown.planning.loading import load
from packdown.report.load_pictures import load_picture, load_step_pictures
from packdown.report.load_words import (
    left_lines,
    load_cautions,
    load_headline,
    load_steps,
    securing_lines,
)
from packdown.report.standalone import svg_file
from support.loads import box, vehicle


def loading() -> Loading:
    """Return two boxes in a small car and one that is too heavy for it."""
    space = replace(vehicle(), seat_back_um=400_000)
    cargo = [box("a", 9_000), box("b", 8_000), box("c", 151_000)]
    return load(space, cargo, ["b", "a"], effort=1)


def test_the_headline_counts_containers_weight_and_room() -> None:
    """2 x 24 of 320 litres below the seat back."""
    expected = "Car: 2 of 3 containers, 17.0 kg of 150.0 kg, 15% of the room."
    assert load_headline(loading()) == expected


def test_steps_say_where_each_container_stands() -> None:
    """In loading order: what is needed first comes last."""
    first, second = load_steps(loading())
    assert first.startswith("A, 9.0 kg: ")
    assert second.startswith("B, 8.0 kg: ")
    assert "against the seat back, on the floor" in first


def test_straps_are_told_with_the_force() -> None:
    """0.2 x 9 kg x 9.81 m/s2 are 17.7 N: as much as 1.8 kg weigh."""
    (line,) = [line for line in securing_lines(loading()) if line.startswith("A ")]
    assert "can slide to the back" in line
    assert "about 18 N, as much as 1.8 kg weigh" in line


def test_what_stays_is_told_with_its_reason() -> None:
    """The reason of the load, with the name."""
    assert left_lines(loading()) == ("C: weighs 151.0 kg, the payload is 150.0 kg",)


def test_a_guard_is_counted_on_openly() -> None:
    """Whoever loads above the seat back is told that something must hold it."""
    guarded = replace(loading(), space=replace(vehicle(), guarded=True))
    assert [caution.title for caution in load_cautions(guarded)] == [
        "Before you drive off",
        "Above the seat back",
    ]


def test_the_pictures_number_what_is_loaded() -> None:
    """The whole load shows every number, each step only that of what is new."""
    found = loading()
    numbers = [re.findall(r'<text class="n\d b"[^>]*>(\d+)<', drawn)
               for drawn in (load_picture(found), *load_step_pictures(found))]  # fmt: skip
    assert numbers == [["1", "2"], ["1"], ["2"]]


def test_the_pictures_are_one_file() -> None:
    """It is well formed, and each drawing says what it shows."""
    found = loading()
    text = svg_file([load_picture(found), *load_step_pictures(found)])
    titles = [node.text for node in ET.fromstring(text).iter() if node.tag.endswith("title")]  # noqa: S314 - our own
    assert titles == ["Car with all that is loaded", "Car after step 1", "Car after step 2"]
