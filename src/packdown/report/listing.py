"""Contents of containers, and the containers of a build, in words."""

from collections.abc import Iterator
from itertools import groupby

from packdown.report.whereabouts import STATES, layer_words, plural
from packdown.store.listed import ListedItem, Listing, Spread
from packdown.units import format_weight

__all__ = ["listing_lines", "spread_lines"]


def listing_lines(listing: Listing) -> Iterator[str]:
    """Yield what lies in a container: the highest layer first, as it is met when it is opened."""
    box = listing.box
    yield (
        f"{box.name} ({box.short_id}): {plural(listing.number, 'piece')}, "
        f"{format_weight(listing.weight_g)} with the container"
    )
    if listing.stacked_on:
        yield f"  is carried on {listing.stacked_on.name} ({listing.stacked_on.short_id})"
    if listing.by_hand:
        yield "  put in by hand, place not recorded"
        for named in listing.by_hand:
            yield f"    {named.number} x {named.name}"
    layers = sorted(listing.items, key=lambda item: (-item.layer, item.name, item.number))
    for layer, items in groupby(layers, key=lambda item: item.layer):
        yield f"  {layer_words(layer)}"
        for _, alike in groupby(items, key=lambda item: item.name):
            yield f"    {_item_words(list(alike))}"
    if listing.missing:
        yield "  missing, last seen here"
        for named in listing.missing:
            yield f"    {named.number} x {named.name}"


def _item_words(items: list[ListedItem]) -> str:
    first = items[0]
    places = list(dict.fromkeys(item.place for item in items))
    numbers = ", ".join(str(item.number) for item in items)
    told = f"{first.name}" if len(items) == 1 else f"{len(items)} x {first.name}"
    told += f" ({numbers}): {' / '.join(places)}"
    gone = sum(item.num_pieces - item.present for item in items)
    if gone:
        told += f", {plural(gone, 'piece')} of {'it' if len(items) == 1 else 'them'} taken out"
    broken = sum(item.broken for item in items)
    return told + (f", {broken} broken" if broken else "")


def spread_lines(spread: Spread) -> Iterator[str]:
    """Yield the containers of a build in the order in which to open them."""
    yield (
        f"{spread.name}: {plural(spread.number, 'piece')} in "
        f"{plural(len(spread.stops), 'container')}, in the order in which to open them"
    )
    for number, stop in enumerate(spread.stops, 1):
        yield f"  {number}. {stop.box.name} ({stop.box.short_id}): {plural(stop.number, 'piece')}"
        if stop.lift_off:
            names = ", then ".join(box.name for box in stop.lift_off)
            yield f"     lift {names} off it first"
        for named in stop.what:
            yield f"     {named.name}: {named.number}"
    for total in spread.elsewhere:
        yield f"  {STATES[total.state]}: {total.number}"
