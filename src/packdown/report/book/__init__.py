"""The pack book: one page that shows a whole plan, works offline and prints.

Each section is a function in a module of its own, with a template beside the others; `page.py`
lists them in the order of the page.
"""

from packdown.report.book.page import render
from packdown.report.book.sheets import TEMPLATES

__all__ = ["TEMPLATES", "render"]
