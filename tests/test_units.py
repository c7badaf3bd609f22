"""Lengths, weights and times agree with an outside library and are exact where inches are."""

from contextlib import suppress
from fractions import Fraction
from math import ceil, floor

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdown.units import (
    G_BY_UNIT,
    S_BY_UNIT,
    UM_BY_UNIT,
    Rounding,
    format_length,
    format_litres,
    format_minutes,
    format_size,
    format_weight,
    parse_length,
    parse_time,
    parse_weight,
)

PINT: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
NUMBERS = st.decimals(0, 1_000, places=4, allow_nan=False, allow_infinity=False).map(abs)


def exact(number: object, unit: str, target: str) -> Fraction:
    """Convert with the outside library, in exact fractions."""
    quantity = PINT.Quantity(Fraction(str(number)), unit).to(target)
    return Fraction(quantity.magnitude)


def rounded(value: Fraction, rounding: Rounding) -> int:
    """Round a fraction; halves go up."""
    if rounding is Rounding.NEAREST:
        return floor(value + Fraction(1, 2))
    return ceil(value) if rounding is Rounding.UP else floor(value)


@given(NUMBERS, st.sampled_from(sorted(UM_BY_UNIT)), st.sampled_from(Rounding))
def test_lengths_agree_with_pint(number: object, unit: str, rounding: Rounding) -> None:
    """Every unit of length, every way of rounding: what pint says, to the micrometre."""
    expected = rounded(exact(number, unit, "um"), rounding)
    assert parse_length(f"{number} {unit}", rounding) == expected


@given(NUMBERS, st.sampled_from(sorted(G_BY_UNIT)), st.sampled_from(Rounding))
def test_weights_agree_with_pint(number: object, unit: str, rounding: Rounding) -> None:
    """Every unit of weight, every way of rounding: what pint says, to the gram."""
    expected = rounded(exact(number, unit, "g"), rounding)
    assert parse_weight(f"{number} {unit}", rounding) == expected


@given(NUMBERS, st.sampled_from(sorted(S_BY_UNIT)))
def test_times_agree_with_pint(number: object, unit: str) -> None:
    """Times round up to whole seconds."""
    assert parse_time(f"{number} {unit}") == ceil(exact(number, unit, "s"))


@pytest.mark.parametrize(
    ("text", "um"),
    [
        ("1 in", 25_400),  # square of a modular terrain grid
        ('2"', 50_800),  # floor module, plan
        ("1/2 in", 12_700),  # floor module, thickness
        ("1 1/2 in", 38_100),  # wall above its floor
        ("4 in", 101_600),  # two modules of 2 in stacked
        ("0.25 inch", 6_350),
        ("1 ft", 304_800),
        ("6'", 1_828_800),
    ],
)
def test_measures_of_the_trade_in_inches(text: str, um: int) -> None:
    """Common practice, no source: module sizes in inches are exact in micrometres."""
    assert parse_length(text) == um


def test_modules_of_the_trade_stack_and_leave_a_way() -> None:
    """Common practice, no source: floor and wall make a module, two columns leave 2 in clear."""
    floor_um, wall = parse_length("1/2 in"), parse_length("1 1/2 in")
    assert floor_um + wall == parse_length("2 in")
    assert 2 * parse_length("2 in") - 2 * parse_length("1 in") == parse_length("2 in")


@pytest.mark.parametrize(("base", "fit"), [("25 mm", True), ("32 mm", False)])
def test_round_bases_on_a_two_inch_module(base: str, fit: bool) -> None:  # noqa: FBT001
    """Common practice, no source: two bases of 25 mm stand side by side in 2 in, not of 32 mm."""
    assert (2 * parse_length(base) <= parse_length("2 in")) is fit


@pytest.mark.parametrize(
    ("text", "um"),
    [("12,5 mm", 12_500), (".5mm", 500), (" 3 cm ", 30_000), ("7 µm", 7), ("7 μm", 7)],
)
def test_ways_to_write_a_length(text: str, um: int) -> None:
    """Comma or point, with or without blanks, either letter for micro."""
    assert parse_length(text) == um


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("8", "has no unit"),
        ("", "is not a length"),
        ("mm", "is not a length"),
        ("eight mm", "is not a length"),
        ("nan mm", "is not a length"),
        ("1e3 mm", "is not a length"),
        ("8 kg", "unknown unit 'kg'; use one of um, mm, cm, m, in, ft"),
        ("1/0 in", "divides by zero"),
    ],
)
def test_what_is_no_length(text: str, words: str) -> None:
    """The message says what is wrong and what was expected."""
    with pytest.raises(ValueError, match=words):
        parse_length(text)


@given(st.text(max_size=12))
def test_any_text_is_a_length_or_a_value_error(text: str) -> None:
    """Nothing else ever comes out."""
    with suppress(ValueError):
        assert isinstance(parse_length(text), int)


@given(st.integers(0, 10**8))
def test_lengths_are_shown_exactly(um: int) -> None:
    """What is shown reads back as the same length."""
    assert parse_length(format_length(um)) == um


def test_sizes_weights_and_times_are_shown_as_people_write_them() -> None:
    """Millimetres, grams below a kilogram, litres with one decimal, minutes from 90 s on."""
    assert format_size((50_800, 50_800, 8_000)) == "50.8 x 50.8 x 8 mm"
    assert [format_weight(g) for g in (999, 1_000, 12_340)] == ["999 g", "1.0 kg", "12.3 kg"]
    assert format_litres(12_600 * 10**12) == "12.6 l"
    assert [format_minutes(s) for s in (89, 90, 600)] == ["89 s", "2 min", "10 min"]
