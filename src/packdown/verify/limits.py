"""Weights of containers and stacks, and groups of pieces."""

from packdown.units import format_weight
from packdown.verify.lookup import Lookup
from packdown.verify.report import Broken

__all__ = [
    "gross_weight_is_kept",
    "groups_are_apart",
    "groups_are_together",
    "payload_is_kept",
    "stack_limits_are_kept",
]


def payload_is_kept(lookup: Lookup) -> Broken:
    """Yield containers with more in them than they may hold."""
    for load in lookup.loads:
        if load.weight_g > load.container.payload_g:
            yield (
                load.container.id,
                f"holds {load.weight_g} g, payload is {load.container.payload_g} g",
            )


def gross_weight_is_kept(lookup: Lookup) -> Broken:
    """Yield packed containers that weigh more than the limit for carrying."""
    limit = lookup.plan.rules.weight_limit_g
    for load in lookup.loads:
        if load.items and load.gross_g > limit:
            yield load.container.id, f"weighs {load.gross_g} g packed, the limit is {limit} g"


def stack_limits_are_kept(lookup: Lookup) -> Broken:
    """Yield containers with more stacked on them than they bear; empty ones stay at home."""
    above = dict.fromkeys(lookup.containers, 0)
    for load in lookup.loads:
        if load.items:
            passed = {load.container.id}
            below = load.container.stacked_on
            while below in above and below not in passed:
                above[below] += load.gross_g
                passed.add(below)
                below = lookup.containers[below].stacked_on
    for name, weight in above.items():
        limit = lookup.containers[name].stack_limit_g
        if limit is not None and weight > limit:
            yield name, f"bears {weight} g of containers, may bear {format_weight(limit)}"


def groups_are_together(lookup: Lookup) -> Broken:
    """Yield groups that should share a container but lie in several, or partly in none."""
    for group in lookup.plan.rules.keep_together:
        homes = {lookup.container_of.get(piece) for piece in group if piece in lookup.pieces}
        if len(homes) > 1:
            names = ", ".join(sorted(home or "not packed" for home in homes))
            yield " + ".join(group), f"lie in different places: {names}"


def groups_are_apart(lookup: Lookup) -> Broken:
    """Yield containers that hold two items with pieces of a group to be kept apart."""
    for group in lookup.plan.rules.keep_apart:
        for load in lookup.loads:
            held = [
                loaded.id for loaded in load.items if not set(group).isdisjoint(loaded.item.pieces)
            ]
            if len(held) > 1:
                yield load.container.id, f"holds {', '.join(held)}, which are to be kept apart"
