"""Pack book of 400 pieces, 12 containers, 10 builds: ``cd tests && python -m benchmarks.books``.

Seconds are of the processor as well as of the clock, since other work slows the clock down.
"""

import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated

import typer

from benchmarks.plain import show
from packdown.model import Plan
from packdown.report.book import render
from support.browser import SIZES, browser
from support.large_book import large_plan

FIRST_VIEW = "performance.getEntriesByName('first-contentful-paint')[0].startTime"
READY = "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
Row = tuple[str, float]

app = typer.Typer(add_completion=False)


def written(plan: Plan, *, turning: bool) -> tuple[str, list[Row]]:
    """Write the book as text; return it, and what it took."""
    clock, work = time.perf_counter(), time.process_time()
    page = render(plan, turning=turning)
    clock, work = time.perf_counter() - clock, time.process_time() - work
    what = "with 3D" if turning else "without 3D"
    return page, [
        (f"writing, {what}: seconds of the clock", clock),
        (f"writing, {what}: seconds of the processor", work),
        (f"size, {what}: MB", len(page.encode()) / 1e6),
    ]


def opened(page: str) -> list[Row]:
    """Open the book in a browser; return seconds to the first view and until it can be used."""
    with TemporaryDirectory() as folder, browser() as chromium:
        path = Path(folder) / "book.html"
        path.write_text(page, encoding="utf-8")
        rows: list[Row] = []
        for wide, high in SIZES:
            sheet = chromium.new_page(viewport={"width": wide, "height": high})
            sheet.goto(path.as_uri())
            sheet.wait_for_function(f"!!{FIRST_VIEW.split('.startTime', maxsplit=1)[0]}")
            first, ready = (sheet.evaluate(what) / 1000 for what in (FIRST_VIEW, READY))
            rows.append((f"{wide} x {high}: seconds to the first view", first))
            rows.append((f"{wide} x {high}: seconds until it can be used", ready))
            sheet.close()
        return rows


@app.command()
def run(most: Annotated[int, typer.Option(help="Most pieces of a build.")] = 28) -> None:
    """Print how long the book takes, how large it is, and how soon it is seen."""
    plan = large_plan(most)
    flat, rows = written(plan, turning=False)
    page, more = written(plan, turning=True)
    used = sum(bool(container.fill) for container in plan.containers)
    show(
        f"{len(plan.pieces)} pieces, {len(plan.builds)} builds, {used} of {len(plan.containers)} "
        f"containers used, {len(plan.steps.take_down)} steps down, "
        f"{flat.count('<svg role')} drawings",
        ("what", ""),
        [*rows, *more, *opened(page)],
    )


if __name__ == "__main__":
    app()
