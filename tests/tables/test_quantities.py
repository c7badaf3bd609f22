"""Numbers as people type them."""

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdown.tables.heading import key_of
from packdown.tables.quantities import Decimal, Spelling, evident_decimal, unit_in

PLAIN = Spelling(decimal=None)
POINT = Spelling(decimal=Decimal.POINT)
COMMA = Spelling(decimal=Decimal.COMMA)
UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "um"),
    [
        ("1 1/2 in", 38_100), ("1-1/2 in", 38_100), ('1 1/2"', 38_100), ("1½ in", 38_100),
        ("½″", 12_700), ("3/4 in.", 19_050), ("2 inches", 50_800), ("5' ", 1_524_000),
        ("64", 64_000), ("64mm", 64_000), ("6.4 cm", 64_000), ("6,4 cm", 64_000),
        ("0,064 m", 64_000), ("1 234 mm", 1_234_000), ("1.234,5 mm", 1_234_500),
        ("1,234.5 mm", 1_234_500), (".5 in", 12_700), ("12.5 millimetres", 12_500),
        ("\u00a064\u00a0mm", 64_000),
    ],
)  # fmt: skip
def test_lengths(text: str, um: int) -> None:
    """One inch is 25.4 mm by definition."""
    assert PLAIN.length(text, "mm") == um


@pytest.mark.parametrize(
    ("spelling", "text", "um"),
    [
        (POINT, "1,234", 1_234_000), (COMMA, "1,234", 1_234), (POINT, "1.234", 1_234),
        (COMMA, "1.234", 1_234_000), (COMMA, "12.5", 12_500), (POINT, "12,5", 12_500),
        (POINT, "1,234,567", 1_234_567_000), (PLAIN, "0,125", 125), (PLAIN, "1.234", 1_234),
    ],
)  # fmt: skip
def test_decimal_marks(spelling: Spelling, text: str, um: int) -> None:
    """What is written in one way only is read so; the rest goes by the mark of the table."""
    assert spelling.length(text, "mm") == um


@pytest.mark.parametrize(
    "text",
    ["1,234", "x", "", "12 parsec", "1/0 in", "1..2", "1,2,3", "12 g", "1 2 mm", "5 x 5", "9" * 99,
     "-5 mm", "1.2.3,4", "64 mm tall"],
)  # fmt: skip
def test_what_is_no_length(text: str) -> None:
    """A number of two meanings, nonsense, a wrong unit: each is refused with a sentence."""
    with pytest.raises(ValueError, match=r"\w"):
        PLAIN.length(text, "mm")


@given(st.decimals(min_value="0.001", max_value="999", places=3), st.sampled_from(
    ["mm", "cm", "m", "in", "ft", "inches", "millimeters"]
))  # fmt: skip
def test_lengths_agree_with_pint(number: Fraction, unit: str) -> None:
    """The outside library pint gives the same length, within the micrometre that is rounded up."""
    shown = f"{number:.3f} {unit}"
    expected = UNITS.Quantity(float(number), unit).to("um").magnitude
    assert 0 <= POINT.length(shown, None) - expected + 1e-4 <= 1 + 2e-4
    assert COMMA.length(shown.replace(".", ","), None) == POINT.length(shown, None)


def test_weights_round_up() -> None:
    """One ounce is 28.35 g, which is 29 whole grams."""
    assert POINT.weight("1 oz", None) == 29
    assert COMMA.weight("0,032 kg", None) == 32
    assert POINT.weight("32", "g") == 32
    with pytest.raises(ValueError, match="no unit"):
        POINT.weight("32", None)


def test_sizes_in_one_cell() -> None:
    """The last unit counts for all three."""
    assert POINT.lengths("50 x 50 x 8 mm", None) == (50_000, 50_000, 8_000)
    assert POINT.lengths("2 x 2 x 1/2 in", None) == (50_800, 50_800, 12_700)
    assert POINT.lengths("2in*5cm*8", "mm") == (50_800, 50_000, 8_000)
    with pytest.raises(ValueError, match="size"):
        POINT.lengths("50 x 50 mm", None)


@pytest.mark.parametrize("text", ["3", "3.0", "x3", "3x", "3 pcs", "3 Stk.", "03", " 3 "])
def test_counts(text: str) -> None:
    """A whole number, with or without words around it."""
    assert PLAIN.count(text) == 3


@pytest.mark.parametrize("text", ["", "three", "3.5", "-3", "1000000000", "3 boxes", "10001"])
def test_what_is_no_count(text: str) -> None:
    """Everything else is refused, as are more than 10,000."""
    with pytest.raises(ValueError, match=r"no whole number|10,000"):
        PLAIN.count(text)


def test_evidence_of_decimal_marks() -> None:
    """Numbers that can be read in one way only decide; where they disagree nothing is decided."""
    assert evident_decimal(["12,5", "1,234"]) is Decimal.COMMA
    assert evident_decimal(["12.5 mm", "1,234"]) is Decimal.POINT
    assert evident_decimal(["1,234", "64"]) is None
    assert evident_decimal(["12,5", "12.5"]) is None
    assert evident_decimal(["1.234,5"]) is Decimal.COMMA


@pytest.mark.parametrize(
    ("heading", "unit", "key"),
    [
        ("Length (mm)", "mm", "length"), ("Height in inches", "in", "height"),
        ("Weight [g]:", "g", "weight"), ("WIDTH_CM", None, "width"), ("depth, cm", "cm", "depth"),
        ("Qty", None, "qty"), ("number in box", None, "number in box"), ("Width in", "in", "width"),
    ],
)  # fmt: skip
def test_headings(heading: str, unit: str | None, key: str) -> None:
    """A unit in a heading is found, and what remains is compared without it."""
    assert key_of(heading) == key
    if heading != "WIDTH_CM":
        assert unit_in(heading) == unit
