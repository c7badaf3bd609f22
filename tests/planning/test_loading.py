"""Containers are loaded low, near the seat back, and in the order of need."""

from dataclasses import replace

from packdown.geometry import Cuboid
from packdown.model import LoadSpace, Opening, OpeningSide
from packdown.planning.loading import load
from support.loads import box, vehicle


def test_two_boxes_stand_side_by_side_against_the_seat_back() -> None:
    """Low comes before high, and both touch the far end of a floor of 1,000 x 800 mm."""
    loading = load(vehicle(), [box("a", 5_000), box("b", 6_000)])
    assert {place.at_um[1:] for place in loading.loaded} == {(500_000, 0)}
    assert not loading.left


def test_what_is_needed_first_is_loaded_last() -> None:
    """Whatever their weights, boxes go in against the order of need."""
    cargo = [box(name, 4_000) for name in "abcdef"]
    loading = load(vehicle(), cargo, ["f", "a", "d"])
    names = [place.container for place in loading.loaded]
    assert names[-3:] == ["d", "a", "f"]
    assert set(names) == set("abcdef")


def test_the_payload_leaves_boxes_behind() -> None:
    """Three boxes of 8 kg do not go into a car that takes 20 kg, and the reason says so."""
    space = replace(vehicle(), payload_g=20_000)
    loading = load(space, [box(name, 8_000) for name in "abc"])
    (left,) = loading.left
    assert left.reason == "weighs 8.0 kg, and 4.0 kg of the payload is left"


def test_what_can_never_fit_is_told_why() -> None:
    """Too heavy, above the seat back, larger than the floor, or than the opening."""
    narrow = Opening(side=OpeningSide.BACK, low_um=(350_000, 0), size_um=(250_000, 600_000))
    cases: tuple[tuple[LoadSpace, int, tuple[int, int, int], str], ...] = (
        (vehicle(), 300_000, (400, 300, 200), "weighs 300.0 kg, the payload is 150.0 kg"),
        (vehicle(), 5_000, (400, 300, 550), "is 550 mm high, above the seat back at 500 mm"),
        (replace(vehicle(), guarded=True), 5_000, (400, 300, 750), "above the roof at 700 mm"),
        (vehicle(), 5_000, (1_100, 300, 200), "larger than the inside of 1000 x 800 x 500 mm"),
        (replace(vehicle(), opening=narrow), 5_000, (400, 300, 200), "the opening is 250 mm by"),
    )
    for space, grams, size, reason in cases:
        (left,) = load(space, [box("a", grams, size)]).left
        assert reason in left.reason


def test_the_same_load_comes_out_again() -> None:
    """Same cargo, space, seed and effort: the same load."""
    cargo = [box(name, 3_000 + 500 * n, (400, 300, 220)) for n, name in enumerate("abcdefg")]
    assert load(vehicle(), cargo, seed=3, effort=1) == load(vehicle(), cargo, seed=3, effort=1)


def test_a_box_behind_a_wheel_arch_goes_round_it() -> None:
    """A floor that is narrow in the middle: a long box is lifted over the arches."""
    arches = (
        Cuboid(0, 200_000, 0, 200_000, 450_000, 400_000),
        Cuboid(800_000, 200_000, 0, 1_000_000, 450_000, 400_000),
    )
    space = replace(vehicle(), blocked_um=arches)
    (place,) = load(space, [box("a", 5_000, (900, 300, 200))]).loaded
    assert place.at_um[1:] == (500_000, 0)
    assert place.path_um[0][2] == 400_000
    low = replace(space, size_um=(1_000_000, 800_000, 590_000), opening=_opening(590_000))
    assert not load(low, [box("a", 5_000, (900, 300, 200))]).loaded


def test_an_open_tailgate_is_in_nobodys_way() -> None:
    """Where it leans in when closed nothing may stand, but a high box passes while it is open."""
    slope = (Cuboid(0, 0, 300_000, 1_000_000, 100_000, 700_000),)
    space = replace(vehicle(), door_um=slope)
    (place,) = load(space, [box("a", 5_000, (600, 400, 450))]).loaded
    assert place.at_um[1] == 400_000
    assert not load(space, [box("a", 5_000, (900, 750, 450))]).loaded


def _opening(height_um: int) -> Opening:
    return Opening(side=OpeningSide.BACK, low_um=(0, 0), size_um=(1_000_000, height_um))


def test_nothing_to_load_is_an_empty_load() -> None:
    """No container, nothing loaded, nothing left."""
    loading = load(vehicle(), [])
    assert (loading.loaded, loading.left, loading.securing) == ((), (), ())
