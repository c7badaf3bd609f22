"""Counts and sweeps, in words: what to look for, and where it was last seen."""

from collections.abc import Iterator
from itertools import groupby

from packdown.report.whereabouts import layer_words, plural
from packdown.store.counting import CountResult, Extra, Lost
from packdown.store.moments import shown
from packdown.store.records import State
from packdown.store.sweeping import Loose, Sweep

__all__ = ["count_lines", "sweep_lines"]

_DONE = {"stow": "stowed", "move": "moved there", "count": "counted", "import": "listed"}
_FROM = {State.MISSING: "was missing", State.OUT: "was out", State.UNSTOWED: "was not stowed"}


def count_lines(result: CountResult) -> Iterator[str]:
    """Yield what a count found, and at its end what to look for."""
    box = result.box
    total = plural(result.expected, "piece")
    yield f"{box.name} ({box.short_id}): {result.found} of {total} there."
    for title, named in (("Broken", result.broken), ("Not counted", result.uncounted)):
        if named:
            yield f"{title}: {', '.join(f'{one.number} x {one.name}' for one in named)}"
    if result.extra:
        yield "Extra, recorded as here from now on:"
        for extra in result.extra:
            yield f"  {extra.number} x {extra.name}, {_origin(extra)}"
    if result.missing:
        yield "Look for:"
        for lost in result.missing:
            yield f"  {lost.number} x {lost.name}, last seen {_last_seen(lost, box.name)}"


def _origin(extra: Extra) -> str:
    if extra.box is None:
        return _FROM[extra.state]
    return f"should have been in {extra.box.name} ({extra.box.short_id}): count that too"


def _last_seen(lost: Lost, box: str) -> str:
    places = [f"{layer_words(layer)}, {place}" for layer, place in lost.places if layer]
    where = f"in {box}"
    if len(places) == 1:
        where += f", {places[0]}"
    elif places:
        where += f", {len(places)} places, one of them the {places[0]}"
    if lost.seen:
        verb, at = lost.seen
        where += f", {_DONE.get(verb, 'recorded')} on {shown(at)}"
    return where


def sweep_lines(sweep: Sweep) -> Iterator[str]:
    """Yield what is still about, build by build, each line with a box to tick."""
    if not sweep.loose:
        yield "Everything that went out is stowed."
    total = sum(one.number for one in sweep.loose)
    if sweep.loose:
        yield f"Not stowed yet: {plural(total, 'piece')}"
    for (state, build), group in groupby(sweep.loose, key=lambda one: (one.state, one.build)):
        yield f"  {build or 'loose pieces'}, {state}"
        for one in group:
            yield f"    [ ] {one.number} x {one.name}{_trail(one)}"
    if sweep.never_stowed:
        never = plural(sweep.never_stowed, "piece")
        yield f"{never} never stowed: packdown stow PLAN records them."


def _trail(one: Loose) -> str:
    told = f", for {one.event}" if one.event else ""
    if one.seen_in:
        told += f", last seen in {one.seen_in.name} ({one.seen_in.short_id})"
    return told
