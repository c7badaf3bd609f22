"""What to know about a step besides its text."""

from collections.abc import Sequence

from packdown.model import Step, runs
from packdown.report.lookup import Lookup
from packdown.report.words import counted

__all__ = ["drawn_words", "runs", "step_notes"]


def step_notes(lookup: Lookup, step: Step) -> tuple[str, ...]:
    """Return from and to which container, how many hands and keys, and what it can go beside.

    A step that need not wait for the one before it says so: somebody else can do it.
    """
    notes = []
    for word, end in (("from", step.from_), ("to", step.to)):
        if end in lookup.containers:
            notes.append(f"{word} {lookup.containers[end].name}{_in_container(lookup, step)}")
    if step.hands > 1:
        notes.append(f"{step.hands} hands")
    if step.keys:
        first = f", {step.keys_first} of them before the move" if step.keys_first else ""
        notes.append(counted(step.keys, "key") + first)
    if step.n > 1 and not step.after:
        notes.append("can begin at once")
    elif step.after and max(step.after) < step.n - 1:
        notes.append(f"needs only step{'s' * (len(step.after) > 1)} {runs(step.after)} before it")
    return tuple(notes)


def _in_container(lookup: Lookup, step: Step) -> str:
    items = {lookup.item_of_piece[p].id for p in step.pieces if p in lookup.item_of_piece}
    numbers = [lookup.places[item].number for item in items if item in lookup.places]
    return f", no. {runs(numbers)}" if numbers else ""


def drawn_words(lookup: Lookup, step: Step) -> str:
    """Say which numbers on the drawing of its build a step moves, and which stay."""
    moved = lookup.parts_within(step.build, step.pieces)
    staying = lookup.parts_within(step.build, step.stays)
    if not moved:
        return ""
    if not staying:
        return _parts(moved, "", "")
    return f"{_parts(moved, ' moves', ' move')}, {_parts(staying, ' stays', ' stay')}"


def _parts(numbers: Sequence[int], one: str, many: str) -> str:
    return f"part {numbers[0]}{one}" if len(numbers) == 1 else f"parts {runs(numbers)}{many}"
