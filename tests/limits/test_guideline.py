"""The filter for lifting and the share of a team.

HSE, Manual handling at work, INDG143 (rev4), and L23 (4th edition). Marked below where a figure is
from memory.
"""

import pytest

from packdown.files import read_filter
from packdown.limits.guideline import Who, Zone, filter_weight, team_weight, zones_between

TABLE = read_filter()


@pytest.mark.parametrize(("each", "team"), [([20.0] * 2, 26.67), ([25.0] * 2, 33.3)])
def test_two_lift_two_thirds_of_the_sum(each: list[float], team: float) -> None:
    """L23; Network Rail prints about 26.6 kg for two of 20 kg."""
    assert team_weight(each, TABLE) == pytest.approx(team, abs=0.04)


def test_three_lift_half_of_the_sum() -> None:
    """L23: three of 25 kg lift 37.5 kg; for five there is no figure."""
    assert team_weight([25.0] * 3, TABLE) == pytest.approx(37.5, rel=1e-3)
    assert team_weight([25.0], TABLE) == 25.0
    with pytest.raises(ValueError, match="no figure for a team of 5"):
        team_weight([25.0] * 5, TABLE)


@pytest.mark.parametrize(("who", "kg"), [(Who.MEN, 25), (Who.WOMEN, 16)])
def test_close_to_the_body_at_knuckle_height(who: Who, kg: float) -> None:
    """INDG143: 25 and 16 kg."""
    assert filter_weight([Zone.KNUCKLE], who, TABLE) == kg


@pytest.mark.parametrize(("who", "kg"), [(Who.MEN, 5), (Who.WOMEN, 3)])
def test_above_the_shoulder_with_arms_out(who: Who, kg: float) -> None:
    """INDG143, from memory: 5 and 3 kg."""
    assert filter_weight([Zone.SHOULDER], who, TABLE, arms_out=True) == kg


def test_often_or_twisted_takes_something_off() -> None:
    """INDG143: 30 % for one or two lifts a minute, 20 % for a twist beyond 90 degrees."""
    for rate in (1, 2):
        assert filter_weight([Zone.KNUCKLE], Who.MEN, TABLE, rate=rate) == 17.5
    assert filter_weight([Zone.KNUCKLE], Who.MEN, TABLE, rate=6) == 12.5
    assert filter_weight([Zone.KNUCKLE], Who.MEN, TABLE, rate=13) == pytest.approx(5.0)
    assert filter_weight([Zone.KNUCKLE], Who.MEN, TABLE, twist=91) == 20
    assert filter_weight([Zone.KNUCKLE], Who.MEN, TABLE, twist=46) == 22.5
    assert filter_weight([Zone.KNUCKLE], Who.MEN, TABLE, rate=0.5, twist=45) == 25


def test_the_least_of_the_zones_counts() -> None:
    """INDG143: from the floor to knuckle height it is the floor's figure.

    The heights of the zones are common practice, no source.
    """
    zones = zones_between(10, 80, TABLE)
    assert zones == (Zone.FLOOR, Zone.LEG, Zone.KNUCKLE)
    assert filter_weight(zones, Who.MEN, TABLE) == 10
    assert zones_between(80, 80, TABLE) == (Zone.KNUCKLE,)
    assert zones_between(150, 30, TABLE) == (Zone.LEG, Zone.KNUCKLE, Zone.ELBOW, Zone.SHOULDER)
