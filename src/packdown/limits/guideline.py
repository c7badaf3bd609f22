"""A simple filter for lifting and the share that a team can lift together.

HSE, Manual handling at work, INDG143 (rev4), and Manual Handling Operations Regulations 1992:
Guidance, L23. It tells which lifts are worth a closer look, and is no limit.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

__all__ = ["Filter", "Who", "Zone", "filter_weight", "team_weight", "zones_between"]


class Zone(StrEnum):
    """Height of the hands; each reaches up to the next."""

    FLOOR = "floor"
    LEG = "leg"
    KNUCKLE = "knuckle"
    ELBOW = "elbow"
    SHOULDER = "shoulder"


class Who(StrEnum):
    """Whose figures."""

    MEN = "men"
    WOMEN = "women"


@dataclass(frozen=True, slots=True, kw_only=True)
class Filter:
    """The figures of the filter.

    Parameters
    ----------
    weights
        Kilograms close to the body and with arms out, by whose figures and zone.
    starts
        Height in cm at which each zone begins.
    rates, beyond
        Lifts a minute up to which a percentage is taken off, and what is taken off beyond.
    twists
        Degrees beyond which a percentage is taken off, largest first.
    teams
        Share of the sum that a team can lift, by its number of people.
    """

    weights: Mapping[Who, Mapping[Zone, tuple[float, float]]]
    starts: Mapping[Zone, float]
    rates: tuple[tuple[float, float], ...]
    beyond: float
    twists: tuple[tuple[float, float], ...]
    teams: Mapping[int, Fraction]


def zones_between(low_cm: float, high_cm: float, table: Filter) -> tuple[Zone, ...]:
    """Return the zones that the hands pass between two heights."""
    low, high = min(low_cm, high_cm), max(low_cm, high_cm)
    ends = [*list(table.starts.values())[1:], float("inf")]
    return tuple(
        zone
        for (zone, start), end in zip(table.starts.items(), ends, strict=True)
        if start <= high and low < end
    )


def filter_weight(
    zones: Sequence[Zone],
    who: Who,
    table: Filter,
    *,
    arms_out: bool = False,
    rate: float = 0.0,
    twist: float = 0.0,
) -> float:
    """Return the kilograms of the filter: the least of the zones, less what is taken off.

    Parameters
    ----------
    zones
        What the hands pass through.
    who, table
        Whose figures, and the figures.
    arms_out
        Whether the arms are stretched out at either end.
    rate
        Lifts a minute.
    twist
        Degrees by which the body is twisted.
    """
    least = min(table.weights[who][zone][int(arms_out)] for zone in zones)
    often = next((share for most, share in table.rates if rate <= most), table.beyond)
    twisted = next((share for least, share in table.twists if twist > least), 0)
    return least * (100 - often) * (100 - twisted) / 10_000


def team_weight(each: Sequence[float], table: Filter) -> float:
    """Return what a team can lift together, from what each can alone.

    Raises
    ------
    ValueError
        For more people than the guidance names; more than four are unlikely to lift well.
    """
    if len(each) == 1:
        return each[0]
    if len(each) not in table.teams:
        raise ValueError(f"there is no figure for a team of {len(each)}")
    return float(sum(each) * table.teams[len(each)])
