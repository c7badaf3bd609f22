"""Whole jobs: pack up."""

from packdown.planning.whole_job import plan_workspace

__all__ = ["plan_workspace"]
