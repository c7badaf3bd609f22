"""Packed containers as pieces of baggage: as many as can be, in the order of need."""

from collections.abc import Iterator, Sequence
from typing import Literal

from packdown.limits.baggage import fits_within, linear_um
from packdown.model import Allowance, Baggage, Cargo, Flight, FlightLoad, LeftBehind
from packdown.units import format_length, format_size, format_weight

__all__ = ["load_flight"]

Kind = Literal["checked", "cabin"]


def load_flight(flight: Flight, cargo: Sequence[Cargo]) -> FlightLoad:
    """Give containers the pieces of baggage that they pass for, each a piece of its own.

    Containers take their turn in the order of need, and one that has a piece keeps one, if need
    be another: the sets that can go together are a transversal matroid, so no other choice takes
    more of them, or any that is needed earlier instead (Edmonds and Fulkerson, Journal of Research
    of the National Bureau of Standards 69B, 1965).
    """
    slots: list[Kind] = ["cabin"] * (flight.cabin.pieces if flight.cabin else 0)
    slots += ["checked"] * flight.checked.pieces
    passes = {one.id: [k for k, kind in enumerate(slots) if not _why(flight, kind, one)]
              for one in cargo}  # fmt: skip
    owner: dict[int, str] = {}
    for one in sorted(cargo, key=lambda one: (one.needed is None, one.needed or 0)):
        _take(one.id, passes, owner, set())
    kinds = {name: slots[k] for k, name in owner.items()}
    return FlightLoad(
        flight=flight,
        baggage=tuple(
            Baggage(container=one.id, kind=kinds[one.id]) for one in cargo if one.id in kinds
        ),
        left=tuple(_left(flight, cargo, kinds, passes)),
    )


def _take(name: str, passes: dict[str, list[int]], owner: dict[int, str], seen: set[int]) -> bool:
    """Find a slot for a container, moving others to slots that they pass for too."""
    for slot in passes[name]:
        if slot not in seen:
            seen.add(slot)
            if slot not in owner or _take(owner[slot], passes, owner, seen):
                owner[slot] = name
                return True
    return False


def _left(
    flight: Flight, cargo: Sequence[Cargo], kinds: dict[str, Kind], passes: dict[str, list[int]]
) -> Iterator[LeftBehind]:
    for one in cargo:
        if one.id in kinds:
            continue
        reason = "every piece that it passes for is taken by one that is needed earlier or as early"
        if not passes[one.id]:
            reasons = [f"checked: {_why(flight, 'checked', one)}"]
            if flight.cabin:
                reasons.append(f"cabin: {_why(flight, 'cabin', one)}")
            reason = "; ".join(reasons)
        yield LeftBehind(container=one.id, reason=reason)


def _why(flight: Flight, kind: Kind, one: Cargo) -> str:
    """Return why a container does not pass for a kind of baggage; empty if it does."""
    allowance: Allowance | None = flight.cabin if kind == "cabin" else flight.checked
    if allowance is None or allowance.pieces == 0:
        return "no piece is allowed"
    if one.gross_g > allowance.weight_g:
        most = format_weight(allowance.weight_g)
        return f"weighs {format_weight(one.gross_g)}, one piece may weigh {most}"
    together = linear_um(one.size_um)
    if allowance.linear_um is not None and together > allowance.linear_um:
        return (
            f"measures {format_length(together)} together, one piece may measure "
            f"{format_length(allowance.linear_um)}"
        )
    if allowance.size_um is not None and not fits_within(one.size_um, allowance.size_um):
        return f"is {format_size(one.size_um)}, the frame is {format_size(allowance.size_um)}"
    return ""
