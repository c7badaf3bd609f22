"""The pack book: complete, offline, safe to open and readable."""

import itertools
import re
from base64 import b64encode
from dataclasses import replace
from hashlib import sha256
from html.parser import HTMLParser

import pytest

from packdown.model import Plan
from packdown.report.book import TEMPLATES, render
from support.book_plan import book_plan

PLAN = book_plan()
PAGE = render(PLAN)
VOID = {"meta", "input", "path", "br", "use"}


class _Outline(HTMLParser):
    """Collects tags with attributes and checks that they nest."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def _tags(page: str) -> list[tuple[str, dict[str, str | None]]]:
    outline = _Outline()
    outline.feed(page)
    assert outline.open == []
    return outline.tags


TAGS = _tags(PAGE)


def test_the_page_asks_for_nothing() -> None:
    """No address, no source, no style of its own on any element, and a policy that forbids all."""
    for _, attributes in TAGS:
        assert not {"src", "srcset", "style", "onclick", "action"} & attributes.keys()
        assert (attributes.get("href") or "#").startswith("#")
    assert "http" not in PAGE.replace("http-equiv", "")
    assert "url(" not in PAGE
    assert "@import" not in PAGE
    policy = next(a["content"] for t, a in TAGS if t == "meta" and "http-equiv" in a)
    assert policy is not None
    assert policy.startswith("default-src 'none'")


def test_the_policy_allows_exactly_the_own_style_and_script() -> None:
    """Hashes as of Content Security Policy Level 3: base64 of the SHA-256 of the text."""
    for tag in ("style", "script"):
        (text,) = re.findall(rf"<{tag}>(.*?)</{tag}>", PAGE, re.DOTALL)
        digest = b64encode(sha256(text.encode()).digest()).decode()
        assert f"{tag}-src &#39;sha256-{digest}&#39;" in PAGE or (
            f"{tag}-src 'sha256-{digest}'" in PAGE
        )


def test_everything_packed_is_listed_with_its_number() -> None:
    """Each container's card has a tick box for what lies in it; what is alike shares one."""
    keys = [a["data-key"] for t, a in TAGS if t == "input" and "data-key" in a]
    assert len(keys) == len(set(keys))
    for container in PLAN.containers:
        if container.fill:
            card = PAGE.split(f'id="in-{container.id}"')[1].split("</section>")[0]
            assert sorted(_listed(card)) == list(range(1, len(container.fill) + 1))


def _listed(card: str) -> list[int]:
    """Return the numbers that the lists of a card name, one by one or in runs."""
    rows = re.findall(r'<label class="do">(.*?)</label>', card, re.DOTALL)
    found: list[int] = []
    for row in rows:
        told = re.search(r"no\. ([^·]*) ·", row) or re.search(r'class="no">([^<]*)<', row)
        assert told
        for part in re.split(r", | and ", told[1]):
            ends = [int(end) for end in part.split(" to ")]
            found += range(ends[0], ends[-1] + 1)
    return found


def test_what_is_alike_is_listed_together() -> None:
    """Loose pieces of one kind that lie alike in a layer are one entry with their number."""
    assert re.search(r'class="no">\d+ \u00d7<', PAGE)
    loose = PAGE.split('id="loose"')[1].split("</section>")[0]
    number = sum(step.build is None for step in PLAN.steps.take_down)
    assert 0 < loose.split("Rebuild")[0].count("<label") < number


def test_links_lead_somewhere() -> None:
    """Every link goes to an id on the page, and ids are unique."""
    ids = [a["id"] for _, a in TAGS if "id" in a]
    assert len(ids) == len(set(ids))
    targets = {(a["href"] or "")[1:] for t, a in TAGS if t == "a"}
    assert targets <= set(ids)


