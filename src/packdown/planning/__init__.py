"""Whole jobs: pack up, and what may be traded for what."""

from packdown.planning.trade_off import trade_off
from packdown.planning.whole_job import DEFAULT_EFFORT, plan_workspace

__all__ = ["DEFAULT_EFFORT", "plan_workspace", "trade_off"]
