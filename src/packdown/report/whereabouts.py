"""Where things are, in words: the layer, the place, what is above, what comes out first."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from packdown.model import place_in_words
from packdown.store.moments import shown
from packdown.store.records import Found, Hit, HitKind, State, StowedItem, Total, Whereabouts

__all__ = [
    "found_data",
    "found_lines",
    "hit_lines",
    "layer_words",
    "place_words",
    "plural",
    "state_words",
]

_ORDINALS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
)  # fmt: skip
STATES = {State.OUT: "out", State.MISSING: "missing", State.UNSTOWED: "not stowed"}
NAMES = 3
"""How many names are listed before the rest is counted."""
WHOLE_KINDS = {"sub-assembly", "bag"}
"""Kinds of item in which other pieces lie."""


def plural(number: int, noun: str, nouns: str = "") -> str:
    """Return a number with its noun.

    >>> plural(1, "piece"), plural(2, "piece")
    ('1 piece', '2 pieces')
    """
    return f"{number} {noun if number == 1 else nouns or noun + 's'}"


def layer_words(layer: int) -> str:
    """Name a layer.

    >>> layer_words(2), layer_words(11)
    ('second layer', 'layer 11')
    """
    return f"{_ORDINALS[layer - 1]} layer" if layer <= len(_ORDINALS) else f"layer {layer}"


def place_words(item: StowedItem) -> str:
    """Say where in its container an item lies, and under what.

    Returns
    -------
    str
        Such as ``second layer, front left, under the bridge deck``.
    """
    told = [layer_words(item.layer), place_in_words(item.box_um, item.inner_um)]
    if item.under:
        told.append(f"under {_some(item.under)}")
    elif item.lift_first:
        told.append("with something above it")
    else:
        told.append("nothing above it")
    return ", ".join(told)


def state_words(place: Whereabouts) -> str:
    """Say where pieces are that are in no container."""
    told = STATES[place.state]
    if place.event:
        told += f" for {place.event}"
    if place.seen_in and place.state is not State.UNSTOWED:
        when = f" on {shown(place.seen_at)}" if place.seen_at else ""
        told += f", last seen in {place.seen_in.name} ({place.seen_in.short_id}){when}"
    return told


def found_lines(found: Found) -> Iterator[str]:
    """Yield the lines of a search."""
    for number, hit in enumerate(found.hits):
        if number:
            yield ""
        yield from hit_lines(hit)
    if found.num_more:
        yield ""
        yield f"{plural(found.num_more, 'more thing')} like this: say more words, or --all."


def hit_lines(hit: Hit) -> Iterator[str]:
    """Yield the lines of one hit: a heading, and each place."""
    title = hit.name if hit.kind is not HitKind.EVENT else f"Out for {hit.name}"
    short = f" ({hit.totals[0].box.short_id})" if _is_box(hit) and hit.totals[0].box else ""
    yield f"{title}{short}: {plural(hit.number, 'piece')}"
    if hit.kind is HitKind.CONTAINER:
        yield f"  packdown show {hit.id} lists them"
        return
    shown_totals = set()
    for place in hit.places:
        total = next(t for t in hit.totals if (t.state, t.box) == (place.state, place.box))
        shown_totals.add((total.state, total.box))
        yield from _place_lines(place, total)
    for total in hit.totals:
        if (total.state, total.box) not in shown_totals:
            yield f"  {_total_name(total)}: {total.number}"
    for photo in hit.photos:
        yield f"  photo: {photo}"


def _is_box(hit: Hit) -> bool:
    return hit.kind is HitKind.CONTAINER and bool(hit.totals)


def _place_lines(place: Whereabouts, total: Total) -> Iterator[str]:
    broken = ", broken" if place.broken else ""
    if place.box is None:
        yield f"  {state_words(place)}{broken}: {total.number}"
        return
    head = f"  {_total_name(total)}: "
    if total.number > place.number:
        head += f"{total.number}, {place.number} of them in the "
    elif total.number > 1:
        head += f"{total.number}, in the "
    if place.item is None:
        yield head.removesuffix("in the ") + f"put in by hand, place not recorded{broken}"
        return
    inside = ""
    if place.inside:
        inside = f", part of {place.inside}"
    elif place.item.kind in WHOLE_KINDS:
        inside = f", in {place.item.name}"
    yield f"{head}{place_words(place.item)}{inside}{broken}"
    if place.item.lift_first:
        names = [f"{name} ({number})" for number, name in place.item.lift_first]
        yield f"    lift out first: {_some(names, 6)}"


def _total_name(total: Total) -> str:
    if total.box is None:
        return STATES[total.state]
    return f"{total.box.name} ({total.box.short_id})"


def _some(every: Sequence[str], most: int = NAMES) -> str:
    """List names, equal ones counted; the rest is counted."""
    numbers = Counter(every)
    names = [f"{number} x {name}" if number > 1 else name for name, number in numbers.items()]
    shown_names = names[:most]
    if len(names) > most:
        shown_names.append(f"{len(names) - most} more")
    if len(shown_names) == 1:
        return shown_names[0]
    return f"{', '.join(shown_names[:-1])} and {shown_names[-1]}"


def found_data(found: Found) -> dict[str, Any]:
    """Return a search as JSON can hold it, each place with its words."""
    return {
        "hits": [
            asdict(hit) | {"places": [_place_data(place) for place in hit.places]}
            for hit in found.hits
        ],
        "more": found.num_more,
    }


def _place_data(place: Whereabouts) -> dict[str, Any]:
    words = place_words(place.item) if place.item else ""
    if place.box is None:
        words = state_words(place)
    return asdict(place) | {"words": words}
