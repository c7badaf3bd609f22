"""Whole jobs: pack up, what may be traded for what, and who does which step when.

What to bring to an event is in `packdown.planning.bringing`.
"""

from packdown.planning.timeline import quick_length, schedule
from packdown.planning.trade_off import trade_off
from packdown.planning.whole_job import DEFAULT_EFFORT, plan_workspace

__all__ = ["DEFAULT_EFFORT", "plan_workspace", "quick_length", "schedule", "trade_off"]
