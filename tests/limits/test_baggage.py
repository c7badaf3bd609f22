"""Size and weight of baggage: IATA, "Checking in a bag" and its guidance for the cabin."""

import pytest

from packdown.files import read_defaults
from packdown.limits.baggage import BagMark, bag_mark, fits_within, linear_um
from packdown.units import parse_length, parse_weight


def cm(*sides: float) -> tuple[int, ...]:
    """Return lengths in micrometres."""
    return tuple(round(side * 10_000) for side in sides)


def test_limits_in_inches_and_pounds() -> None:
    """Derived: 62 in are 157.48 cm, 50 lb 22.68 kg, 70 lb 31.75 kg."""
    assert parse_length("62 in") == 1_574_800
    assert parse_weight("50 lb") == 22_680
    assert parse_weight("70 lb") == 31_752


def test_a_usual_box_passes_by_size() -> None:
    """IATA: 158 cm together; 600 x 400 x 280 mm are 128, 70 x 50 x 38 cm exactly 158."""
    most = read_defaults().spaces.checked.linear_um
    assert most == 1_580_000
    assert linear_um(cm(60, 40, 28)) == 1_280_000 <= most
    assert linear_um(cm(70, 50, 38)) == most


@pytest.mark.parametrize(
    ("weight", "mark"),
    [
        ("23 kg", BagMark.NONE),
        ("23.1 kg", BagMark.HEAVY),
        ("32 kg", BagMark.HEAVY),
        ("32.1 kg", BagMark.REFUSED),
    ],
)
def test_what_the_weight_of_a_piece_calls_for(weight: str, mark: BagMark) -> None:
    """HSE on air transport, after IATA's Airport Handling Manual: a heavy tag above 23 kg."""
    assert bag_mark(parse_weight(weight)) is mark


@pytest.mark.parametrize(("size", "fits"), [(cm(55, 40, 20), True), (cm(55, 40, 28), False)])
def test_what_fits_the_cabin(size: tuple[int, ...], *, fits: bool) -> None:
    """IATA's guidance: 56 x 45 x 25 cm, on any side."""
    room = read_defaults().spaces.cabin.size_um
    assert room == cm(56, 45, 25)
    assert fits_within(size, room) is fits
    assert fits_within(size[::-1], room) is fits
