"""Labels lie where the sheet has them, carry codes that can be read, and keep to their edges.

Sizes and margins are those of published print templates for A4 with 21 and Letter with 30 labels,
and common practice, from memory, for the others.
"""

from dataclasses import replace
from functools import cache
from itertools import product
from math import ceil

import numpy as np
import pytest

from packdown.files import read_label_sheets
from packdown.model import short_id
from packdown.report.printing import print_labels
from support.label_plans import HARD_NAMES, plan_with
from support.pages import (
    DPI,
    Image,
    Rect,
    boxes_of,
    codes_in,
    drawn,
    has_colour,
    ink_outside,
    opened,
    text_of,
)

SHEETS = read_label_sheets()
INCH = 25.4
# name: labels across and down; width, height; left, top margin; gap across, all in millimetres
GRIDS: dict[str, tuple[tuple[int, int], tuple[float, float], tuple[float, float], float]] = {
    "a4-4": ((2, 2), (99.1, 139), (4.65, 9.5), 2.5),
    "a4-8": ((2, 4), (99.1, 67.7), (4.65, 13.1), 2.5),
    "a4-10": ((2, 5), (99.1, 57), (4.65, 6.0), 2.5),
    "a4-14": ((2, 7), (99.1, 38.1), (4.65, 15.15), 2.5),
    "a4-21": ((3, 7), (63.5, 38.1), (7.2, 15.15), 2.5),
    "a4-24": ((3, 8), (63.5, 33.9), (7.2, 12.9), 2.5),
    "a4-65": ((5, 13), (38.1, 21.2), (4.75, 10.7), 2.5),
    "letter-6": ((2, 3), (4 * INCH, 10 / 3 * INCH), (0.15625 * INCH, 0.5 * INCH), 0.1875 * INCH),
    "letter-10": ((2, 5), (4 * INCH, 2 * INCH), (0.15625 * INCH, 0.5 * INCH), 0.1875 * INCH),
    "letter-30": ((3, 10), (2.625 * INCH, INCH), (0.1875 * INCH, 0.5 * INCH), 0.125 * INCH),
}
EXACT = 0.3
"""How far a label may be from its place, in millimetres."""
every_sheet = pytest.mark.parametrize("name", GRIDS)


def label_boxes(name: str, shift: tuple[float, float] = (0, 0)) -> list[Rect]:
    """Return where the labels of a sheet are, row by row, by the figures above."""
    (columns, rows), (width, height), (left, top), gap = GRIDS[name]
    return [
        Rect(x, y, x + width, y + height)
        for row, column in product(range(rows), range(columns))
        for x, y in [(left + shift[0] + column * (width + gap), top + shift[1] + row * height)]
    ]


@cache
def full_sheet(name: str) -> bytes:
    """Print one full sheet of heavy containers with the edges of its labels."""
    plan = plan_with(SHEETS[name].per_sheet, HARD_NAMES, tare_g=14_950, stack_limit_g=31_000)
    return print_labels(plan, plan.containers, SHEETS[name], edges=True).data


@cache
def full_image(name: str) -> Image:
    """Draw that sheet."""
    return drawn(opened(full_sheet(name))[0])


def close(found: Rect, wanted: Rect, slack: float = EXACT) -> bool:
    """Whether all four sides are where they should be."""
    return all(abs(a - b) <= slack for a, b in zip(found, wanted, strict=True))


def test_all_known_sheets_are_tried() -> None:
    """A new sheet needs figures here."""
    assert set(GRIDS) == set(SHEETS)


@every_sheet
def test_labels_lie_where_the_sheet_has_them(name: str) -> None:
    """The edges of every label, as the lines of the page have them, are within 0.3 mm."""
    page = opened(full_sheet(name))[0]
    wanted = label_boxes(name)
    lines = list(boxes_of(page, "path"))
    for box in wanted:
        assert sum(close(line, box) for line in lines) == 1
    assert len(wanted) == SHEETS[name].per_sheet


