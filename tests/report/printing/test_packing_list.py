"""Packing lists: one page a container, all that is in it by part, and nothing off the page."""

import re
from dataclasses import replace

import pytest

from packdown.files import read_papers
from packdown.geometry import Cuboid, WayUp
from packdown.model import ItemKind, PackedContainer, Plan, short_id
from packdown.report.lookup import look_up
from packdown.report.printing import print_lists
from packdown.report.printing.contents import grouped_contents
from support.book_plan import book_plan
from support.label_plans import HARD_NAMES, plan_with
from support.pages import Rect, boxes_of, codes_in, drawn, has_colour, opened, text_of

A4 = read_papers()["a4"]
PLAN = book_plan()
LOOKUP = look_up(PLAN)
USED = LOOKUP.used


def with_kinds(count: int, name: str = "Part {}") -> Plan:
    """Return a plan of one container that holds a number of different loose pieces."""
    container = next(c for c in USED if any(_is_loose(p.item) for p in c.fill))
    placement = next(p for p in container.fill if _is_loose(p.item))
    item = LOOKUP.items[placement.item]
    piece = LOOKUP.pieces[item.pieces[0]]
    numbers = range(count)
    return replace(
        PLAN,
        pieces=tuple(replace(piece, id=f"p{n}", part=f"p{n}") for n in numbers),
        items=tuple(
            replace(item, id=f"i{n}", name=name.format(n), pieces=(f"p{n}",)) for n in numbers
        ),
        containers=(
            replace(container, fill=tuple(replace(placement, item=f"i{n}") for n in numbers)),
        ),
        builds=(),
    )


def _is_loose(item: str) -> bool:
    return LOOKUP.items[item].kind is ItemKind.LOOSE


def words_of(plan: Plan, paper: str = "a4") -> list[str]:
    """Return the text of each page of the lists of a plan, in one line."""
    used = look_up(plan).used
    pages = opened(print_lists(plan, used, read_papers()[paper]).data)
    return [" ".join(text_of(page).split()) for page in pages]


def test_every_container_has_one_page_with_its_code() -> None:
    """In the order of the plan, on paper of the size asked for, in black and white."""
    pages = opened(print_lists(PLAN, USED, A4).data)
    assert len(pages) == len(USED)
    for page, container in zip(pages, USED, strict=True):
        assert page.get_width() * 25.4 / 72 == pytest.approx(210, abs=0.1)
        assert page.get_height() * 25.4 / 72 == pytest.approx(297, abs=0.1)
        (code,) = codes_in(drawn(page))
        assert code.text == short_id(container.id)
        assert not has_colour(page)


@pytest.mark.parametrize("container", USED, ids=lambda container: container.id)
def test_rows_hold_every_item_once(container: PackedContainer) -> None:
    """Counts and weights of the rows add up to those of the container."""
    groups = grouped_contents(LOOKUP, container)
    rows = [row for group in groups for row in group.rows]
    assert sum(row.count for row in rows) == len(container.fill)
    assert sum(row.weight_g for row in rows) == LOOKUP.gross_g(container) - container.tare_g
    assert {layer for row in rows for layer in row.layers} == {p.layer for p in container.fill}


def test_loose_pieces_are_counted_by_part() -> None:
    """Two parts of one name are two rows; two pieces of one part are one."""
    plan = with_kinds(4, "Same name")
    pieces = [replace(p, part="one") if p.id in {"p0", "p1"} else p for p in plan.pieces]
    plan = replace(plan, pieces=tuple(pieces))
    ((group,),) = (grouped_contents(look_up(plan), c) for c in plan.containers)
    assert [row.count for row in group.rows] == [2, 1, 1]


def test_a_page_says_weights_layers_cautions_and_contents() -> None:
    """Figures as the plan has them, and the sentences of the pack book."""
    tray = next(c for c in USED if c.name.startswith("Flat tray"))
    words = next(page for page in words_of(PLAN) if tray.name in page)
    gross = LOOKUP.gross_g(tray)
    assert f"{gross / 1_000:.1f} kg gross" in words
    assert f"container {tray.tare_g / 1_000:.1f} kg" in words
    assert "Heavy to lift" in words
    assert "defer to local rules" in words
    assert "pacemakers" in words
    assert "after ISO 780" in words
    for row in (row for group in grouped_contents(LOOKUP, tray) for row in group.rows):
        assert f"{row.count} {row.name}" in words
    assert not re.search(r"certif|complian|guarantee", words, re.IGNORECASE)


def test_cautions_of_a_page_are_those_of_its_container() -> None:
    """Other containers are not named on it."""
    light = next(c for c in USED if not LOOKUP.has_magnets(c) and LOOKUP.gross_g(c) < 15_000)
    words = next(page for page in words_of(PLAN) if light.name in page)
    assert "Heavy to lift" not in words
    assert "pacemakers" not in words


def test_no_name_crowds_out_a_caution() -> None:
    """The last words of both cautions are there below a name of 20,000 letters."""
    (words,) = words_of(plan_with(1, ["no" * 10_000], tare_g=14_950))
    assert "defer to local rules." in words
    assert "ask the carrier." in words


def test_the_centre_of_gravity_is_that_of_the_contents() -> None:
    """One item of 60 x 40 x 20 mm at 10, 20, 30 mm: its middle is at 40, 40, 40 mm."""
    plan = with_kinds(1)
    (item,), (container,) = plan.items, plan.containers
    solid = (Cuboid(0, 0, 0, 60_000, 40_000, 20_000),)
    item = replace(item, cuboids_um=solid, centre_um=(30_000, 20_000, 10_000))
    place = replace(container.fill[0], at_um=(10_000, 20_000, 30_000), way_up=WayUp.UPRIGHT, turn=0)
    plan = replace(plan, items=(item,), containers=(replace(container, fill=(place,)),))
    assert look_up(plan).centre_um(plan.containers[0]) == (40_000, 40_000, 40_000)
    assert "40 mm from the left, 40 mm from the front, 40 mm up" in words_of(plan)[0]


@pytest.mark.parametrize("count", [1, 30, 60, 90, 140])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_many_kinds_still_fit_on_the_page(count: int, paper: str) -> None:
    """Smaller, then in columns: every one is there."""
    (words,) = words_of(with_kinds(count), paper)
    assert set(re.findall(r"Part (\d+)", words)) == {str(n) for n in range(count)}


def test_what_has_no_room_is_counted() -> None:
    """Rows that are printed and rows that are not make all of them."""
    (words,) = words_of(with_kinds(900))
    found = re.search(r"and (\d+) more kinds, (\d+) items: see the pack book", words)
    assert found
    assert found[1] == found[2]
    assert len(set(re.findall(r"Part (\d+)", words))) + int(found[1]) == 900


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_leaves_the_page(paper: str) -> None:
    """Whatever the names and however many parts: all within margins of 12 mm."""
    width, height = (side / 1_000 for side in read_papers()[paper])
    inner = Rect(12, 12, width - 12, height - 12)
    hard = plan_with(len(HARD_NAMES), HARD_NAMES, tare_g=14_950, stack_limit_g=31_000)
    for plan in (hard, with_kinds(400, "no" * 80 + "{}"), with_kinds(20, "many words " * 40)):
        for page in opened(print_lists(plan, plan.containers, read_papers()[paper]).data):
            things = [*boxes_of(page, "text"), *boxes_of(page, "path")]
            assert all(thing.within(inner) for thing in things)


def test_the_same_lists_give_the_same_file() -> None:
    """No time of day, no order of a set."""
    assert print_lists(PLAN, USED, A4).data == print_lists(PLAN, USED, A4).data
