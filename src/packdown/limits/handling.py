"""One container picked up and put down: what equation and filter make of it, and for whom."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from packdown.limits.guideline import Filter, Who, filter_weight, team_weight, zones_between
from packdown.limits.lifting import (
    Coupling,
    Lift,
    LiftTables,
    coupling_of,
    horizontal_estimate,
    lifting_index,
    recommended_weight,
)
from packdown.model import Lifting

__all__ = ["Handling", "Journey", "People", "handle", "people_for"]

UM_BY_CM = 10_000


class People(StrEnum):
    """Who lifts a container."""

    ONE = "one"
    TWO = "two"
    LIGHTEN = "lighten"


@dataclass(frozen=True, slots=True, kw_only=True)
class Journey:
    """A lift from one height to another.

    Parameters
    ----------
    name
        Such as ``floor to table``.
    from_um, to_um
        Heights of what the container stands on.
    """

    name: str
    from_um: int
    to_um: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """An estimate of one lift; weights in kilograms.

    Parameters
    ----------
    journey
        From where to where.
    coupling
        How well the hands hold.
    origin_kg, destination_kg
        Recommended weights at both ends.
    index
        Weight by the lesser of them: 1 is the aim, above 3 few should lift it.
    men_kg, women_kg
        Figures of the filter for the zones that the hands pass.
    people
        Who lifts it.
    """

    journey: Journey
    coupling: Coupling
    origin_kg: float
    destination_kg: float
    index: float
    men_kg: float
    women_kg: float
    people: People


def handle(
    size_um: Sequence[int],
    gross_g: int,
    journey: Journey,
    settings: Lifting,
    tables: LiftTables,
    table: Filter,
) -> Handling:
    """Estimate one lift of a container, held at both of its short ends.

    The horizontal distance is the manual's estimate from the depth of the container, the shorter
    side of its plan. Hands are as high on it as the settings say.

    Parameters
    ----------
    size_um, gross_g
        Length, width and height outside, and weight.
    journey
        From where to where.
    settings
        Who lifts, and how.
    tables, table
        The tables of the equation and of the filter.
    """
    length, depth = (side / UM_BY_CM for side in sorted(size_um[:2], reverse=True))
    height = size_um[2] / UM_BY_CM
    hands = height * settings.hands_percent / 100
    start, end = (um / UM_BY_CM + hands for um in (journey.from_um, journey.to_um))
    coupling = coupling_of(length, height, tables, handles=settings.has_handles)
    ends = [
        recommended_weight(
            Lift(
                horizontal=horizontal_estimate(depth, at, tables),
                vertical=at,
                travel=abs(end - start),
                coupling=coupling,
                origin=start,
            ),
            tables,
        )
        for at in (start, end)
    ]
    index = lifting_index(gross_g / 1_000, min(ends))
    zones = zones_between(start, end, table)
    return Handling(
        journey=journey,
        coupling=coupling,
        origin_kg=ends[0],
        destination_kg=ends[1],
        index=index,
        men_kg=filter_weight(zones, Who.MEN, table),
        women_kg=filter_weight(zones, Who.WOMEN, table),
        people=people_for(gross_g, index, settings, table),
    )


def people_for(gross_g: int, index: float, settings: Lifting, table: Filter) -> People:
    """Say who lifts a container.

    One person up to the user's limit, if the index is no more than 1; else two, as far as two
    thirds of what both may lift alone; else it is too heavy as it is.
    """
    if gross_g > team_weight([settings.limit_g] * 2, table):
        return People.LIGHTEN
    alone = gross_g <= min(settings.limit_g, settings.two_people_above_g) and index <= 1
    return People.ONE if alone else People.TWO
