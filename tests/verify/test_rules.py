"""Every rule catches its own break, and no rule cries at what is right."""

from collections import Counter

import pytest

from packdown.verify import RULES, verify
from support.breaks_contents import CONTENTS, Break
from support.breaks_places import PLACES
from support.breaks_strength import STRENGTH
from support.breaks_work import WORK
from support.plans import GOOD

BREAKS = (*CONTENTS, *STRENGTH, *PLACES, *WORK)


def _name(case: Break) -> str:
    return f"{case.rule}: {case.what}"


def test_good_plan_keeps_every_rule() -> None:
    """The plan made by hand breaks nothing."""
    report = verify(GOOD)
    assert report.violations == ()
    assert report.ok


def test_report_lists_every_rule_in_order() -> None:
    """A report names all rules, kept or not, in the order of the table."""
    assert [rule for rule, _ in verify(GOOD).rules] == list(RULES)


@pytest.mark.parametrize("case", BREAKS, ids=_name)
def test_rule_alone_catches_its_break(case: Break) -> None:
    """What breaks one rule is reported by that rule, with figures, and by no other."""
    report = verify(case.plan)
    assert {
        str(violation) for violation in report.violations if violation.rule != case.rule
    } == set()
    assert any(case.says in violation.message for violation in report.violations)
    assert not report.ok


def test_every_rule_has_a_break() -> None:
    """No rule is in the table without a plan that breaks it."""
    assert {rule.name for rule in RULES} == {case.rule for case in BREAKS}


def test_rule_names_are_unique() -> None:
    """A rule can be told by its name, and says what it demands in a sentence."""
    assert max(Counter(rule.name for rule in RULES).values()) == 1
    assert all(rule.sentence.endswith(".") for rule in RULES)