@every_sheet
def test_edges_are_drawn_where_the_sheet_has_them(name: str) -> None:
    """The same on the drawn page: the darkest line near each edge is within 0.3 mm."""
    image = full_image(name)
    for box in (label_boxes(name)[0], label_boxes(name)[-1]):
        middle = round((box.top + box.bottom) / 2 / INCH * DPI)
        near = round(box.left / INCH * DPI)
        strip = image[middle - 20 : middle + 20, near - 12 : near + 13].mean(axis=0)
        assert abs((near - 12 + int(strip.argmin()) + 0.5) / DPI * INCH - box.left) <= EXACT
        across = round((box.left + box.right) / 2 / INCH * DPI)
        near = round(box.top / INCH * DPI)
        strip = image[near - 12 : near + 13, across - 20 : across + 20].mean(axis=1)
        assert abs((near - 12 + int(strip.argmin()) + 0.5) / DPI * INCH - box.top) <= EXACT


@every_sheet
def test_every_code_reads_as_the_short_id_of_its_own_container(name: str) -> None:
    """Each label has one code; it is of error level Q."""
    boxes = label_boxes(name)
    codes = codes_in(full_image(name))
    assert len(codes) == len(boxes)
    for code in codes:
        (number,) = [n for n, box in enumerate(boxes, 1) if code.where.within(box)]
        assert code.text == short_id(f"box-{number}")
        assert code.level == "Q"


@every_sheet
def test_codes_have_large_modules_and_nothing_near(name: str) -> None:
    """Modules of 0.5 mm or more, and an empty zone of 4 around them (ISO/IEC 18004)."""
    page = opened(full_sheet(name))[0]
    paths, texts = (list(boxes_of(page, kind)) for kind in ("path", "text"))
    codes = codes_in(full_image(name))
    assert len(codes) == SHEETS[name].per_sheet
    for code in codes:
        drawing = min((p for p in paths if p.meets(code.where)), key=lambda p: p.right - p.left)
        assert close(drawing, code.where, 0.7)  # ZXing finds corners to a module or so
        module = (drawing.right - drawing.left) / 21
        assert module >= 0.5 - 1e-3
        zone = drawing.grown(4 * module - 0.01)
        (label,) = [box for box in label_boxes(name) if zone.within(box)]
        others = [path for path in paths if path != drawing and not close(path, label)]
        assert not any(zone.meets(thing) for thing in (*texts, *others))


@every_sheet
def test_codes_read_in_pure_black_and_white(name: str) -> None:
    """A coarse printer without greys, at 200 dots an inch, reads as well; no colour is used."""
    bits = np.where(full_image(name) > 127, 255, 0).astype(np.uint8)
    assert not has_colour(opened(full_sheet(name))[0])
    assert len(codes_in(bits)) == SHEETS[name].per_sheet


@every_sheet
def test_nothing_leaves_its_label(name: str) -> None:
    """Whatever the names: no ink between labels, and every text within one label."""
    page = opened(full_sheet(name))[0]
    boxes = label_boxes(name)
    assert ink_outside(full_image(name), [box.grown(0.15) for box in boxes]) == 0  # edges are lines
    texts = list(boxes_of(page, "text"))
    assert len(texts) >= 3 * len(boxes)
    assert all(any(text.within(box) for box in boxes) for text in texts)


@every_sheet
def test_what_matters_is_on_every_label(name: str) -> None:
    """Even on the smallest: the start of the name, weight, both cautions, and the stack limit."""
    plan = plan_with(1, HARD_NAMES, tare_g=14_950, stack_limit_g=31_000)
    words = text_of(opened(print_labels(plan, plan.containers, SHEETS[name]).data)[0])
    for told in ("Kiste", "15.1 kg", "Heavy", "agnets", "31 kg", short_id("box-1")):
        assert told in words


def test_names_stay_text() -> None:
    """What means something to a PDF, to a page or to a terminal is printed as it is written."""
    plan = plan_with(len(HARD_NAMES), HARD_NAMES)
    pages = opened(print_labels(plan, plan.containers, SHEETS["a4-4"]).data)
    words = " ".join(text_of(page).replace("\r\n", " ") for page in pages)
    assert "{nb} %PDF-1.4 <script>alert(1)</script> endstream" in words
    assert "two lines and nothing [31m" in words
    assert "Příliš žluťoučký kůň z Łodzi" in words
    assert "Ящик для башен · Κιβώτιο" in words


