"""The revised lifting equation: a recommended weight for one lift, and an index of the load.

Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS
(NIOSH) Publication 94-110, revised 2021; pages below are of that edition. It holds for two hands,
standing, indoors, on a firm floor; not for carrying, one hand, kneeling, or a narrow place.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

__all__ = [
    "Constants",
    "Coupling",
    "Duration",
    "Lift",
    "LiftTables",
    "Multipliers",
    "System",
    "composite_index",
    "coupling_of",
    "frequency_multiplier",
    "horizontal_estimate",
    "lifting_index",
    "mean_rate",
    "multipliers",
    "recommended_weight",
]


class System(StrEnum):
    """Which constants: they are no exact conversions of each other."""

    METRIC = "metric"
    US = "us"


class Duration(StrEnum):
    """How long the lifting goes on, with rest after it (p. 13, 14)."""

    SHORT = "short"
    MODERATE = "moderate"
    LONG = "long"


class Coupling(StrEnum):
    """How well the hands hold."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """Constants of one system of units: weights in kg or lb, lengths in cm or in.

    Parameters
    ----------
    load
        Weight for a lift in the best of places.
    horizontal, most_horizontal
        Distance of the hands from the ankles up to which nothing is taken off, and beyond which
        nothing may be lifted.
    vertical, reference, most_vertical
        What each unit of height away from the reference takes off, and the greatest height.
    travel, least_travel, most_travel
        Constant of the vertical travel, and its range.
    low, near_body, near_body_low
        For the estimate of the horizontal distance: height below which hands are low, and what is
        added to half the depth of the box, above and below it.
    """

    load: float
    horizontal: float
    most_horizontal: float
    vertical: float
    reference: float
    most_vertical: float
    travel: float
    least_travel: float
    most_travel: float
    low: float
    near_body: float
    near_body_low: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftTables:
    """The equation's constants and tables.

    Parameters
    ----------
    constants
        By system of units.
    asymmetry, most_asymmetry
        What each degree of turning takes off, and the most degrees.
    least_rate
        Fewer lifts a minute count as this many.
    frequency
        Rows of lifts a minute and six multipliers: for each duration, hands low and high.
    coupling
        Multipliers by coupling, hands low and high.
    most_length, most_height
        Size in cm beyond which a container is hard to hold.
    """

    constants: Mapping[System, Constants]
    asymmetry: float
    most_asymmetry: float
    least_rate: float
    frequency: tuple[tuple[float, ...], ...]
    coupling: Mapping[Coupling, tuple[float, float]]
    most_length: float
    most_height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift, seen at its origin or at its destination; lengths in cm or in.

    Parameters
    ----------
    horizontal
        From the middle between the ankles to the middle between the hands.
    vertical
        Height of the hands at the end that is looked at.
    origin
        Height of the hands at the origin, if that is another.
    travel
        Vertical distance between the two.
    turn
        Degrees between the way the feet and the load point.
    rate
        Lifts a minute.
    duration, coupling, system
        As their types say.
    """

    horizontal: float
    vertical: float
    travel: float
    turn: float = 0.0
    rate: float = 0.2
    duration: Duration = Duration.SHORT
    coupling: Coupling = Coupling.GOOD
    system: System = System.METRIC
    origin: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Multipliers:
    """What each circumstance leaves of the load constant, from 0 to 1."""

    horizontal: float
    vertical: float
    travel: float
    turn: float
    rate: float
    coupling: float

    @property
    def product(self) -> float:
        """All of them multiplied."""
        far = self.horizontal * self.vertical * self.travel
        return far * self.turn * self.rate * self.coupling


def multipliers(lift: Lift, tables: LiftTables) -> Multipliers:
    """Return the six multipliers of a lift (p. 7 to 18)."""
    of = tables.constants[lift.system]
    low = lift.vertical < of.reference
    far = max(lift.horizontal, of.horizontal)
    way = max(lift.travel, of.least_travel)
    start = lift.vertical if lift.origin is None else lift.origin
    return Multipliers(
        horizontal=0.0 if far > of.most_horizontal else of.horizontal / far,
        vertical=0.0
        if lift.vertical > of.most_vertical
        else 1 - of.vertical * abs(lift.vertical - of.reference),
        travel=0.0 if way > of.most_travel else min(1.0, 0.82 + of.travel / way),
        turn=0.0 if lift.turn > tables.most_asymmetry else 1 - tables.asymmetry * lift.turn,
        rate=frequency_multiplier(lift.rate, start, lift.duration, tables, lift.system),
        coupling=tables.coupling[lift.coupling][0 if low else 1],
    )


