"""Whole jobs: pack up."""

from packdown.planning.whole_job import DEFAULT_EFFORT, plan_workspace

__all__ = ["DEFAULT_EFFORT", "plan_workspace"]
