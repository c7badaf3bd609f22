"""Merge back: join sub-assemblies again that still fit in one container."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from packdown import packing, teardown
from packdown.model import Build, Fill, Item, Packing, Prefer, Rules, usable_payloads
from packdown.planning.job import Job, SubAssembly
from packdown.planning.state import State, state_of

__all__ = ["merge_back"]

Stop = Callable[[], bool]


def merge_back(job: Job, prefer: Prefer, state: State, *, stop: Stop, seed: int) -> State:
    """Join two sub-assemblies of a build wherever the containers at hand still take the result.

    The pairs that save most effort come first. Only the containers that hold the two, and the
    bag of the build's keys, are filled anew.

    Returns
    -------
    State
        With less or equal effort; the state itself if nothing can be joined.
    """
    if not state.complete:
        return state
    refused: set[tuple[str, SubAssembly]] = set()
    while not stop():
        better = _best_merge(job, prefer, state, refused, stop, seed)
        if better is None:
            break
        state = better
    return state


def _best_merge(
    job: Job,
    prefer: Prefer,
    state: State,
    refused: set[tuple[str, SubAssembly]],
    stop: Stop,
    seed: int,
) -> State | None:
    for build, first, second in _pairs(job, state):
        rank = {piece.id: index for index, piece in enumerate(build.pieces)}
        merged = tuple(sorted((*first, *second), key=rank.__getitem__))
        key = (build.id, merged)
        if key in refused or job.item(build, merged) is None:
            continue
        if stop():
            return None
        subs = tuple(
            merged if sub == first else sub for sub in state.partition[build.id] if sub != second
        )
        if job.moves(build, subs) is None:
            continue
        partition = {**state.partition, build.id: subs}
        found = _refill(job, state, job.items(partition), seed)
        if found is not None:
            return state_of(job, prefer, partition, found)
        refused.add(key)
    return None


def _pairs(job: Job, state: State) -> Iterator[tuple[Build, SubAssembly, SubAssembly]]:
    """Yield all pairs that share joints, those that save most effort first."""
    pairs = []
    for order, build in enumerate(job.builds):
        subs = state.partition[build.id]
        for one, two, saved in teardown.joinable(build, subs, job.rules.place_s):
            pairs.append((-saved, order, one, two, build, subs))
    pairs.sort(key=lambda pair: pair[:4])
    for _, _, one, two, build, subs in pairs:
        yield build, subs[one], subs[two]


def _refill(job: Job, state: State, items: tuple[Item, ...], seed: int) -> Packing | None:
    """Fill anew the containers that lose an item, with the new items in one of them."""
    old = {item.id: item for item in state.items}
    new = {item.id: item for item in items}
    where = state.container_of()
    gone = [name for name in old if new.get(name) != old[name]]
    come = [item for name, item in new.items() if old.get(name) != item]
    touched = sorted({where[name] for name in gone})
    kept = {
        name: [new[item] for item, home in where.items() if home == name and item not in gone]
        for name in touched
    }
    same_place = [item for item in come if item.id in where]
    for item in same_place:
        kept[where[item.id]].append(item)
    merged = [item for item in come if item.id not in where]
    for target in touched:
        fills = _fill_all(job, {**kept, target: [*kept[target], *merged]}, seed)
        if fills is not None:
            rest = [fill for fill in state.packing.fills if fill.container not in touched]
            order = {container.id: index for index, container in enumerate(job.containers)}
            used = sorted((*rest, *fills), key=lambda fill: order[fill.container])
            return replace(state.packing, fills=tuple(used))
    return None


def _fill_all(job: Job, wanted: dict[str, list[Item]], seed: int) -> list[Fill] | None:
    """Fill each container with all that is wanted in it, or return None."""
    if not _groups_hold(job.rules, wanted):
        return None
    payloads = usable_payloads(job.containers, job.rules)
    fills = []
    for container in job.containers:
        items = wanted.get(container.id)
        if not items:
            continue
        limited = replace(container, payload_g=max(1, payloads[container.id]))
        fill = packing.pack_one(tuple(items), limited, job.rules, effort=1, seed=seed)
        if fill is None:
            return None
        fills.append(fill)
    return fills


def _groups_hold(rules: Rules, wanted: dict[str, list[Item]]) -> bool:
    """Whether groups to be kept together, as far as they lie here, share one container."""
    for group in rules.keep_together:
        homes = {
            name
            for name, items in wanted.items()
            for item in items
            if not set(group).isdisjoint(item.pieces)
        }
        if len(homes) > 1:
            return False
    return True
