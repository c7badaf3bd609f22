"""Packing and unpacking steps: every item in, in loading order, and out when it lies free."""

from collections import Counter, defaultdict
from collections.abc import Iterable

from packdown.model import Item, Step, StepKind
from packdown.verify.lookup import Load, Lookup, is_over
from packdown.verify.references import TABLE
from packdown.verify.report import Broken

__all__ = [
    "items_are_packed_in_order",
    "items_are_unpacked_when_free",
    "packed_pieces_rest",
    "unpacked_before_joined",
]

Contents = tuple[str | None, frozenset[str]]
"""What a step or an item holds: its build and its pieces; of keys alone, no pieces."""


def _contents(thing: Item | Step) -> Contents:
    return (thing.build, frozenset(thing.pieces))


def _say(contents: Contents) -> str:
    build, pieces = contents
    return ", ".join(sorted(pieces)) or f"keys of {build}"


def items_are_packed_in_order(lookup: Lookup) -> Broken:
    """Yield containers whose pack steps are not their fill in loading order."""
    packed: dict[str, list[Contents]] = defaultdict(list)
    for step in lookup.plan.steps.take_down:
        if step.kind is StepKind.PACK:
            packed[step.to].append(_contents(step))
            if step.from_ != TABLE or step.to == TABLE:
                yield f"take-down step {step.n}", f"packs from {step.from_} to {step.to}"
    for load in lookup.loads:
        fill = [_contents(loaded.item) for loaded in load.items]
        if packed[load.container.id] != fill:
            yield load.container.id, _difference(packed[load.container.id], fill, "packed")


def _difference(done: list[Contents], fill: list[Contents], verb: str) -> str:
    missing, extra = Counter(fill) - Counter(done), Counter(done) - Counter(fill)
    faults = [f"{_say(contents)} is not {verb}" for contents in missing]
    faults += [f"{_say(contents)} is {verb} but does not lie there" for contents in extra]
    return "; ".join(faults) or f"is {verb} in another order than its loading order"


def items_are_unpacked_when_free(lookup: Lookup) -> Broken:
    """Yield items that are not unpacked once, or while others lie on them."""
    runs: dict[str, list[Step]] = defaultdict(list)
    for step in lookup.plan.steps.rebuild:
        if step.kind is StepKind.UNPACK:
            runs[step.from_].append(step)
            if step.to != TABLE or step.from_ == TABLE:
                yield f"rebuild step {step.n}", f"unpacks from {step.from_} to {step.to}"
    for load in lookup.loads:
        run = runs[load.container.id]
        fill = [_contents(loaded.item) for loaded in load.items]
        if Counter(map(_contents, run)) != Counter(fill):
            yield load.container.id, _difference([_contents(s) for s in run], fill, "unpacked")
        yield from _lifts(load, run)


def _lifts(load: Load, run: Iterable[Step]) -> Broken:
    inside = list(load.items)
    for step in run:
        found = [loaded for loaded in inside if _contents(loaded.item) == _contents(step)]
        if found:
            inside.remove(found[-1])
            over = [o.id for o in inside if is_over(o, found[-1], load.container.clearance_um)]
            if over:
                yield f"rebuild step {step.n}", f"{found[-1].id} still lies under {', '.join(over)}"


def packed_pieces_rest(lookup: Lookup) -> Broken:
    """Yield part steps on pieces that are packed already, and keys bagged before they are free."""
    packed: set[str] = set()
    keys: Counter[str | None] = Counter()
    bags = _key_bags(lookup)
    for step in lookup.plan.steps.take_down:
        where = f"take-down step {step.n}"
        if step.kind is StepKind.PART:
            keys[step.build] += step.keys
            early = packed.intersection(step.pieces + step.stays)
            if early:
                yield where, f"parts {', '.join(sorted(early))}, which is packed already"
        elif step.kind is StepKind.PACK:
            packed.update(step.pieces)
            keys[step.build] -= _take(bags, step, step.to)
            if keys[step.build] < 0:
                yield where, f"bags {-keys[step.build]} keys before they are free"


def unpacked_before_joined(lookup: Lookup) -> Broken:
    """Yield join steps on pieces or keys that still lie in a container."""
    inside = set(lookup.container_of)
    placed = {loaded.id for load in lookup.loads for loaded in load.items}
    keys: Counter[str | None] = Counter()
    for item in lookup.plan.items:
        keys[item.build] += 0 if item.id in placed else item.keys
    bags = _key_bags(lookup)
    for step in lookup.plan.steps.rebuild:
        where = f"rebuild step {step.n}"
        if step.kind is StepKind.UNPACK:
            inside.difference_update(step.pieces)
            keys[step.build] += _take(bags, step, step.from_)
        elif step.kind is StepKind.JOIN:
            keys[step.build] -= step.keys
            late = inside.intersection(step.pieces + step.stays)
            if late:
                yield where, f"joins {', '.join(sorted(late))}, which is still packed"
            if keys[step.build] < 0:
                yield where, f"takes {-keys[step.build]} keys that are still packed"


Bags = dict[tuple[Contents, str], list[int]]
"""The keys of each bag, by what it holds and the container it lies in."""


def _key_bags(lookup: Lookup) -> Bags:
    bags: Bags = defaultdict(list)
    for load in lookup.loads:
        for loaded in load.items:
            bags[_contents(loaded.item), load.container.id].append(loaded.item.keys)
    return bags


def _take(bags: Bags, step: Step, container: str) -> int:
    """Return the keys of the bag that a step moves, and cross it off."""
    waiting = bags.get((_contents(step), container))
    return waiting.pop() if waiting else 0
