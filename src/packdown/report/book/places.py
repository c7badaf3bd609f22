"""Where things are, and things that are alike, for the sections of the page."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packdown.model import ItemKind, Step
from packdown.report.lookup import Lookup, Place
from packdown.report.step_words import runs

__all__ = ["Spot", "places_of", "spots_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A container and the numbers of things in it.

    Parameters
    ----------
    id, name
        Of the container.
    numbers
        Numbers in loading order, in words.
    layers
        The layers they lie in, in words.
    first
        The lowest of these layers.
    """

    id: str
    name: str
    numbers: str
    layers: str
    first: int


def spots_of(lookup: Lookup, pieces: Iterable[str]) -> tuple[Spot, ...]:
    """Return where pieces lie, one entry for each container; what is not packed is left out."""
    items = {lookup.item_of_piece[p].id: None for p in pieces if p in lookup.item_of_piece}
    places: dict[str, list[Place]] = {}
    for item in items:
        if place := lookup.places.get(item):
            places.setdefault(place.container.id, []).append(place)
    return tuple(_spot(own) for own in places.values())


def _spot(places: Sequence[Place]) -> Spot:
    layers = sorted({place.placement.layer for place in places})
    return Spot(
        id=places[0].container.id,
        name=places[0].container.name,
        numbers=runs([place.number for place in places]),
        layers=f"layer{'s' * (len(layers) > 1)} {runs(layers)}",
        first=layers[0],
    )


def places_of(lookup: Lookup, step: Step) -> list[Place]:
    """Return the places of what a step packs or unpacks; a bag is known by its name."""
    items = dict.fromkeys(
        lookup.item_of_piece[piece].id for piece in step.pieces if piece in lookup.item_of_piece
    )
    if not step.pieces:
        bags = (item for item in lookup.items.values() if item.kind is ItemKind.BAG)
        items = dict.fromkeys(bag.id for bag in bags if bag.name in step.text)
    found = [lookup.places[item] for item in items if item in lookup.places]
    return [place for place in found if place.container.id in {step.from_, step.to}]
