"""A verifier that knows no solver: every rule of a plan, checked from the plan alone."""

from packdown.verify.report import Report, Rule, Violation
from packdown.verify.rules import RULES, verify

__all__ = ["RULES", "Report", "Rule", "Violation", "verify"]
