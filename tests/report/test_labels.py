"""Numbers lie on what they name and never on each other."""

import pytest

from packdown.report.labels import FONTS, Label, Region, place_labels

SIZE = (800, 800)


def _square(owner: int, x: int, y: int, side: int, face: int = 0) -> Region:
    corners = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    return Region(owner, face, corners)


def test_a_number_lies_in_the_middle_of_its_square() -> None:
    """Most room is in the middle."""
    labels = place_labels([_square(1, 100, 200, 300)], SIZE, {1: "1"})
    assert labels[1].x == pytest.approx(250, abs=12)
    assert labels[1].y == pytest.approx(350, abs=12)
    assert labels[1].font == 0


def test_a_number_moves_to_what_is_left_in_sight() -> None:
    """Where a later thing covers the middle, the number goes where its thing still shows."""
    covered = [_square(1, 0, 0, 600), _square(2, 150, 150, 600)]
    label = place_labels(covered, SIZE, {1: "1"})[1]
    assert label.x < 150 or label.y < 150


def test_what_is_hidden_gets_no_number() -> None:
    """A thing that is wholly covered is not named on top of another."""
    hidden = [_square(1, 200, 200, 100), _square(2, 100, 100, 400)]
    assert set(place_labels(hidden, SIZE, {1: "1", 2: "2"})) == {2}


def test_a_number_keeps_off_the_edge_between_two_faces() -> None:
    """The larger of two faces takes the number."""
    faces = [_square(1, 0, 0, 400, face=0), _square(1, 400, 0, 160, face=1)]
    assert place_labels(faces, SIZE, {1: "7"})[1].x == pytest.approx(200, abs=12)


def test_numbers_on_thin_things_side_by_side_do_not_collide() -> None:
    """Walls stored on edge: their numbers are staggered along them."""
    walls = [
        Region(n, 0, ((20 * n, 100), (20 * n + 16, 100), (20 * n + 16, 700), (20 * n, 700)))
        for n in range(1, 13)
    ]
    labels = place_labels(walls, SIZE, {n: str(n) for n in range(1, 13)})
    for n, label in labels.items():
        assert 20 * n - 8 <= label.x <= 20 * n + 24
    pairs = [(a, b) for a in labels for b in labels if a < b]
    assert not any(_collide(labels[a], labels[b], len(f"{a}{b}") / 2) for a, b in pairs)


def _collide(a: Label, b: Label, letters: float) -> bool:
    size = FONTS[max(a.font, b.font)]
    return abs(a.x - b.x) < 0.6 * letters * size and abs(a.y - b.y) < 0.7 * size


def test_owners_with_too_little_room_stay_without() -> None:
    """A sliver of what is mostly hidden is not labelled in a perspective."""
    sliver = [Region(1, 0, ((0, 0), (300, 0), (300, 12), (0, 12)))]
    assert place_labels(sliver, SIZE, {1: "1"}, least_room=16) == {}
    assert place_labels(sliver, SIZE, {1: "1"}) != {}


def test_a_crowded_perspective_leaves_numbers_out_rather_than_on_each_other() -> None:
    """Forty slivers have no room for forty numbers; seen from above all must have one."""
    slivers = [
        Region(n, 0, ((10 * n, 0), (10 * n + 10, 0), (10 * n + 10, 48), (10 * n, 48)))
        for n in range(1, 41)
    ]
    texts = {n: str(n + 100) for n in range(1, 41)}
    some = place_labels(slivers, SIZE, texts, least_room=1)
    assert 0 < len(some) < 40
    pairs = [(some[a], some[b]) for a in some for b in some if a < b]
    assert not any(_collide(a, b, 3) for a, b in pairs)
    assert len(place_labels(slivers, SIZE, texts)) == 40
