"""The steps both ways: builds apart, items into containers; and back."""

from collections.abc import Sequence

from packdown import teardown
from packdown.geometry import WayUp, bounds
from packdown.model import (
    Item,
    ItemKind,
    PackedContainer,
    Placement,
    Step,
    StepKind,
    place_in_words,
)
from packdown.planning.job import Job
from packdown.planning.state import State
from packdown.teardown.order import ONE_HAND_G, ONE_HAND_UM
from packdown.teardown.steps import TABLE

__all__ = ["work_steps"]

LIES = {
    WayUp.UPRIGHT: "upright",
    WayUp.UPSIDE_DOWN: "upside down",
    WayUp.ON_LEFT: "on its left side",
    WayUp.ON_RIGHT: "on its right side",
    WayUp.ON_FRONT: "on its front",
    WayUp.ON_BACK: "on its back",
}


def work_steps(
    job: Job, state: State, containers: Sequence[PackedContainer]
) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """Return the numbered steps of taking down and of rebuilding.

    Taking down parts every build first, then loads the containers in order. Rebuilding unloads
    each container from the top, then joins every build.
    """
    home = state.container_of()
    parting: list[Step] = []
    joining: list[Step] = []
    for build in job.builds:
        subs = state.partition[build.id]
        where = {sub: home.get(item.id, TABLE) for sub in subs if (item := job.item(build, sub))}
        moves = teardown.order_of_work(build, subs, exact=True)
        down, up = teardown.write_steps(build, subs, moves, where)
        parting.extend(down)
        joining.extend(up)
    items = {item.id: item for item in state.items}
    loading = [
        _pack_step(items[placement.item], placement, container)
        for container in containers
        for placement in container.fill
    ]
    unloading = [
        _unpack_step(items[placement.item], placement, container)
        for container in containers
        for placement in reversed(container.fill)
    ]
    return (
        teardown.number([*parting, *loading]),
        teardown.number([*unloading, *joining]),
    )


def _pack_step(item: Item, placement: Placement, container: PackedContainer) -> Step:
    spot = place_in_words(bounds(placement.cuboids_um), container.inner_um)
    where = "on the floor" if placement.layer == 1 else f"in layer {placement.layer}"
    text = f"Lay {item.name} {LIES[placement.way_up]} into {container.name}: {where}, {spot}."
    return _moved(item, StepKind.PACK, text, TABLE, container.id)


def _unpack_step(item: Item, placement: Placement, container: PackedContainer) -> Step:
    spot = place_in_words(bounds(placement.cuboids_um), container.inner_um)
    text = f"Lift {item.name} out of {container.name} ({spot}) and set it down upright."
    return _moved(item, StepKind.UNPACK, text, container.id, TABLE)


def _moved(item: Item, kind: StepKind, text: str, start: str, end: str) -> Step:
    length = max(bounds(item.cuboids_um).size)
    both = item.weight_g > ONE_HAND_G or length > ONE_HAND_UM
    return Step(
        n=0,
        kind=kind,
        build=item.build,
        text=text,
        pieces=item.pieces,
        stays=(),
        joints=(),
        direction=None,
        from_=start,
        to=end,
        keys=item.keys if item.kind is ItemKind.BAG else 0,
        keys_first=0,
        hands=2 if both else 1,
    )
