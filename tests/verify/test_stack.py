"""Loads, support and balance worked by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest

from packdown.model import Plan
from packdown.verify import verify
from support.altering import with_item
from support.breaks_places import block, crane, in_one_box


def _pyramid() -> Plan:
    """Return three blocks, two on them, one on those, each of 20 mm and 8 g, 2 mm apart."""
    return in_one_box(
        (block("a", 8, 20, 20, 10), (2, 2, 0), 1, 1),
        (block("b", 8, 20, 20, 10), (24, 2, 0), 1, 1),
        (block("c", 8, 20, 20, 10), (46, 2, 0), 1, 1),
        (block("d", 8, 20, 20, 10), (13, 2, 10), 0.9, 2),
        (block("e", 8, 20, 20, 10), (35, 2, 10), 0.9, 2),
        (block("f", 8, 20, 20, 10), (24, 2, 20), 0.9, 3),
    )


# f puts 4 g on d and on e; these put half of 12 g on each block below: 6, 12 and 6 g.
@pytest.mark.parametrize(("name", "load_g"), [("a", 6), ("b", 12), ("c", 6), ("d", 4), ("e", 4)])
def test_paths_add_up(name: str, load_g: int) -> None:
    """What a block carries is added up over every path, and not a gram more."""
    assert verify(with_item(_pyramid(), name, carry_limit_g=load_g)).violations == ()
    broken = verify(with_item(_pyramid(), name, carry_limit_g=load_g - 1)).violations
    assert [found.where for found in broken if found.rule == "load"] == [f"box/{name}"]


def test_load_is_shared_by_area() -> None:
    """The floor takes its share of what stands partly on it, in proportion to the area."""
    # 20 x 20 mm on the floor, 10 x 20 mm on the step: a third of 28 g, 9.33 g.
    plan = in_one_box(
        (block("step", 5, 30, 20, 20), (24, 2, 0), 1, 1), (crane(32), (2, 2, 0), 1, 2)
    )
    assert verify(with_item(plan, "step", carry_limit_g=10)).violations == ()
    broken = verify(with_item(plan, "step", carry_limit_g=9)).violations
    assert [found.message for found in broken if found.rule == "load"] == [
        f"carries {float(Fraction(28, 3)):.1f} g, may carry 9 g"
    ]


@pytest.mark.parametrize(("step", "falls"), [(6, False), (7, False), (8, True)])
def test_a_leaning_tower_tips_where_statics_says(step: int, *, falls: bool) -> None:
    """Three equal blocks of 30 mm, each a step aside: the upper two act at 1.5 steps.

    They act 15 + 1.5 steps along the lowest block, whose end lies at 30 mm: they tip from a step
    of more than 10 mm on. With four blocks, the upper three act at 15 + 2 steps: from 7.5 mm on.
    """
    tower = in_one_box(
        *(
            (
                block(name, 8, 30, 20, 5),
                (2 + step * n, 2, 5 * n),
                (30 - step if n else 30) / 30,
                n + 1,
            )
            for n, name in enumerate("abcd")
        )
    )
    slack = replace(tower, rules=replace(tower.rules, support_percent=50))
    found = {violation.rule for violation in verify(slack).violations}
    assert found == ({"balance"} if falls else set())
