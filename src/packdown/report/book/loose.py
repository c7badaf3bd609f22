"""Loose pieces and bags: what is laid in and lifted out, alike things together."""

from markupsafe import Markup

from packdown.report.book.builds import lists_of
from packdown.report.book.sheets import Sheets
from packdown.report.step_groups import step_groups

__all__ = ["loose"]


def loose(sheets: Sheets) -> Markup:
    """Return the card of what belongs to no build; nothing where there is none."""
    lists = [
        {
            "title": title,
            "key": f"loose/{key}",
            "steps": step_groups(sheets.lookup, [step for step in steps if step.build is None]),
        }
        for title, key, steps in lists_of(sheets.lookup)
    ]
    return sheets.fill("loose", lists=lists) if any(own["steps"] for own in lists) else Markup()
