"""A real browser without a window, for tests of pages; tests are skipped where none is found."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser

__all__ = ["SIZES", "browser", "found_browser"]

SIZES = ((360, 740), (1280, 800))
"""A phone held upright and a small laptop."""
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")


def found_browser() -> str | None:
    """Return the program that ``PACKDOWN_TEST_BROWSER`` names, or one that is installed."""
    named = os.environ.get("PACKDOWN_TEST_BROWSER")
    return named or next((path for name in NAMES if (path := shutil.which(name))), None)


@contextmanager
def browser() -> Iterator["Browser"]:
    """Start the browser; skip the test that asks for it where there is none."""
    driver = pytest.importorskip("playwright.sync_api")
    program = found_browser()
    if program is None:
        pytest.skip("no browser: install chromium, or name one in PACKDOWN_TEST_BROWSER")
    with driver.sync_playwright() as play:
        started: Browser = play.chromium.launch(executable_path=program, args=["--no-sandbox"])
        try:
            yield started
        finally:
            started.close()
