"""Ids are unique and known; nothing is lost and nothing is there twice."""

from collections import Counter
from collections.abc import Iterable, Iterator

from packdown.model import Item, ItemKind, Plan, Step
from packdown.verify.lookup import Lookup, joint_fault
from packdown.verify.report import Broken

__all__ = [
    "items_are_placed_once",
    "pieces_are_in_one_item",
    "references_exist",
    "sub_assemblies_are_items",
]

TABLE = "table"


def _twice(ids: Iterable[str]) -> list[str]:
    return sorted(name for name, count in Counter(ids).items() if count > 1)


def references_exist(lookup: Lookup) -> Broken:
    """Yield ids that are used twice or name nothing, pieces without shape, and no joints."""
    plan = lookup.plan
    named: dict[str, list[str]] = {
        "piece": [piece.id for piece in plan.pieces],
        "item": [item.id for item in plan.items],
        "container": [container.id for container in plan.containers],
        "build": [build.id for build in plan.builds],
        "joint": [joint.id for build in plan.builds for joint in build.joints],
    }
    for kind, ids in named.items():
        for name in _twice(ids):
            yield name, f"{kind} id is used {ids.count(name)} times"
    known = {kind: set(ids) for kind, ids in named.items()}
    known["container"].add(TABLE)
    for where, kind, used in _names_used(plan):
        for name in dict.fromkeys(used):
            if name not in known[kind]:
                yield where, f"names {kind} {name!r}, which the plan has not"
    yield from _not_to_be_judged(plan)
    yield from _stacks_without_end(lookup)


def _names_used(plan: Plan) -> Iterator[tuple[str, str, Iterable[str]]]:
    """Yield where names are used, of which kind they are, and the names."""
    for piece in plan.pieces:
        yield piece.id, "build", () if piece.build is None else (piece.build,)
    for item in plan.items:
        yield item.id, "piece", item.pieces
        yield item.id, "build", () if item.build is None else (item.build,)
    for container in plan.containers:
        yield container.id, "item", [place.item for place in container.fill]
        yield container.id, "container", [container.stacked_on] if container.stacked_on else ()
    for build in plan.builds:
        for joint in build.joints:
            yield joint.id, "piece", joint.pieces
        yield build.id, "piece", [piece for sub in build.sub_assemblies for piece in sub]
        yield build.id, "piece", [piece for weak in build.weak for piece in weak.pieces]
        yield build.id, "joint", [joint for weak in build.weak for joint in weak.open_joints]
    yield "not_packed", "item", [entry.item for entry in plan.not_packed]
    for name in ("keep_together", "keep_apart"):
        for group in getattr(plan.rules, name):
            yield name, "piece", group
    for step in plan.steps.take_down:
        yield from _names_in_step(f"take-down step {step.n}", step)
    for step in plan.steps.rebuild:
        yield from _names_in_step(f"rebuild step {step.n}", step)


def _names_in_step(where: str, step: Step) -> Iterator[tuple[str, str, Iterable[str]]]:
    yield where, "piece", step.pieces + step.stays
    yield where, "joint", step.joints
    yield where, "build", () if step.build is None else (step.build,)
    yield where, "container", (step.from_, step.to)


def _not_to_be_judged(plan: Plan) -> Broken:
    """Yield what the other rules have to skip as if it were not there."""
    for piece in plan.pieces:
        if not piece.cuboids_um:
            yield piece.id, "piece has no cuboids"
    for build in plan.builds:
        for joint in build.joints:
            if joint_fault(joint):
                yield joint.id, joint_fault(joint)


def _stacks_without_end(lookup: Lookup) -> Broken:
    for container in lookup.plan.containers:
        seen = []
        below = container.stacked_on
        while below in lookup.containers and below not in seen:
            seen.append(below)
            below = lookup.containers[below].stacked_on
        if container.id in seen:
            yield container.id, "stands on itself: " + ", ".join(seen)


def pieces_are_in_one_item(lookup: Lookup) -> Broken:
    """Yield pieces that are in no item or in several."""
    counts = Counter(piece for item in lookup.plan.items for piece in item.pieces)
    for piece in lookup.pieces:
        if counts[piece] != 1:
            yield piece, f"piece is in {counts[piece]} items, not in 1"


def items_are_placed_once(lookup: Lookup) -> Broken:
    """Yield items that are lost, placed twice, or left out without a reason."""
    placed = Counter(place.item for c in lookup.plan.containers for place in c.fill)
    left = Counter(entry.item for entry in lookup.plan.not_packed)
    for item in lookup.items:
        if placed[item] + left[item] != 1:
            yield item, f"item is placed {placed[item]} times, not packed {left[item]} times"
    for entry in lookup.plan.not_packed:
        if not entry.reason.strip():
            yield entry.item, "item is not packed and no reason is given"


def sub_assemblies_are_items(lookup: Lookup) -> Broken:
    """Yield builds whose sub-assemblies do not share out their pieces, or are not their items."""
    for build in lookup.builds.values():
        counts = Counter(piece for sub in build.sub_assemblies for piece in sub)
        own = lookup.build_pieces[build.id]
        for piece in sorted(own | counts.keys() & lookup.pieces.keys()):
            wanted = int(piece in own)
            if counts[piece] != wanted:
                yield build.id, f"{piece} is in {counts[piece]} sub-assemblies, not in {wanted}"
        subs = Counter(frozenset(sub) for sub in build.sub_assemblies)
        items = Counter(frozenset(i.pieces) for i in lookup.plan.items if _is_sub(i, build.id))
        for sub in subs - items:
            yield build.id, f"sub-assembly {_names(sub)} is not an item"
        for sub in items - subs:
            yield build.id, f"item of {_names(sub)} is not a sub-assembly"
    for item in lookup.plan.items:
        yield from _wrong_kind(lookup, item)


def _is_sub(item: Item, build: str) -> bool:
    return item.kind is ItemKind.SUB_ASSEMBLY and item.build == build


def _wrong_kind(lookup: Lookup, item: Item) -> Broken:
    """Yield what is called a sub-assembly but belongs to no build, or the other way round."""
    if item.kind is ItemKind.SUB_ASSEMBLY and item.build is None:
        yield item.id, "is a sub-assembly of no build"
    for piece in lookup.pieces_of(item):
        if item.kind is not ItemKind.SUB_ASSEMBLY and piece.build is not None:
            yield item.id, f"holds {piece.id} of build {piece.build} but is a {item.kind}"
    if item.kind is ItemKind.LOOSE and len(item.pieces) != 1:
        yield item.id, f"is a loose piece but holds {len(item.pieces)} pieces"


def _names(pieces: Iterable[str]) -> str:
    return ", ".join(sorted(pieces))
