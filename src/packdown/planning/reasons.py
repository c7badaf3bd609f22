"""Why an item has no place."""

from collections.abc import Sequence
from dataclasses import replace

from packdown.geometry import bounds
from packdown.model import Container, Item, NotPacked, Rules, usable_payloads
from packdown.teardown import rooms_of
from packdown.units import format_size, format_weight

__all__ = ["reason_for"]


def reason_for(item: Item, containers: Sequence[Container], rules: Rules) -> NotPacked:
    """Say why an item was left out: too large, too heavy, or no room left."""
    payloads = usable_payloads(containers, rules)
    large_enough = [
        container
        for container in containers
        if any(room.takes(replace(item, weight_g=0)) for room in rooms_of([container], rules))
    ]
    size = format_size(bounds(item.cuboids_um).size)
    if not large_enough:
        ways = ", ".join(item.allowed_ways_up)
        reason = f"it measures {size} and goes into none of the containers ({ways})"
    elif all(payloads[container.id] < item.weight_g for container in large_enough):
        most = max(payloads[container.id] for container in large_enough)
        reason = (
            f"it weighs {format_weight(item.weight_g)}; the containers large enough for it "
            f"take at most {format_weight(most)}"
        )
    else:
        names = ", ".join(container.name for container in large_enough[:3])
        reason = f"no room left ({size}); it would fit alone into {names}"
        if any(not set(group).isdisjoint(item.pieces) for group in rules.keep_apart):
            reason += "; it is to be kept apart from some of what is there"
    return NotPacked(item=item.id, reason=reason)
