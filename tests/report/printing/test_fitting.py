"""Text is made smaller, then wrapped, then shortened, and never leaves its box."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from packdown.report.printing.fitting import ELLIPSIS, LEADING, MM_BY_POINT, fit

SIZES = (12, 10, 8, 6)
WIDTHS = {"i": 0.3, " ": 0.25, "m": 0.9, ELLIPSIS: 1.0}


def measure(text: str) -> float:
    """A font of narrow, usual and wide letters."""
    return sum(WIDTHS.get(sign, 0.55) for sign in text)


def test_the_largest_size_is_taken_that_fits() -> None:
    """Ten letters of 0.55 are 5.5 font sizes: 19.4 mm at 10 points, 23.3 mm at 12."""
    fitted = fit("abcdefghjk", measure, (20, 50), SIZES)
    assert fitted == (("abcdefghjk",), 10, True)


def test_words_are_wrapped_before_they_are_made_smaller() -> None:
    """Two lines of 12 points are 10.2 mm high."""
    assert fit("abcd efgh", measure, (12, 11), SIZES).lines == ("abcd", "efgh")
    assert fit("abcd efgh", measure, (12, 10), SIZES).points < 12


def test_a_word_is_broken_only_in_the_smallest_size() -> None:
    """Nothing is lost when a long word is broken."""
    fitted = fit("m" * 30, measure, (20, 50), SIZES)
    assert fitted.points == SIZES[-1]
    assert "".join(fitted.lines) == "m" * 30
    assert fitted.is_whole


def test_what_is_too_much_ends_with_an_ellipsis() -> None:
    """The last line says that there is more."""
    fitted = fit("word " * 50, measure, (20, 10), SIZES, 2)
    assert len(fitted.lines) == 2
    assert fitted.lines[-1].endswith(ELLIPSIS)
    assert not fitted.is_whole


def test_no_room_at_all_gives_no_text() -> None:
    """A box that is lower than a line, or narrower than an ellipsis, stays empty."""
    assert fit("word", measure, (20, 1), SIZES).lines == ()
    assert fit("word", measure, (0.5, 50), SIZES).lines == ()
    assert fit("word", measure, (20, 50), SIZES, 0).lines == ()


@pytest.mark.parametrize("text", ["", "   "])
def test_nothing_to_say_is_whole(text: str) -> None:
    """An empty text has no lines, and nothing of it is missing."""
    fitted = fit(text, measure, (20, 50), SIZES)
    assert fitted.lines == ()
    assert fitted.is_whole


TEXT = st.text(st.sampled_from("imabc \N{NO-BREAK SPACE}é倉"), max_size=120)


@example("a\N{NO-BREAK SPACE}", 2.0, 6.0, 2)  # a blank that may not be lost
@given(TEXT, st.floats(0, 60), st.floats(0, 40), st.integers(0, 5))
def test_nothing_leaves_the_box(text: str, width: float, height: float, most: int) -> None:
    """Whatever the text and the box: not wider, not higher, not more lines."""
    fitted = fit(text, measure, (width, height), SIZES, most)
    em = fitted.points * MM_BY_POINT
    assert all(measure(line) * em <= width + 1e-6 for line in fitted.lines)
    assert len(fitted.lines) * em * LEADING <= height + 1e-5
    assert len(fitted.lines) <= most
    if fitted.is_whole:
        assert "".join(fitted.lines).replace(" ", "") == text.replace(" ", "")
    elif fitted.lines:
        assert fitted.lines[-1].endswith(ELLIPSIS)
        told = "".join(fitted.lines).removesuffix(ELLIPSIS).replace(" ", "")
        assert text.replace(" ", "").startswith(told)
