"""Placed builds drawn by the program: reading the drawing puts every piece where it was."""

from collections import Counter

import pytest

from packdown.files import read_defaults
from packdown.files.drawn import drawing_text, read_drawing, spots_of
from packdown.files.drawn.drafting import draft
from packdown.files.place import Place
from packdown.files.placing import distance
from packdown.files.spots import Spot, heights
from packdown.model import Part
from support.drafts import as_spots
from support.grown_builds import SHAPES, grown_build

MM = 1_000
SQUARE = 32 * MM


def stands(spots: list[Spot] | tuple[Spot, ...]) -> list[tuple[object, ...]]:
    """Return where every piece stands, once all have come down."""
    return [
        (spot.part, spot.way_up, spot.turn, spot.x_um, spot.y_um, z)
        for spot, z in zip(spots, heights(spots), strict=True)
    ]


def read_again(spots: list[Spot], cell_um: int) -> tuple[str, tuple[Spot, ...], dict[str, str]]:
    """Draw pieces, print the drawing, and return it with what it is read as."""
    found = draft(spots, SQUARE, cell_um)
    text = drawing_text(found.levels)
    place = Place("builds/grown.toml", [], "builds.grown.plan")
    levels = read_drawing(text, place)
    assert drawing_text(levels) == text
    again = spots_of(levels, found.symbols, cell_um, distance(SQUARE), place)
    assert not place.found
    return text, again, found.names


@pytest.mark.parametrize("cell_um", [64 * MM, 32 * MM])
@pytest.mark.parametrize("shape", SHAPES)
def test_all_shapes_of_the_benchmark_can_be_drawn(shape: str, cell_um: int) -> None:
    """Rooms, corridors, two storeys, steps and bridges: the same pieces in the same places."""
    settings = read_defaults().settings
    for seed in range(8):
        spots = as_spots(grown_build(shape, 20 + 15 * seed, settings, seed=seed))
        _, again, names = read_again(spots, cell_um)
        assert Counter(stands(spots)) == Counter(stands(again))
        by_name = dict(zip((spot.id for spot in again), stands(again), strict=True))
        for spot, stand in zip(spots, stands(spots), strict=True):
            assert by_name[names[spot.id]] == stand
        assert len(set(names.values())) == len(spots)


@pytest.mark.parametrize("shape", SHAPES)
def test_forty_pieces_take_few_lines(shape: str) -> None:
    """Drawn on cells of two squares, none of these builds takes more than 20 lines of drawing."""
    settings = read_defaults().settings
    for seed in range(10):
        spots = as_spots(grown_build(shape, 40, settings, seed=seed))
        text, _, _ = read_again(spots, 64 * MM)
        assert len(text.splitlines()) <= 20


def test_what_is_off_the_grid_is_drawn_with_a_shift(slab: Part) -> None:
    """Two slabs 5 mm and 7 mm off the grid, one at a height where nothing holds it."""
    spots = [
        Spot(
            id=f"s{x}", part=slab, x_um=x, y_um=7 * MM, z_um=z, turn=90,
            way_up=slab.ways_up[1], place=Place("", []),
        )
        for x, z in ((0, 0), (5 * MM + 64 * MM, 0), (69 * MM, 33 * MM))
    ]  # fmt: skip
    text, again, _ = read_again(spots, 64 * MM)
    assert Counter(stands(again)) == Counter(stands(spots))
    assert "-- at" in text
    assert "height 33mm" in text