def frequency_multiplier(
    rate: float,
    origin: float,
    duration: Duration,
    tables: LiftTables,
    system: System = System.METRIC,
) -> float:
    """Return the multiplier of table 5, between two rows by a straight line (p. 7, 14, 15).

    Parameters
    ----------
    rate
        Lifts a minute.
    origin
        Height of the hands at the origin of the lift.
    duration
        How long the lifting goes on.
    tables, system
        The tables, and the units of the height.
    """
    high = origin >= tables.constants[system].reference
    column = 1 + 2 * list(Duration).index(duration) + high
    rate = max(rate, tables.least_rate)
    for below, above in pairwise(tables.frequency):
        if below[0] <= rate <= above[0]:
            share = (rate - below[0]) / (above[0] - below[0])
            return below[column] + share * (above[column] - below[column])
    return 0.0


def recommended_weight(lift: Lift, tables: LiftTables) -> float:
    """Return the recommended weight limit, in kg or lb."""
    return tables.constants[lift.system].load * multipliers(lift, tables).product


def lifting_index(weight: float, recommended: float) -> float:
    """Return weight by recommended weight; infinite where nothing is recommended."""
    return weight / recommended if recommended > 0 else float("inf")


def horizontal_estimate(
    depth: float, vertical: float, tables: LiftTables, system: System = System.METRIC
) -> float:
    """Estimate how far the hands are from the ankles, where that cannot be measured (p. 8).

    Parameters
    ----------
    depth
        Size of the box from front to back.
    vertical
        Height of the hands.
    tables, system
        The tables, and the units.
    """
    of = tables.constants[system]
    return (of.near_body_low if vertical < of.low else of.near_body) + depth / 2


def mean_rate(rate: float, minutes: float, period: float = 15.0) -> float:
    """Return lifts a minute over a period in which only some minutes are worked (p. 16)."""
    return rate * minutes / period


def coupling_of(
    length_cm: float, height_cm: float, tables: LiftTables, *, handles: bool, shifts: bool = False
) -> Coupling:
    """Say how well a container can be held (p. 17, 18); in doubt the harder class.

    Parameters
    ----------
    length_cm, height_cm
        Its longest side in plan, and its height.
    handles
        Whether it has handles or cut-outs of the size that the manual asks for.
    shifts
        Whether what is in it may shift.
    tables
        The tables.
    """
    if length_cm > tables.most_length or height_cm > tables.most_height or shifts:
        return Coupling.POOR
    return Coupling.GOOD if handles else Coupling.FAIR


def composite_index(tasks: Sequence[tuple[float, float]], duration: Duration, tables: LiftTables,
                    origin: float = 0.0, system: System = System.METRIC) -> float:  # fmt: skip
    """Return the index of several lifts in one job (p. 28).

    Parameters
    ----------
    tasks
        For each lift the index without its rate, and its lifts a minute.
    duration
        How long the job goes on.
    tables, system
        The tables, and the units of the height.
    origin
        Lowest height of the hands at an origin, for the multiplier of the rate.
    """

    def multiplier(rate: float) -> float:
        return frequency_multiplier(rate, origin, duration, tables, system)

    if not tasks or multiplier(sum(rate for _, rate in tasks)) == 0:
        return float("inf") if tasks else 0.0
    ordered = sorted(tasks, key=lambda task: -task[0] / multiplier(task[1]))
    index, rates = ordered[0][0] / multiplier(ordered[0][1]), ordered[0][1]
    for alone, rate in ordered[1:]:
        more = 1 / multiplier(rates + rate) - 1 / multiplier(rates)
        index, rates = index + alone * more, rates + rate
    return index
