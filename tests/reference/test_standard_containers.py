"""Standard containers from the catalogue, stacked and side by side."""

from dataclasses import replace

import pytest

from packdown.files.containers import read_catalogue
from packdown.model import Cargo, Opening, OpeningSide
from packdown.planning.loading import load
from support.loads import box, vehicle


def of_type(kind: str, name: str) -> Cargo:
    """Return a container of the catalogue as cargo of 10 kg."""
    found = read_catalogue()[kind]
    assert found
    assert found.outer
    sides = tuple(side // 1_000 for side in found.outer)
    cargo = box(name, 10_000, (sides[0], sides[1], sides[2]))
    return replace(cargo, nest_um=found.nest or 0)


def test_three_load_carriers_stack_to_810_mm() -> None:
    """VDA 4500: 280 mm high, 15 mm of rim, so 280 + 265 + 265 mm."""
    cargo = [of_type("klt-600x400x280", name) for name in "abc"]
    room = (600_000, 400_000, 810_000)
    door = Opening(side=OpeningSide.BACK, low_um=(0, 0), size_um=(600_000, 1_000_000))
    space = replace(vehicle(), size_um=(*room[:2], 1_000_000), opening=door, seat_back_um=810_000)
    loaded = load(space, cargo, effort=1).loaded
    assert [place.at_um[2] for place in loaded] == [0, 265_000, 530_000]
    lower = replace(space, seat_back_um=809_000)
    assert len(load(lower, cargo, effort=1).loaded) == 2


def test_four_modules_fill_a_pallet() -> None:
    """ISO 3394 and 3676: four of 600 x 400 mm on 1,200 x 800 mm, nothing wasted."""
    door = Opening(side=OpeningSide.BACK, low_um=(0, 0), size_um=(1_200_000, 700_000))
    space = replace(
        vehicle(), size_um=(1_200_000, 800_000, 700_000), opening=door, seat_back_um=320_000
    )
    cargo = [box(name, 5_000, (600, 400, 320)) for name in "abcde"]
    assert len(load(space, cargo, effort=1).loaded) == 4


@pytest.mark.parametrize(
    ("kind", "number", "area"),
    [
        ("gn-1-1", 1, 172_250),
        ("gn-1-2", 2, 172_250),
        ("gn-1-3", 3, 171_600),
        ("gn-1-4", 4, 171_720),
    ],
)
def test_fractions_of_gastronorm(kind: str, number: int, area: int) -> None:
    """EN 631-1: fractions of 530 x 325 mm, which is 172,250 mm2."""
    outer = next(
        entry.outer for name, entry in read_catalogue().items() if name.startswith(kind) and entry
    )
    assert outer
    assert number * (outer[0] // 1_000) * (outer[1] // 1_000) == area
