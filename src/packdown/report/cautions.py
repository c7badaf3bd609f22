"""Cautions where a plan can hurt somebody."""

from collections.abc import Sequence
from dataclasses import dataclass

from packdown.model import PackedContainer
from packdown.report.lookup import Lookup
from packdown.report.words import listed
from packdown.units import format_weight

__all__ = ["IMPLANT_CM", "Caution", "cautions", "short_cautions"]

IMPLANT_CM = 15
"""Distance advised between magnets and implanted devices (US Food and Drug Administration,
advice of May 2021: six inches)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Something that can hurt people or pieces, and what to do about it."""

    title: str
    text: str


def cautions(
    lookup: Lookup, containers: Sequence[PackedContainer] | None = None
) -> tuple[Caution, ...]:
    """Return the cautions that some containers call for; all of the plan unless told which."""
    chosen = lookup.used if containers is None else containers
    found = (_lifting(lookup, chosen), _magnets(lookup, chosen))
    return tuple(caution for caution in found if caution)


def short_cautions(lookup: Lookup, container: PackedContainer) -> tuple[str, ...]:
    """Return the cautions one container calls for, in a few words each."""
    told = []
    gross = lookup.gross_g(container)
    if gross > lookup.plan.rules.lift_limit_g:
        told.append(f"heavy: {format_weight(gross)}, lift with two")
    if lookup.has_magnets(container):
        told.append(f"magnets: {IMPLANT_CM} cm from implants, away from children")
    return tuple(told)


def _lifting(lookup: Lookup, containers: Sequence[PackedContainer]) -> Caution | None:
    limit_g = lookup.plan.rules.lift_limit_g
    heavy = [c for c in containers if lookup.gross_g(c) > limit_g]
    if not heavy:
        return None
    which = listed([f"{c.name} ({format_weight(lookup.gross_g(c))})" for c in heavy])
    return Caution(
        title="Heavy to lift",
        text=f"Above {format_weight(limit_g)}: {which}. Lift with two, close to the body and with "
        "bent knees, or spread the contents over more containers. Where rules for lifting apply "
        "to you, ask your club, venue or employer, and defer to local rules.",
    )


def _magnets(lookup: Lookup, containers: Sequence[PackedContainer]) -> Caution | None:
    within = [c for c in containers if lookup.has_magnets(c)]
    if not within:
        return None
    return Caution(
        title="Small strong magnets",
        text=f"Inside {listed([c.name for c in within])}. Keep a magnet that has come loose "
        "away from children and animals: two that are swallowed can pull together inside the "
        "body and do grave harm, so call for medical help at once. Keep the container at least "
        f"{IMPLANT_CM} cm away from pacemakers and other implants, and ask the maker of the "
        "device. Before a flight or a parcel, ask the carrier.",
    )
