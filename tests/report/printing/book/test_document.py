"""The pack book on paper, read back by PDFium: complete, in order, on its pages, all vectors."""

import re
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest
from pypdfium2 import raw

from packdown.files import read_papers
from packdown.model import Plan, Steps
from packdown.report.lookup import look_up
from packdown.report.printing import print_book
from packdown.report.printing.book.containers import contents
from packdown.report.printing.book.document import MARGIN
from packdown.report.printing.book.index import lines
from support.book_plan import book_plan
from support.label_plans import HARD_NAMES
from support.pages import MM_BY_INCH, Rect, boxes_of, opened, text_of

PAPERS = read_papers()
PLAN = book_plan()
LOOKUP = look_up(PLAN)
PRINTED = print_book(PLAN, PAPERS["a4"])
PAGES = opened(PRINTED.data)
TEXTS = [" ".join(text_of(page).split()) for page in PAGES]
CHAPTERS = (
    "Summary",
    *(container.name for container in LOOKUP.used),
    *(build.name for build in PLAN.builds),
    "Loose pieces and bags",
    "Every piece",
)
NAMES = Counter(piece.name for piece in PLAN.pieces)
LEFT = {piece for entry in PLAN.not_packed for piece in LOOKUP.items[entry.item].pieces}


def _starts() -> dict[str, int]:
    """Read the contents list: on which page, from 1, each chapter is said to begin."""
    return {
        chapter: int(found[1])
        for chapter in CHAPTERS
        if (found := re.search(rf"{re.escape(chapter)} (\d+)", TEXTS[0].split("Contents")[1]))
    }


def _chapter(name: str) -> str:
    """Return the text of a chapter without the foot of its pages."""
    starts = [*_starts().values(), len(PAGES) + 1]
    first = _starts()[name]
    last = min(start for start in starts if start > first)
    return " ".join(_without_foot(TEXTS[page - 1]) for page in range(first, last))


def _without_foot(text: str) -> str:
    return text.rpartition(PLAN.workspace)[0]


def _counted(text: str) -> Counter[str]:
    """Add up what a text says of each name: ``3 x name``; a name within another does not count."""
    found: Counter[str] = Counter()
    for name in sorted(NAMES, key=len, reverse=True):
        pattern = re.compile(rf"(\d+) x {re.escape(name)}(?!\w)")
        found[name] = sum(int(number) for number in pattern.findall(text))
        text = pattern.sub("", text)
    return found


def test_the_contents_name_the_page_of_each_chapter() -> None:
    """Every chapter is in the list, and its title stands at the top of the page named there."""
    starts = _starts()
    assert list(starts) == list(CHAPTERS)
    assert sorted(starts.values()) == list(starts.values())
    for chapter, page in starts.items():
        assert TEXTS[page - 1].startswith(chapter)


def test_every_packed_piece_is_in_one_chapter_of_a_container_once() -> None:
    """Counts in the contents of all containers add up to the pieces of the plan, name by name."""
    read = Counter[str]()
    for container in LOOKUP.used:
        read += _counted(_chapter(container.name))
    packed = Counter(piece.name for piece in PLAN.pieces if piece.id not in LEFT)
    assert read == packed


def test_every_piece_is_in_the_list_of_all_pieces_once() -> None:
    """Also those that found no place."""
    text = _chapter("Every piece")
    assert _counted(text) == NAMES
    assert ("not packed" in text) == bool(LEFT)
    told = [piece.id for line in lines(LOOKUP) for piece in line.pieces]
    assert sorted(told) == sorted(piece.id for piece in PLAN.pieces)


def test_what_is_not_packed_is_in_the_summary() -> None:
    """With the reason."""
    assert PLAN.not_packed
    summary = _chapter("Summary")
    for entry in PLAN.not_packed:
        assert LOOKUP.items[entry.item].name in summary
        assert entry.reason in summary


def test_each_number_of_a_container_is_in_its_contents_once() -> None:
    """Identical pieces that lie alike share an entry; together the entries hold all numbers."""
    for container in LOOKUP.used:
        layers = sorted({placement.layer for placement in container.fill})
        told = [
            n for layer in layers for e in contents(LOOKUP, container, layer) for n in e.numbers
        ]
        assert sorted(told) == list(range(1, len(container.fill) + 1))
    grouped = [e for layer in (1, 2) for e in contents(LOOKUP, LOOKUP.used[0], layer)]
    assert any(len(entry.numbers) > 1 for entry in grouped)