def test_sections_and_drawings_have_names() -> None:
    """Landmarks are labelled, and each drawing that is not decoration has a title."""
    ids = {a["id"] for _, a in TAGS if "id" in a}
    sections = [a for t, a in TAGS if t == "section"]
    assert all(a["aria-labelledby"] in ids for a in sections)
    drawings = [a for t, a in TAGS if t == "svg" and a.get("role") == "img"]
    assert PAGE.count("<title>") == len(drawings) + 1
    assert all(a.get("aria-hidden") for t, a in TAGS if t == "svg" and a not in drawings)


def test_headings_do_not_skip_a_level() -> None:
    """One first-level heading, and no gap below it."""
    levels = [int(tag[1]) for tag, _ in TAGS if re.fullmatch(r"h[1-6]", tag)]
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))


def test_every_piece_is_in_the_index() -> None:
    """The index names each piece and its container, also those that found no place."""
    listed = PAGE.split('<ul class="index">')[1].split("</ul>")[0]
    assert listed.count("<code>") == len(PLAN.pieces)
    assert all(f"<code>{piece.id}</code>" in listed for piece in PLAN.pieces)
    left = {entry.item for entry in PLAN.not_packed}
    missing = {p for item in PLAN.items if item.id in left for p in item.pieces}
    rows = [row for row in listed.split("<li>") if "not packed" in row]
    assert {p for row in rows for p in re.findall(r"<code>(.*?)</code>", row)} == missing != set()


def test_what_is_not_packed_is_said_with_its_reason() -> None:
    """Reasons stand on the first page."""
    summary = PAGE.split('id="summary"')[1].split("</section>")[0]
    assert all(entry.reason in summary for entry in PLAN.not_packed)


def test_cautions_are_given_and_nothing_is_promised() -> None:
    """Heavy containers and magnets are named; no word of approval appears."""
    assert "Heavy to lift" in PAGE
    assert "defer to local rules" in PAGE
    assert "pacemakers" in PAGE
    assert not re.search(r"certif|complian|guarantee", PAGE, re.IGNORECASE)


def test_names_cannot_inject() -> None:
    """Whatever a name holds, it stays text."""
    nasty = '<script>alert("x")</script>'
    container = replace(PLAN.containers[0], name=nasty)
    page = render(replace(PLAN, workspace=nasty, containers=(container, *PLAN.containers[1:])))
    assert page.count("<script>") == 1
    assert "<script>alert" not in page


def test_a_plan_that_breaks_rules_says_so() -> None:
    """The warning comes before anything else."""
    page = render(PLAN, report_ok=False)
    assert page.index("Do not pack by this plan") < page.index('id="summary"')
    assert "Do not pack by this plan" not in PAGE


def test_the_same_plan_gives_the_same_page_and_another_one_other_ticks() -> None:
    """Ticks are kept under the plan's own hash."""
    other = replace(PLAN, seed=PLAN.seed + 1)
    assert render(PLAN) == PAGE
    assert _hash(render(other)) != _hash(PAGE)


def _hash(page: str) -> str:
    found = re.search(r'data-plan="([0-9a-f]{12})"', page)
    assert found
    return found[1]


def test_an_empty_plan_has_a_book() -> None:
    """Nothing to pack is no error."""
    empty: Plan = replace(
        PLAN,
        pieces=(),
        items=(),
        builds=(),
        not_packed=(),
        containers=tuple(replace(c, fill=()) for c in PLAN.containers),
        steps=replace(PLAN.steps, take_down=(), rebuild=()),
    )
    _tags(render(empty))


COLOURS = dict(
    re.findall(r"--(\w+):(#[0-9a-f]{6})", (TEMPLATES / "page.css").read_text(encoding="utf-8"))
)


@pytest.mark.parametrize("text", ["ink", "soft", "mark"])
@pytest.mark.parametrize("ground", ["card", "wash"])
def test_text_has_contrast(text: str, ground: str) -> None:
    """At least 4.5 to 1 (Web Content Accessibility Guidelines 2.1, criterion 1.4.3)."""
    light, dark = _luminance(COLOURS[ground]), _luminance(COLOURS[text])
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def _luminance(colour: str) -> float:
    """Relative luminance as defined in the same guidelines."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
