"""Charts of the summary: bars to one scale, and what each choice saves."""

from dataclasses import replace

from packdown.report.book.charts import fills, trade_off
from packdown.report.lookup import look_up
from packdown.report.trade_off import choice_of
from support.book_plan import book_plan

PLAN = book_plan()
LOOKUP = look_up(PLAN)


def test_every_used_container_has_a_row() -> None:
    """Shares of the volume, and weights of what is allowed."""
    rows = fills(LOOKUP)["rows"]
    assert [row["id"] for row in rows] == [container.id for container in LOOKUP.used]
    for row, container in zip(rows, LOOKUP.used, strict=True):
        assert row["percent"] == round(100 * LOOKUP.fill_share(container))


def test_weights_share_one_scale() -> None:
    """The heaviest takes the whole bar; the limit for one person lies where it belongs."""
    chart = fills(LOOKUP)
    gross = [LOOKUP.gross_g(container) for container in LOOKUP.used]
    limit_g = PLAN.rules.lift_limit_g
    most = max(*gross, limit_g)
    assert [row["gross_at"] for row in chart["rows"]] == [round(100 * g / most) for g in gross]
    assert chart["lift_at"] == round(100 * limit_g / most)
    assert [row["is_heavy"] for row in chart["rows"]] == [g > limit_g for g in gross]


def test_an_extra_container_saves_what_lies_between_two_choices() -> None:
    """Three containers for 600 s or four for 240 s: one more saves six minutes."""
    own = choice_of(1, PLAN)
    few = replace(own, containers=3, effort_s=600)
    more = replace(own, number=2, containers=4, effort_s=240)
    chart = trade_off(PLAN, (few, more))
    assert chart is not None
    first, second = chart["rows"]
    assert first["saves"] == ""
    assert second["saves"] == "1 more saves about 6 min"
    assert (first["at"], second["at"]) == (100, 40)


def test_the_plan_at_hand_is_marked() -> None:
    """By its figures, since a plan does not know what else there was."""
    own = choice_of(1, PLAN)
    chart = trade_off(PLAN, (replace(own, containers=own.containers - 1), own))
    assert chart is not None
    assert [row["is_this"] for row in chart["rows"]] == [False, True]


def test_one_plan_alone_is_no_choice() -> None:
    """Nothing to compare, no chart."""
    assert trade_off(PLAN, (choice_of(1, PLAN),)) is None