def test_every_step_of_a_build_is_in_its_chapter() -> None:
    """Steps that part or join say what to do, in the order of their lists."""
    for build in PLAN.builds:
        text = _chapter(build.name)
        for steps in (PLAN.steps.take_down, PLAN.steps.rebuild):
            own = [step for step in steps if step.build == build.id and step.stays]
            places = [text.find(f"{step.n} {step.text}") for step in own]
            assert own
            assert -1 not in places
            assert places == sorted(places)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_are_numbered_and_keep_their_margins(paper: str) -> None:
    """Paper of the size asked for; nothing is drawn nearer to its edge than half the margin."""
    width, height = (side / 1_000 for side in PAPERS[paper])
    pages = PAGES if paper == "a4" else opened(print_book(PLAN, PAPERS[paper]).data)
    inner = Rect(0, 0, width, height).grown(-MARGIN / 2)
    for number, page in enumerate(pages, 1):
        assert page.get_width() * MM_BY_INCH / 72 == pytest.approx(width, abs=0.1)
        assert page.get_height() * MM_BY_INCH / 72 == pytest.approx(height, abs=0.1)
        assert " ".join(text_of(page).split()).endswith(f"{number} / {len(pages)}")
        assert all(box.within(inner) for box in boxes_of(page, "text"))
        if number % 4 == 3:
            assert all(box.within(inner) for box in boxes_of(page, "path"))


def test_drawings_are_vectors() -> None:
    """No page holds an image; those of containers and builds hold hundreds of paths."""
    for page in PAGES:
        assert not list(page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE]))
    first = PAGES[_starts()[LOOKUP.used[0].name] - 1]
    assert len(list(boxes_of(first, "path"))) > 200


def test_the_outline_leads_to_the_chapters() -> None:
    """Readers show the same chapters beside the pages, with their parts below them."""
    found = [(mark.level, mark.get_title(), _page(mark)) for mark in PAGES.get_toc()]
    chapters = {title: page for level, title, page in found if level == 0}
    assert {name: page for name, page in chapters.items() if name in CHAPTERS} == _starts()
    assert (1, "What goes where", 2) in found


def _page(mark: Any) -> int:  # noqa: ANN401 - PDFium has no types
    return int(mark.get_dest().get_index()) + 1


def test_page_numbers_are_links() -> None:
    """Each line of the contents leads to its page."""
    links = _links(PAGES, 0)
    assert sorted(links) == sorted(_starts().values())


def _links(document: Any, index: int) -> list[int]:  # noqa: ANN401 - PDFium has no types
    """Return where the links of a page lead, as pages from 1."""
    from ctypes import byref, c_int  # noqa: PLC0415 - only here

    page, at, link, found = document[index], c_int(0), raw.FPDF_LINK(), []
    while raw.FPDFLink_Enumerate(page.raw, byref(at), byref(link)):
        dest = raw.FPDFLink_GetDest(document.raw, link)
        found.append(raw.FPDFDest_GetDestPageIndex(document.raw, dest) + 1)
    return found


def test_fonts_are_embedded() -> None:
    """Every font has its file within the document (ISO 32000-1, 9.9), and none is by name."""
    objects = PRINTED.data.split(b"endobj")
    described = [told for told in objects if b"/Type /FontDescriptor" in told]
    assert described
    assert all(b"/FontFile2" in font for font in described)
    assert b"/Type1" not in PRINTED.data


def _short(plan: Plan) -> Plan:
    """Return a plan of one build, and of one container with its first layer."""
    (box,) = look_up(plan).used[:1]
    fill = tuple(placement for placement in box.fill if placement.layer == 1)
    lying = {placement.item for placement in fill}
    items = tuple(item for item in plan.items if item.id in lying or item.build)
    own = {name for item in items for name in item.pieces}
    down, up = (
        tuple(s for s in steps if {s.from_, s.to} <= {box.id, "table"} and own >= {*s.pieces})
        for steps in (plan.steps.take_down, plan.steps.rebuild)
    )
    return replace(
        plan,
        items=items,
        pieces=tuple(piece for piece in plan.pieces if piece.id in own),
        containers=(replace(box, fill=fill),),
        builds=plan.builds[2:],
        not_packed=(),
        steps=Steps(take_down=down, rebuild=up),
    )


def test_the_same_plan_gives_the_same_pages() -> None:
    """Nothing depends on the clock or on chance."""
    short = _short(PLAN)
    assert print_book(short, PAPERS["a4"]).data == print_book(short, PAPERS["a4"]).data


def test_a_broken_plan_says_so_first() -> None:
    """Nobody packs by it unwarned."""
    page = opened(print_book(_short(PLAN), PAPERS["a4"], is_sound=False).data)[0]
    assert "Do not pack by this plan" in " ".join(text_of(page).split())
    assert "Do not pack by this plan" not in TEXTS[0]


def test_no_name_breaks_the_book() -> None:
    """Long ones are wrapped, strange ones shown as far as fonts go; nothing leaves its page."""
    plan, names = _short(PLAN), HARD_NAMES
    hard = replace(
        plan,
        workspace=names[3],
        containers=tuple(replace(container, name=names[6]) for container in plan.containers),
        builds=tuple(replace(build, name=names[5]) for build in plan.builds),
        items=tuple(replace(i, name=names[n % len(names)]) for n, i in enumerate(plan.items)),
        pieces=tuple(replace(p, name=names[n % len(names)]) for n, p in enumerate(plan.pieces)),
    )
    printed = print_book(hard, PAPERS["letter"])
    assert printed.missing
    width, height = (side / 1_000 for side in PAPERS["letter"])
    inner = Rect(0, 0, width, height).grown(-MARGIN / 2)
    for page in opened(printed.data):
        assert all(box.within(inner) for box in boxes_of(page, "text"))
