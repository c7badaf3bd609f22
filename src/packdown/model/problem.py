"""The packing problem: items, containers and rules, ready for a solver."""

from collections.abc import Iterable
from dataclasses import dataclass

from packdown.model.container import Container
from packdown.model.item import Item
from packdown.model.plan import Placement
from packdown.model.rules import Rules

__all__ = ["Fill", "Packing", "PackingProblem", "usable_payloads"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingProblem:
    """What a packer is asked.

    Parameters
    ----------
    items
        What is to be placed; ids are unique.
    containers
        What may be used; ids are unique.
    rules
        Support, weight limit and groups. Groups name pieces; an item belongs to a group that
        names any of its pieces.
    """

    items: tuple[Item, ...]
    containers: tuple[Container, ...]
    rules: Rules

    def __post_init__(self) -> None:
        for what in (self.items, self.containers):
            ids = [thing.id for thing in what]
            if len(ids) != len(set(ids)):
                raise ValueError(f"ids must be unique, found twice: {_twice(ids)}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """What lies in one container, in loading order."""

    container: str
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """A packer's answer.

    Parameters
    ----------
    fills
        One for each container in use, in the order of the problem's containers.
    unpacked
        Ids of items without a place, in the order of the problem's items.
    """

    fills: tuple[Fill, ...]
    unpacked: tuple[str, ...]


def usable_payloads(containers: Iterable[Container], rules: Rules) -> dict[str, int]:
    """Return the grams that may be put into each container, whatever the others hold.

    A container that is carried on top of others shares what the lowest may bear equally with
    all that stand on it; the sum of all loads then never exceeds any limit.

    Raises
    ------
    ValueError
        If a container stands on itself, directly or by way of others.
    """
    by_id = {container.id: container for container in containers}
    payload = {
        c.id: max(0, min(c.payload_g, rules.weight_limit_g - c.tare_g)) for c in by_id.values()
    }
    above: dict[str, list[str]] = {name: [] for name in by_id}
    for container in by_id.values():
        below = container.stacked_on
        while below in by_id:
            if container.id in above[below] or below == container.id:
                raise ValueError(f"container {below} stands on itself")
            above[below].append(container.id)
            below = by_id[below].stacked_on
    for name, stack in above.items():
        limit = by_id[name].stack_limit_g
        if limit is not None and stack:
            share = (limit - sum(by_id[other].tare_g for other in stack)) // len(stack)
            for other in stack:
                payload[other] = max(0, min(payload[other], share))
    return payload


def _twice(ids: list[str]) -> str:
    return ", ".join(sorted({name for name in ids if ids.count(name) > 1}))
