"""Sizes and weights against published figures: what the program reads, multiplies and shows."""

from fractions import Fraction

import pytest

from packdown.geometry import Cuboid
from packdown.units import Rounding, format_length, parse_length, parse_weight

UM3_BY_LITRE = 10**15


def sizes(*texts: str) -> Cuboid:
    """Return a cuboid of three lengths."""
    length, width, height = (parse_length(text) for text in texts)
    return Cuboid(0, 0, 0, length, width, height)


def grams(cuboid: Cuboid, g_per_cm3: str) -> float:
    """Return the weight of a full cuboid; a cubic centimetre is 1e12 cubic micrometres."""
    return float(cuboid.volume * Fraction(g_per_cm3) / 10**12)


@pytest.mark.parametrize(
    ("density", "weight"),
    [("1.38", 28.49), ("1.24", 25.60), ("1.08", 22.30)],
    ids=["PVC", "PLA", "PU"],
)
def test_a_two_inch_tile_weighs_by_its_density(density: str, weight: float) -> None:
    """A tile of 50.8 x 50.8 x 8 mm, of PVC, PLA and PU: usual densities of the materials."""
    assert grams(sizes("2 in", "2 in", "8 mm"), density) == pytest.approx(weight, rel=1e-3)


@pytest.mark.parametrize(
    ("plan", "weight"), [(("346 mm", "265 mm"), 359.9), (("544 mm", "364 mm"), 777.2)]
)
def test_a_steel_liner_weighs_by_its_density(plan: tuple[str, str], weight: float) -> None:
    """Sheet steel of 0.5 mm at 7.85 g/cm3 on the floors of load carriers after VDA 4500."""
    assert grams(sizes(*plan, "0.5 mm"), "7.85") == pytest.approx(weight, rel=1e-3)


def test_a_foam_inlay_weighs_by_its_density() -> None:
    """PE foam of 27.2 kg/m3, 50 mm thick, on the floor of a carrier after VDA 4500: 269.3 g."""
    assert grams(sizes("544 mm", "364 mm", "50 mm"), "0.0272") == pytest.approx(269.3, rel=1e-3)


@pytest.mark.parametrize(
    ("size", "litres"),
    [
        (("594 mm", "396 mm", "280 mm"), 65.86),  # VDA 4500, plan 600 x 400
        (("396 mm", "297 mm", "280 mm"), 32.93),  # VDA 4500, plan 400 x 300
        (("200 mm", "100 mm", "50 mm"), 1.000),  # ISO 3832, the measuring block
    ],
)
def test_litres_of_standard_sizes(size: tuple[str, str, str], litres: float) -> None:
    """Volumes of small load carriers (VDA 4500) and of the measuring block of ISO 3832."""
    assert sizes(*size).volume / UM3_BY_LITRE == pytest.approx(litres, rel=1e-3)


def test_a_records_box_is_about_a_cubic_foot() -> None:
    """The US government's records box of 14.75 x 12 x 9.5 in holds 0.973 cubic feet (US EPA)."""
    box = sizes("14.75 in", "12 in", "9 1/2 in")
    foot = sizes("1 ft", "1 ft", "1 ft")
    assert box.volume / foot.volume == pytest.approx(0.973, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "um"),
    [
        ("1 in", 25_400),  # international yard and pound agreement, 1959
        ("2 in", 50_800),
        ("1/2 in", 12_700),
        ("1 1/2 in", 38_100),
        ("62 in", 1_574_800),  # linear size of a checked bag, 157.48 cm (IATA)
    ],
)
def test_inches_are_exact(text: str, um: int) -> None:
    """An inch is 25.4 mm by definition, so every common fraction is whole micrometres."""
    assert parse_length(text, Rounding.UP) == parse_length(text, Rounding.DOWN) == um


@pytest.mark.parametrize(("text", "kg"), [("50 lb", 22.68), ("70 lb", 31.75)])
def test_pounds_of_checked_bags(text: str, kg: float) -> None:
    """The limits of 50 and 70 lb on checked bags (IATA) in kilograms."""
    assert parse_weight(text) / 1_000 == pytest.approx(kg, abs=0.005)


@pytest.mark.parametrize(
    ("plan", "squares"),
    [
        (("544 mm", "364 mm"), 294),
        (("346 mm", "265 mm"), 130),
        (("243 mm", "162 mm"), 54),
    ],
)
def test_one_inch_squares_on_the_floors_of_load_carriers(
    plan: tuple[str, str], squares: int
) -> None:
    """Whole 25.4 mm squares on the inner plans of VDA 4500, side by side."""
    inch = parse_length("1 in")
    length, width = (parse_length(side, Rounding.DOWN) for side in plan)
    assert (length // inch) * (width // inch) == squares


def test_modules_of_the_trade_add_up() -> None:
    """A 2 in wall on 1/2 in floor stands 1 1/2 in above it; two storeys are 4 in.

    Common practice, no source.
    """
    wall, floor = parse_length("2 in"), parse_length("1/2 in")
    assert wall - floor == parse_length("1 1/2 in")
    assert 2 * wall == parse_length("4 in")
    assert format_length(2 * wall) == "101.6 mm"


@pytest.mark.parametrize(("base", "side_by_side"), [("25 mm", True), ("32 mm", False)])
def test_round_bases_on_a_two_inch_module(base: str, *, side_by_side: bool) -> None:
    """Two bases of 25 mm stand side by side on 2 in, two of 32 mm do not.

    Common practice, no source.
    """
    assert (2 * parse_length(base) <= parse_length("2 in")) is side_by_side
