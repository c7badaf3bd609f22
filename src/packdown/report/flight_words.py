"""Baggage in words: what goes, what stays, and whom to ask."""

from collections.abc import Sequence

from packdown.limits.baggage import HEAVY_G, REFUSED_G, BagMark, bag_mark, linear_um
from packdown.model import Cargo, FlightLoad
from packdown.report.cautions import Caution
from packdown.units import format_length, format_weight

__all__ = ["flight_cautions", "flight_left", "flight_rows"]

_KINDS = {"checked": "checked baggage", "cabin": "cabin baggage"}
_MARKS = {
    BagMark.NONE: "",
    BagMark.HEAVY: "heavy tag, agree beforehand",
    BagMark.REFUSED: "most carriers refuse it",
}


def flight_rows(found: FlightLoad, cargo: Sequence[Cargo]) -> tuple[tuple[str, ...], ...]:
    """Return a row for each container that goes: as what, weight, size, and what it calls for."""
    by_id = {one.id: one for one in cargo}
    return tuple(
        (
            by_id[piece.container].name,
            _KINDS[piece.kind],
            format_weight(by_id[piece.container].gross_g),
            format_length(linear_um(by_id[piece.container].size_um)),
            _MARKS[bag_mark(by_id[piece.container].gross_g)],
        )
        for piece in found.baggage
    )


def flight_left(found: FlightLoad, cargo: Sequence[Cargo]) -> tuple[tuple[str, str], ...]:
    """Return names of the containers that stay, and why."""
    names = {one.id: one.name for one in cargo}
    return tuple((names[one.container], one.reason) for one in found.left)


def flight_cautions(found: FlightLoad) -> tuple[Caution, ...]:
    """Return what to mind, and whom to ask."""
    most = found.flight.checked
    size = f" and {format_length(most.linear_um)} together" if most.linear_um else ""
    return (
        Caution(
            title="Ask the carrier",
            text=f"This counts each container as one piece, at {format_weight(most.weight_g)}"
            f"{size}, as your workspace says. Ask the carrier for its own figures before you book: "
            f"above {format_weight(HEAVY_G)} a piece needs leave and a heavy tag, and above "
            f"{format_weight(REFUSED_G)} many take none. Weigh and measure each piece when it is "
            "packed.",
        ),
    )
