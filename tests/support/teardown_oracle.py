"""Plain answers to check the fast ones against: every partition of a small build is tried."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from random import Random

from packdown import teardown
from packdown.geometry import TURNS, rotated, size
from packdown.model import Build, Container, Item, Rules, Settings, usable_payloads
from support.teardown_builds import KEY_G, RULES, SETTINGS, random_boxes, random_build

__all__ = ["against_every_partition", "fits_some", "least_effort"]


def fits_some(item: Item, containers: Sequence[Container], rules: Rules) -> bool:
    """Whether an item alone can lie in some container, by turning its cuboids in every way."""
    payloads = usable_payloads(containers, rules)
    for container in containers:
        gap = 2 * container.clearance_um
        for way in item.allowed_ways_up:
            for turn in TURNS:
                x, y, z = size(rotated(item.cuboids_um, way, turn)[0])
                room = container.inner_um
                inside = x + gap <= room[0] and y + gap <= room[1] and z <= room[2]
                if inside and item.weight_g <= payloads[container.id]:
                    return True
    return False


def least_effort(
    build: Build, containers: Sequence[Container], settings: Settings, rules: Rules
) -> int | None:
    """Return the least effort over all partitions into sub-assemblies that fit, if there is one."""
    ids = [piece.id for piece in build.pieces]
    fixed = [set(joint.pieces) for joint in build.joints if joint.fixed]
    whole: dict[int, tuple[str, ...]] = {}
    for mask in range(1, 1 << len(ids)):
        part = tuple(name for bit, name in enumerate(ids) if mask >> bit & 1)
        if any(len(pair & set(part)) == 1 for pair in fixed):
            continue
        item = teardown.assemble(build, part, settings, rules.key_weight_g)
        if item is not None and fits_some(item, containers, rules):
            whole[mask] = part
    kept = {
        mask: sum(j.effort_s for j in build.joints if set(j.pieces) <= set(part))
        for mask, part in whole.items()
    }
    every = sum(joint.effort_s for joint in build.joints)

    @cache
    def most_kept(left: int) -> int | None:
        """Return the most effort spared, less the places, over partitions of what is left."""
        if left == 0:
            return 0
        found = [
            kept[mask] - rules.place_s + rest
            for mask in whole
            if mask & left == mask
            and mask & left & -left
            and (rest := most_kept(left & ~mask)) is not None
        ]
        return max(found, default=None)

    best = most_kept((1 << len(ids)) - 1)
    return None if best is None else every - best - rules.place_s


def against_every_partition(seed: int, count: int) -> list[str]:
    """Split a random build, see that bounds <= optimum <= split, and say what of it is equal.

    Parameters
    ----------
    seed, count
        Of the random build, and its number of pieces.

    Returns
    -------
    list of str
        "all" if some partition fits at all; then "split", "bound" and "joints" (the bound of their
        number) if they are the optimum.
    """
    random = Random(seed)
    build = random_build(random, count)
    boxes = random_boxes(random)
    found = teardown.split(build, boxes, SETTINGS, RULES, KEY_G)
    bound = teardown.effort_bound(build, boxes, SETTINGS, RULES)
    best = least_effort(build, boxes, SETTINGS, RULES)
    effort_s = teardown.effort_of(build, found.sub_assemblies, RULES.place_s)
    assert found.effort_s == effort_s
    assert bound <= found.effort_s, seed
    if best is None:
        assert found.stuck, seed
        return []
    assert bound <= best, seed
    assert found.stuck or best <= found.effort_s, seed
    counted = replace(build, joints=tuple(replace(j, effort_s=1) for j in build.joints))
    fewest = least_effort(counted, boxes, SETTINGS, replace(RULES, place_s=0))
    joints = teardown.joints_bound(build, boxes, SETTINGS, RULES)
    assert fewest is not None
    assert joints <= fewest, seed
    met = ["all"]
    if found.effort_s == best and not found.stuck:
        met.append("split")
    if bound == best:
        met.append("bound")
    if joints == fewest:
        met.append("joints")
    return met
