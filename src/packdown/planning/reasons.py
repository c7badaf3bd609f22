"""Why an item has no place."""

from collections.abc import Sequence

from packdown.geometry import TURNS, bounds, rotated
from packdown.model import Container, Item, NotPacked, Rules, usable_payloads
from packdown.units import format_size, format_weight

__all__ = ["reason_for"]


def reason_for(item: Item, containers: Sequence[Container], rules: Rules) -> NotPacked:
    """Say why an item was left out: too large, too heavy, or no room left."""
    payloads = usable_payloads(containers, rules)
    large_enough = [container for container in containers if fits_inside(item, container)]
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
    return NotPacked(item=item.id, reason=reason)


def fits_inside(item: Item, container: Container) -> bool:
    """Whether a container is large enough for an item that lies in it alone."""
    edge = 2 * container.clearance_um
    for way in item.allowed_ways_up:
        for turn in TURNS[:2]:
            length, width, height = bounds(rotated(item.cuboids_um, way, turn)[0]).size
            room = container.inner_um
            if length + edge <= room[0] and width + edge <= room[1] and height <= room[2]:
                return True
    return False
