"""Steps as they are shown: packing of things that are alike, one after another, is one step."""

from collections.abc import Iterable
from dataclasses import dataclass

from packdown.model import Item, Step, StepKind
from packdown.report.lookup import Lookup
from packdown.report.step_words import drawn_words, runs, step_notes

__all__ = ["StepGroup", "step_groups"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepGroup:
    """One step, or several that do the same with pieces that are alike.

    Parameters
    ----------
    steps
        The steps, in order.
    text, notes
        What to do, and what else to know about it.
    """

    steps: tuple[Step, ...]
    text: str
    notes: tuple[str, ...]

    @property
    def number(self) -> str:
        """Numbers of the steps, three or more in a row by their ends."""
        told = runs([step.n for step in self.steps])
        return told.replace(" to ", "\N{EN DASH}").replace(" and ", ", ")


def step_groups(lookup: Lookup, steps: Iterable[Step]) -> tuple[StepGroup, ...]:
    """Put steps together that pack or unpack things that are alike and need not wait for others.

    Parameters
    ----------
    lookup
        The plan.
    steps
        Steps of one list, in order; some may be missing.
    """
    groups: list[list[Step]] = []
    for step in steps:
        group = _group_for(lookup, step, groups)
        if group is None:
            groups.append([step])
        else:
            group.append(step)
    return tuple(
        _alone(lookup, group[0]) if len(group) == 1 else _together(lookup, group)
        for group in groups
    )


def _group_for(lookup: Lookup, step: Step, groups: list[list[Step]]) -> list[Step] | None:
    """Return the group that a step belongs to: the last one, or one that it may be done with.

    It may be done with an earlier group if all since lies in one layer, where nothing rests on
    anything else.
    """
    since: list[Step] = [step]
    for group in reversed(groups):
        since += group
        if _run_of(step) != _run_of(group[0]) or step.n - min(s.n for s in since) >= len(since):
            return None
        if _likeness(lookup, step) == _likeness(lookup, group[0]):
            is_last = step.n == group[-1].n + 1
            return group if is_last or len(_layers(lookup, since)) == 1 else None
    return None


def _run_of(step: Step) -> object:
    return step.kind, step.build, step.from_, step.to


def _layers(lookup: Lookup, steps: Iterable[Step]) -> set[int]:
    """Return the layers in which what steps pack or unpack lies; 0 where that is not known."""
    items = [lookup.item_of_piece.get(piece) for step in steps for piece in step.pieces[:1] or [""]]
    places = [lookup.places.get(item.id) if item else None for item in items]
    return {place.placement.layer if place else 0 for place in places}


def _likeness(lookup: Lookup, step: Step) -> object:
    """Return what steps must share to be one; nothing is like a step that parts or joins."""
    if step.kind not in {StepKind.PACK, StepKind.UNPACK} or len(step.pieces) != 1:
        return step
    name = lookup.pieces[step.pieces[0]].name
    return step.kind, step.build, step.from_, step.to, name


def _alone(lookup: Lookup, step: Step) -> StepGroup:
    drawn, notes = drawn_words(lookup, step), step_notes(lookup, step)
    return StepGroup(steps=(step,), text=step.text, notes=(drawn, *notes) if drawn else notes)


def _together(lookup: Lookup, group: list[Step]) -> StepGroup:
    first = group[0]
    pieces = [piece for step in group for piece in step.pieces]
    what = f"{len(pieces)} x {lookup.pieces[pieces[0]].name}"
    is_in = first.kind is StepKind.PACK
    box = lookup.containers[first.to if is_in else first.from_].name
    text = f"Lay {what} into {box}." if is_in else f"Lift {what} out of {box}."
    parts = lookup.parts_within(first.build, pieces)
    notes = [f"parts {runs(parts)}"] if parts else []
    return StepGroup(steps=tuple(group), text=text, notes=(*notes, *_places(lookup, pieces)))


def _places(lookup: Lookup, pieces: Iterable[str]) -> Iterable[str]:
    """Say which numbers of their container things have, and in which layers they lie."""
    items: list[Item] = [lookup.item_of_piece[piece] for piece in pieces]
    places = [lookup.places[item.id] for item in items if item.id in lookup.places]
    if places:
        yield f"no. {runs([place.number for place in places])}"
        layers = {place.placement.layer for place in places}
        yield f"layer{'s' * (len(layers) > 1)} {runs(sorted(layers))}"
