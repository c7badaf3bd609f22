"""What people read: the terminal summary, and the pack book in `packdown.report.book`."""

from packdown.report.terminal import print_steps, steps_table, summary, verification

__all__ = ["print_steps", "steps_table", "summary", "verification"]
