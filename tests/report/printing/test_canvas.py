"""Pages are in millimetres from the upper left corner, and text stands where it is put."""

import pytest

from packdown.report.printing.canvas import Box, Canvas, canvas
from packdown.report.printing.fitting import LEADING, MM_BY_POINT, Fitted
from packdown.report.printing.fonts import MISSING, plain
from support.pages import Rect, boxes_of, opened

HEBREW = "\N{HEBREW LETTER QOF}\N{HEBREW LETTER ALEF}"


def line(text: str, points: float = 12) -> Fitted:
    """A text in one line."""
    return Fitted((text,), points, is_whole=True)


def texts(*lines: tuple[str, float]) -> list[Rect]:
    """Write lines one below the other, 20 mm apart; return what is around each on the page."""
    with canvas((100, 200), "test") as page:
        page.new_page()
        for number, (text, points) in enumerate(lines):
            page.write(Box(10, 10 + 20 * number, 60, 10), line(text, points))
        return list(boxes_of(opened(page.finish())[0], "text"))


def test_a_line_in_another_script_leaves_the_next_as_it_was() -> None:
    """The font of one word may not stay for the next line of the same size."""
    large, _, small = texts(("H", 24), (HEBREW, 8), ("H", 8))
    assert (large.bottom - large.top) / (small.bottom - small.top) == pytest.approx(3, rel=0.02)


def test_text_stands_where_it_is_put() -> None:
    """Letters without accents stay within the first line of their box; H is 0.714 em high."""
    (found,) = texts(("H", 40))
    em = 40 * MM_BY_POINT
    assert found.left == pytest.approx(10, abs=0.1 * em)
    assert found.within(Rect(10, 10, 70, 10 + LEADING * em))
    assert found.bottom - found.top == pytest.approx(0.714 * em, rel=0.02)


@pytest.mark.parametrize("text", ["Wall 2 office AVA", "Ящик ến", HEBREW, "\N{BLACK STAR} x"])
@pytest.mark.parametrize("bold", [False, True])
def test_text_is_as_wide_as_was_measured(text: str, *, bold: bool) -> None:
    """Ink is narrower than the measure only by the empty sides of letters."""
    with canvas((200, 100), "test") as page:
        page.new_page()
        width = page.measure(bold=bold)(text) * 40 * MM_BY_POINT
        page.write(Box(10, 10, 150, 20), line(text, 40), bold=bold)
        found = list(boxes_of(opened(page.finish())[0], "text"))
    ink = max(box.right for box in found) - min(box.left for box in found)
    assert 0.85 * width < ink < 1.01 * width


@pytest.mark.parametrize(("align", "side"), [("left", 0), ("right", 2)])
def test_text_is_aligned_to_a_side(align: str, side: int) -> None:
    """To the left or the right edge of its box, but for the empty side of a letter."""
    with canvas((100, 100), "test") as page:
        page.new_page()
        page.write(Box(20, 20, 50, 10), line("H"), align=align)  # type: ignore[arg-type]
        (found,) = boxes_of(opened(page.finish())[0], "text")
    assert found[side] == pytest.approx(20 if side == 0 else 70, abs=0.6)


def sayable(text: str) -> tuple[str, set[str]]:
    """Return a text as it is printed, and what no font has."""
    with canvas((100, 100), "test") as page:
        assert isinstance(page, Canvas)
        return page.sayable(text), page.missing


def test_what_no_font_has_is_replaced() -> None:
    """Each such character by one sign."""
    assert sayable("a倉b") == (f"a{MISSING}b", {"倉"})
    assert sayable("ß" + HEBREW) == ("ß" + HEBREW, set())


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Cafe\u0301", "Café"),
        (" two\r\nlines\t", "two lines"),
        ("\x00\x1b[1m", "[1m"),
        ("right\u202eto left\u200b", "rightto left"),
        ("star\ufe0f", "star"),
    ],
)
def test_names_become_one_plain_line(text: str, told: str) -> None:
    """No control characters, no line breaks, no signs that turn the writing around."""
    assert plain(text) == told
