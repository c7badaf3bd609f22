"""A verifier that knows no solver: every rule of a plan, checked from the plan alone."""

from packdown.verify.bringing import check_bringing
from packdown.verify.load_rules import LOAD_RULES, verify_load
from packdown.verify.report import Report, Rule, Violation
from packdown.verify.rules import RULES, verify
from packdown.verify.timeline import check_timeline

__all__ = [
    "LOAD_RULES",
    "RULES",
    "Report",
    "Rule",
    "Violation",
    "check_bringing",
    "check_timeline",
    "verify",
    "verify_load",
]
