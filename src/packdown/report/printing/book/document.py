"""The pack book on paper: contents, summary, a chapter for each container and for each build."""

from collections.abc import Iterator
from functools import partial

from packdown.model import Plan
from packdown.report import words
from packdown.report.lookup import Lookup, look_up
from packdown.report.printing.book.builds import add_build
from packdown.report.printing.book.containers import add_container
from packdown.report.printing.book.index import add_index
from packdown.report.printing.book.loose import add_loose
from packdown.report.printing.book.summary import add_cautions, add_summary
from packdown.report.printing.canvas import Box, Canvas, canvas
from packdown.report.printing.cells import Cell, PageNumber, Words
from packdown.report.printing.fitting import line_height, sizes
from packdown.report.printing.flow import Flow, Title
from packdown.report.printing.sheets import Printed

__all__ = ["print_book"]

MARGIN = 15.0
"""Empty edge of the paper, in millimetres."""
FOOT = 8.0
"""Height of the strip at the foot of each page."""
SMALL = sizes(7.5, 5)
BROKEN = (
    "Do not pack by this plan: it breaks at least one of its own rules. Verify it to see which, "
    "and make a new plan."
)


def print_book(plan: Plan, paper_um: tuple[int, int], *, is_sound: bool = True) -> Printed:
    """Print the pack book of a plan.

    Parameters
    ----------
    plan
        The plan.
    paper_um
        Width and height of the paper.
    is_sound
        Whether the plan keeps all rules; if not, the first page says so.
    """
    lookup = look_up(plan)
    width, height = (side / 1_000 for side in paper_um)
    inner = Box(MARGIN, MARGIN, width - 2 * MARGIN, height - 2 * MARGIN - FOOT)
    with canvas((width, height), f"Pack book: {plan.workspace}") as page:
        book = _Book(page, lookup, inner)
        book.write(is_sound=is_sound)
        pages = book.paint(Box(MARGIN, height - MARGIN - FOOT, inner.width, FOOT))
        data = page.finish()
        return Printed(data=data, pages=pages, missing=tuple(sorted(page.missing)))


class _Book:
    """The first pages, whose number depends on what follows, and what follows."""

    def __init__(self, page: Canvas, lookup: Lookup, inner: Box) -> None:
        self.page, self.lookup = page, lookup
        self.front, self.body = Flow(page, inner), Flow(page, inner)
        self._starts: dict[str, int] = {}
        self._hash = words.plan_hash(lookup.plan)

    def write(self, *, is_sound: bool) -> None:
        """Lay everything out; the contents come last, when all titles are known."""
        lookup, body = self.lookup, self.body
        add_summary(body, lookup, self.number)
        add_cautions(body, lookup)
        for container in lookup.used:
            self._begin(container.id)
            add_container(body, lookup, container)
        for build in lookup.plan.builds:
            self._begin(f"build {build.id}")
            add_build(body, lookup, build, self.number)
        add_loose(body, lookup)
        add_index(body, lookup, self.number)
        self._contents(is_sound=is_sound)

    def _begin(self, what: str) -> None:
        """Note that something begins on the next page."""
        self._starts[what] = self.body.pages

    def number(self, what: str) -> int | None:
        """Return on which page, from 1, a container (by its id) or a build begins."""
        start = self._starts.get(what)
        return None if start is None else self.front.pages + start + 1

    def _contents(self, *, is_sound: bool) -> None:
        front, plan = self.front, self.lookup.plan
        front.title(f"Pack book: {plan.workspace}")
        front.say(
            f"Plan {self._hash}, seed {plan.seed}, effort {plan.effort}, made with "
            f"Packdown {plan.created_with}. {words.PROPOSAL}",
            7.5,
        )
        if not is_sound:
            front.framed(Words(BROKEN, 11, bold=True))
        front.title("Contents", 1)
        for title in self.body.titles:
            if title.level == 0:
                cells: list[Cell] = [Words(title.text), PageNumber(partial(self._page_of, title))]
                front.row(cells, [1.0, 12.0], ruled=True)

    def _page_of(self, title: Title) -> int:
        return self.front.pages + title.page + 1

    def paint(self, foot: Box) -> int:
        """Paint all pages with their numbers, and return how many there are."""
        total = self.front.pages + self.body.pages
        for number, (flow, page) in enumerate(self._pages(), 1):
            self.page.new_page()
            for title in flow.titles:
                if title.page == page and title.level < 2:
                    self.page.bookmark(title.text, title.level)
            flow.paint(self.page, page)
            self._foot(foot, number, total)
        return total

    def _pages(self) -> Iterator[tuple[Flow, int]]:
        for flow in (self.front, self.body):
            for page in range(flow.pages):
                yield flow, page

    def _foot(self, box: Box, number: int, total: int) -> None:
        line = line_height(SMALL[0])
        rest = box.below(box.height - line)
        self.page.line(((rest.x, rest.y - 1), (rest.x + rest.width, rest.y - 1)), 0.15)
        told = f"{number} / {total}"
        wide = 25.0
        name = f"{self.lookup.plan.workspace}, plan {self._hash}"
        self.page.put(rest._replace(width=rest.width - wide), name, SMALL, 1)
        place = rest._replace(x=rest.x + rest.width - wide, width=wide)
        Words(told, SMALL[0], align="right").draw(self.page, place)
