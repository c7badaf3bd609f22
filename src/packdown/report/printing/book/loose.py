"""A chapter for loose pieces and bags: what is laid into which container, and lifted out."""

from packdown.report.lookup import Lookup
from packdown.report.printing.book.builds import add_steps, lists_of
from packdown.report.printing.flow import Flow
from packdown.report.step_groups import step_groups

__all__ = ["add_loose"]


def add_loose(flow: Flow, lookup: Lookup) -> None:
    """Add the steps that belong to no build; no chapter where there are none."""
    lists = [
        (title, step_groups(lookup, [step for step in steps if step.build is None]))
        for title, steps in lists_of(lookup.plan)
    ]
    if not any(groups for _, groups in lists):
        return
    flow.title("Loose pieces and bags")
    for title, groups in lists:
        add_steps(flow, title, [(group, ()) for group in groups])
