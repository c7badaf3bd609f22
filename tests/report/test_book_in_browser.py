"""The pack book, driven in a real browser on a phone and on a laptop."""

import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pypdfium2
import pytest
from PIL import Image

from packdown.report.book import render
from support.book_plan import book_plan
from support.browser import SIZES, browser

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

PLAN = book_plan()
BUILD = PLAN.builds[0]
CRATE = next(container for container in PLAN.containers if container.fill)


@pytest.fixture(scope="module")
def chromium() -> "Iterator[Browser]":
    """Start one browser for all tests."""
    with browser() as started:
        yield started


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Write the book as a file."""
    path = tmp_path_factory.mktemp("book") / "book.html"
    path.write_text(render(PLAN), encoding="utf-8")
    return path


@pytest.fixture(params=SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def page(chromium: "Browser", book: Path, request: pytest.FixtureRequest) -> "Iterator[Page]":
    """Open the book; at the end nothing was fetched, nothing failed, nothing sticks out."""
    wide, high = request.param
    context = chromium.new_context(viewport={"width": wide, "height": high}, has_touch=True)
    opened = context.new_page()
    asked: list[str] = []
    faults: list[str] = []
    opened.on("request", lambda one: asked.append(one.url))
    opened.on("console", lambda one: faults.append(one.text) if one.type == "error" else None)
    opened.on("pageerror", lambda one: faults.append(str(one)))
    opened.goto(book.as_uri())
    yield opened
    assert faults == []
    assert {url.partition("#")[0] for url in asked} == {book.as_uri()}
    assert opened.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()


def _walk(page: "Page", direction: str) -> Any:  # noqa: ANN401 - a locator, if there is a driver
    return page.locator(f"#build-{BUILD.id}-{direction} + .walk")


def _where(page: "Page", direction: str = "up") -> str:
    return str(_walk(page, direction).locator("[role=status]").text_content())


def test_a_search_finds_a_piece_and_leads_to_its_layer(page: "Page") -> None:
    """Words in any order; the link opens the layer in which the piece lies."""
    field = page.get_by_label("Find a piece")
    field.fill("zzz")
    assert page.locator("#found").text_content() == "none found"
    piece = PLAN.items[0].pieces[0]
    field.fill(piece)
    hits = page.locator("#hits li")
    assert hits.count() == 1
    link = hits.first.locator("a").first
    target = str(link.get_attribute("href"))
    link.click()
    assert re.fullmatch(r"#in-[\w-]+-\d+", target)
    assert page.locator(target).is_visible()
    assert page.locator("#hits").is_hidden()


def test_steps_are_turned_with_buttons_and_arrow_keys(page: "Page") -> None:
    """One step shows at a time, and only within the list."""
    walk = _walk(page, "up")
    number = walk.locator(".leaf").count()
    assert number > 2
    assert _where(page) == f"Step 1 of {number}"
    walk.get_by_role("button", name="Next").click()
    assert _where(page) == f"Step 2 of {number}"
    page.keyboard.press("ArrowRight")
    assert _where(page) == f"Step 3 of {number}"
    assert walk.locator(".leaf:visible").count() == 1
    page.keyboard.press("ArrowLeft")
    walk.get_by_role("button", name="Back").click()
    assert _where(page) == f"Step 1 of {number}"
    walk.get_by_role("button", name="All").click()
    assert walk.locator(".leaf:visible").count() == number


@pytest.mark.parametrize("page", SIZES[:1], indirect=True)
def test_steps_are_turned_with_a_swipe(page: "Page") -> None:
    """To the left goes on, to the right goes back, downwards scrolls."""
    for by, then in (((-120, 5), "2"), ((-100, 0), "3"), ((110, 5), "2"), ((-20, 90), "2")):
        _walk(page, "up").locator(".leaf.now").evaluate(SWIPE, by)
        assert _where(page).startswith(f"Step {then} ")


SWIPE = """(target, [across, down]) => {
  const at = (x, y) => new Touch({ identifier: 1, target, clientX: x, clientY: y });
  const send = (kind, touches, changed) => target.dispatchEvent(
    new TouchEvent(kind, { bubbles: true, touches, changedTouches: changed }));
  send("touchstart", [at(200, 200)], [at(200, 200)]);
  send("touchend", [], [at(200 + across, 200 + down)]);
}"""
"""A finger put down, moved and lifted; by events, since a slow machine makes a long press of it."""


def test_ticks_survive_a_reload_and_are_printed(page: "Page") -> None:
    """What is done stays done, the next thing to do is open, and paper shows the ticks."""
    walk = _walk(page, "up")
    walk.locator(".leaf.now .do").click()
    walk.get_by_role("button", name="Next").click()
    walk.locator(".leaf.now .do").click()
    page.reload()
    assert page.locator(".tick:checked").count() == 2
    assert _where(page).startswith("Step 3 of ")
    assert "2 of " in str(page.locator(f'[data-of="build-{BUILD.id}"]').text_content())
    paper = pypdfium2.PdfDocument(page.pdf(format="A4"))
    texts = [sheet.get_textpage().get_text_range() for sheet in paper]
    assert sum(text.count("\N{CHECK MARK}") for text in texts) == 2
    cards = len([c for c in PLAN.containers if c.fill]) + len(PLAN.builds) + 2
    assert len(texts) > cards
    for build in PLAN.builds:
        assert any(build.name in text for text in texts)


@pytest.mark.parametrize("page", SIZES[:1], indirect=True)
def test_every_step_is_on_paper(page: "Page") -> None:
    """What is off the screen for now is printed all the same."""
    paper = pypdfium2.PdfDocument(page.pdf(format="Letter"))
    text = " ".join(sheet.get_textpage().get_text_range() for sheet in paper)
    flat = re.sub(r"\s+", " ", text)
    parting = [step for step in PLAN.steps.rebuild if step.stays]
    assert parting
    for step in parting:
        assert flat.count(step.text) >= sum(other.text == step.text for other in parting)


def test_a_container_and_a_build_can_be_turned(page: "Page") -> None:
    """The drawing changes when it is turned, and when another layer or stage is chosen."""
    for kind, name in (("container", CRATE.id), ("build", BUILD.id)):
        page.locator(f'[data-turn={kind}][data-id="{name}"]').click()
        _is_turned(page)
        sheet = page.locator("#turning-sheet")
        before = sheet.screenshot()
        assert _colours(before) > 20
        page.keyboard.press("ArrowLeft")
        turned = sheet.screenshot()
        assert turned != before
        page.locator("#turning-number").evaluate(
            "s => { s.value = 1; s.dispatchEvent(new Event('input')); }"
        )
        assert sheet.screenshot() != turned
        page.keyboard.press("Escape")
        assert page.locator("#turning").is_hidden()


def _colours(drawing: bytes) -> int:
    """Return how many colours a drawing has; an empty one has few."""
    return len(Image.open(BytesIO(drawing)).convert("RGB").getcolors(1 << 24) or [])


def test_an_accessibility_checker_finds_nothing(page: "Page") -> None:
    """Axe, on the page as it opens; on a phone also with a search under way, and in 3D."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    assert _violations(axe, page) == []
    if page.viewport_size and page.viewport_size["width"] > SIZES[0][0]:
        return
    page.get_by_label("Find a piece").fill("wall")
    assert _violations(axe, page) == []
    page.locator("[data-turn=container]").first.click()
    _is_turned(page)
    assert _violations(axe, page) == []


def _is_turned(page: "Page") -> None:
    """Wait until the drawing in 3D is there; the page lets no text be run as a program."""
    note = page.locator("#turning-note")
    pytest.importorskip("playwright.sync_api").expect(note).to_have_text("", timeout=30_000)


def _violations(axe: Any, page: "Page") -> list[str]:  # noqa: ANN401 - has no types
    found = axe.run(page).response["violations"]
    return [f"{one['id']}: {node['html'][:120]}" for one in found for node in one["nodes"]]
