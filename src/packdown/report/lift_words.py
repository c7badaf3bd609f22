"""Lifting and magnets in words and rows: estimates, whom to ask, and the usual cautions."""

from collections.abc import Iterable, Sequence

from packdown.limits.handling import Handling, People
from packdown.limits.magnets import (
    CHECK_DISTANCE_M,
    FAR_DISTANCE_M,
    HAZARD_INDEX,
    TWO_DEGREES_G,
    AirClass,
    air_class,
    field_gauss,
    flux_index,
    random_share,
)
from packdown.model import PackedContainer
from packdown.report.cautions import Caution
from packdown.report.lookup import Lookup
from packdown.units import format_weight

__all__ = ["LIFT_NOTE", "flight_caution", "lift_row", "magnet_rows", "magnets_in"]

LIFT_NOTE = Caution(
    title="These are estimates",
    text="The recommended weight is that of the revised NIOSH lifting equation (Publication "
    "94-110) for a few lifts with both hands, standing upright on a firm floor; it counts neither "
    "carrying nor a narrow place, and reaching into a boot is one. The filter is HSE's (INDG143), "
    "which is no limit. Local rules come first: ask the health and safety adviser of your club, "
    "venue or employer, and a doctor if you have had trouble with your back.",
)
_PEOPLE = {
    People.ONE: "one person",
    People.TWO: "two people",
    People.LIGHTEN: "take something out, or use a trolley",
}
_AIR = {
    AirClass.LOW: "below what carriers ask about",
    AirClass.ASK: "near the limit: ask the carrier before you book",
    AirClass.DECLARE: "above the limit at 2.1 m: the carrier must agree beforehand",
    AirClass.FORBIDDEN: "above the limit at 4.5 m: not by air unless states and carrier approve",
}


def lift_row(handling: Handling) -> tuple[str, ...]:
    """Return a row: the lift, recommended weights, index, figures of the filter, and for whom."""
    least = min(handling.origin_kg, handling.destination_kg)
    return (
        handling.journey.name,
        f"{least:.1f} kg" if least else "none",
        _index(handling.index),
        f"{handling.men_kg:g} / {handling.women_kg:g} kg",
        _PEOPLE[handling.people],
    )


def _index(index: float) -> str:
    if index == float("inf"):
        return "out of range"
    note = " (high for nearly all)" if index > 3 else " (high for some)" if index > 1 else ""
    return f"{index:.1f}{note}"


def magnets_in(lookup: Lookup, container: PackedContainer) -> int:
    """Return the number of magnets in the pieces of a container."""
    items = (lookup.items[place.item] for place in container.fill)
    return sum(lookup.pieces[piece].magnets for item in items for piece in item.pieces)


def magnet_rows(
    lookup: Lookup, containers: Iterable[PackedContainer]
) -> tuple[tuple[str, ...], ...]:
    """Return a row for each container with magnets: how many, fields, and what they mean."""
    magnet = lookup.plan.rules.magnet
    rows = []
    for container in containers:
        number = magnets_in(lookup, container)
        if number:
            near, far = (
                field_gauss(number * magnet.moment, metres)
                for metres in (CHECK_DISTANCE_M, FAR_DISTANCE_M)
            )
            rows.append(
                (
                    container.name,
                    f"{number}",
                    f"{near:.6f} G",
                    f"{near * random_share(number):.6f} G",
                    f"{far:.6f} G",
                    _AIR[air_class(magnet, number)],
                )
            )
    return tuple(rows)


def flight_caution(
    lookup: Lookup, containers: Sequence[PackedContainer] | None = None
) -> Caution | None:
    """Return the caution on magnets in the air, with the strongest estimate; None without any."""
    chosen = lookup.used if containers is None else containers
    counts = {container.name: magnets_in(lookup, container) for container in chosen}
    name, number = max(counts.items(), key=lambda entry: entry[1], default=("", 0))
    if not number:
        return None
    magnet = lookup.plan.rules.magnet
    near, far = (
        field_gauss(number * magnet.moment, metres) for metres in (CHECK_DISTANCE_M, FAR_DISTANCE_M)
    )
    return Caution(
        title="Magnets on a flight",
        text=f"{name} has most, {number}. If all of them point the same way, their field is about "
        f"{near:.6f} G at {CHECK_DISTANCE_M} m and {far:.6f} G at {FAR_DISTANCE_M} m; above "
        f"{TWO_DEGREES_G} G at {CHECK_DISTANCE_M} m a package is magnetized material. This is an "
        "estimate, not a measurement, for discs of the size in your settings: ask the carrier. "
        f"Loose, one such magnet has a flux index of about {flux_index(magnet):.0f} kG2 mm2, and "
        f"{HAZARD_INDEX:.0f} is the limit for loose magnets in toys (16 CFR 1262).",
    )


def heavy_note(limit_g: int) -> str:
    """Return what the limit is, in a few words."""
    return f"Your own limit for one person is {format_weight(limit_g)}."
