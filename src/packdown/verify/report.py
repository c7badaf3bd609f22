"""What a verification says: every rule by name, and all that breaks it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

__all__ = ["Broken", "Report", "Rule", "Violation"]

Broken = Iterator[tuple[str, str]]
"""What a check yields: where the rule is broken, and how."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule that a plan or a load must keep.

    Parameters
    ----------
    name
        Short name, unique among the rules.
    sentence
        What the rule demands, in words for the user.
    check
        Yields where a plan, or a load, breaks it, and how; it is given what was looked up there.
    """

    name: str
    sentence: str
    check: Callable[[Any], Broken]


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One place in which a plan breaks one rule.

    Parameters
    ----------
    rule
        Name of the rule.
    where
        Ids of what is concerned.
    message
        What was measured against what is allowed, with units.
    """

    rule: str
    where: str
    message: str

    def __str__(self) -> str:
        return f"{self.rule}: {self.where}: {self.message}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """Every rule in the order of checking, with all that breaks it; nothing if it is kept."""

    rules: tuple[tuple[Rule, tuple[Violation, ...]], ...]

    @classmethod
    def of(cls, rules: Iterable[Rule], lookup: object) -> "Report":
        """Check every rule on what was looked up in a plan or a load."""
        return cls(
            rules=tuple(
                (
                    rule,
                    tuple(
                        Violation(rule=rule.name, where=where, message=message)
                        for where, message in rule.check(lookup)
                    ),
                )
                for rule in rules
            )
        )

    @property
    def ok(self) -> bool:
        """Whether every rule is kept."""
        return not self.violations

    @property
    def violations(self) -> tuple[Violation, ...]:
        """Everything that breaks a rule."""
        return tuple(violation for _, broken in self.rules for violation in broken)