def test_what_no_font_has_is_seen_and_told() -> None:
    """A sign stands for each such character; letters of eight scripts are not among them."""
    plan = plan_with(1, ["🏰 倉庫 שלום مرحبا ไทย კარგი किताब ελ жу ế ★"])
    printed = print_labels(plan, plan.containers, SHEETS["a4-4"])
    assert printed.missing == ("倉", "庫", "🏰")
    assert text_of(opened(printed.data)[0]).count("\N{REPLACEMENT CHARACTER}") == 3


@pytest.mark.parametrize("start", [1, 2, 8])
@pytest.mark.parametrize("count", [1, 9])
def test_labels_begin_at_any_label(start: int, count: int) -> None:
    """The first sheet may be in use; the next one begins at its first label."""
    plan = plan_with(count)
    printed = print_labels(plan, plan.containers, SHEETS["a4-8"], start=start)
    pages = opened(printed.data)
    assert printed.pages == len(pages) == ceil((start - 1 + count) / 8)
    boxes = label_boxes("a4-8")
    found = {}
    for number, page in enumerate(pages):
        for code in codes_in(drawn(page)):
            (place,) = [n for n, box in enumerate(boxes) if code.where.within(box)]
            found[code.text] = number * 8 + place
    assert found == {short_id(f"box-{n}"): start + n - 2 for n in range(1, count + 1)}


def test_a_shift_moves_everything_by_as_much() -> None:
    """Half a millimetre to the right and one up."""
    plan = plan_with(2)
    sheet = SHEETS["a4-21"]
    plain, moved = (
        opened(print_labels(plan, plan.containers, sheet, edges=True, shift_um=shift).data)[0]
        for shift in ((0, 0), (500, -1_000))
    )
    pairs = zip(boxes_of(plain, "path"), boxes_of(moved, "path"), strict=True)
    for before, after in pairs:
        assert after.left - before.left == pytest.approx(0.5, abs=0.01)
        assert after.top - before.top == pytest.approx(-1.0, abs=0.01)


def test_copies_stand_side_by_side() -> None:
    """Two labels for each container, for two of its sides."""
    plan = plan_with(2)
    page = opened(print_labels(plan, plan.containers, SHEETS["a4-8"], copies=2).data)[0]
    codes = sorted(codes_in(drawn(page)), key=lambda code: (code.where.top, code.where.left))
    assert [code.text for code in codes] == [short_id(f"box-{n}") for n in (1, 1, 2, 2)]


def test_a_label_that_is_not_there_is_refused() -> None:
    """A sheet of 8 has no label 9, and none 0."""
    plan = plan_with(1)
    for start in (0, 9):
        with pytest.raises(ValueError, match=f"no label {start}"):
            print_labels(plan, plan.containers, SHEETS["a4-8"], start=start)


def test_a_label_says_what_is_in_it_how_heavy_it_is_and_what_to_mind() -> None:
    """Name, short id, gross weight, cautions and contents."""
    plan = plan_with(1, ["Flat tray"])
    words = text_of(opened(print_labels(plan, plan.containers, SHEETS["a4-8"]).data)[0])
    (container,) = plan.containers
    weights = {item.id: item.weight_g for item in plan.items}
    gross = container.tare_g + sum(weights[p.item] for p in container.fill)
    assert gross > 15_000
    assert f"{gross / 1_000:.1f} kg" in words
    for told in ("Flat tray", short_id("box-1"), "lift with two", "15 cm from implants"):
        assert told in words.replace("\r\n", " ")
    assert "this way up" in words


def test_the_same_labels_give_the_same_file() -> None:
    """No time of day, no order of a set."""
    plan = plan_with(3, HARD_NAMES)
    files = {print_labels(plan, plan.containers, SHEETS["a4-21"]).data for _ in range(2)}
    assert len(files) == 1


def test_a_container_without_magnets_is_not_marked_for_them() -> None:
    """Cautions are given where they are called for only."""
    plan = plan_with(1, ["Plain box"])
    plan = replace(plan, pieces=tuple(replace(piece, magnets=0) for piece in plan.pieces))
    words = text_of(opened(print_labels(plan, plan.containers, SHEETS["a4-8"]).data)[0])
    assert "implants" not in words
