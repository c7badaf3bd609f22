"""One construction: items are placed one by one into one container."""

import numpy as np

from packdown.packing import layout as at
from packdown.packing.kernels.compiled import (
    F1,
    I1,
    I2,
    Flag,
    Ints,
    Reals,
    Setup,
    SetupType,
    State,
    StateType,
    Whole,
    compiled,
)
from packdown.packing.kernels.places import best_place
from packdown.packing.kernels.rest import bears, touch
from packdown.packing.kernels.spaces import cut

__all__ = ["fill"]


@compiled(Whole(SetupType, StateType, Whole, Whole, Whole, Whole, Whole, Whole))
def _put(
    setup: Setup, state: State, kind: int, pose: int, x: int, y: int, z: int, least: int
) -> int:
    """Place an item; return 1, or `NO_ROOM` or `BROKEN`."""
    end = touch(setup, state, kind, pose, x, y, z)
    if end == at.NO_ROOM:
        return at.NO_ROOM
    if end < 0 or not bears(setup, state, kind, pose, x, y, end):
        return at.BROKEN
    items, placed, cuboids, used = state.items, state.placed, setup.cuboids, state.used
    i, p = used[at.ITEMS], used[at.PLACED]
    first, last = setup.poses[pose, at.POSE_FIRST], setup.poses[pose, at.POSE_END]
    items[i, at.ROW_KIND], items[i, at.ROW_POSE] = kind, pose
    items[i, at.ROW_X], items[i, at.ROW_Y], items[i, at.ROW_Z] = x, y, z
    items[i, at.PUT_X1] = x + setup.poses[pose, at.POSE_LENGTH]
    items[i, at.PUT_Y1] = y + setup.poses[pose, at.POSE_WIDTH]
    items[i, at.PUT_Z1] = z + setup.poses[pose, at.POSE_HEIGHT]
    items[i, at.PUT_FIRST], items[i, at.PUT_END] = p, p + last - first
    items[i, at.PUT_FIRST_CONTACT], items[i, at.PUT_END_CONTACT] = used[at.CONTACTS], end
    for j in range(i):
        for k in range(3):
            state.loads[j, k] += state.extra[j, k]
    state.loads[i, 0], state.loads[i, 1], state.loads[i, 2] = 0.0, 0.0, 0.0
    for c in range(first, last):
        placed[p, at.X0], placed[p, at.X1] = x + cuboids[c, at.X0], x + cuboids[c, at.X1]
        placed[p, at.Y0], placed[p, at.Y1] = y + cuboids[c, at.Y0], y + cuboids[c, at.Y1]
        placed[p, at.Z0], placed[p, at.Z1] = z + cuboids[c, at.Z0], z + cuboids[c, at.Z1]
        placed[p, at.TENDER], placed[p, at.PILLAR] = cuboids[c, at.TENDER], cuboids[c, at.PILLAR]
        if cuboids[c, at.PILLAR] != 0:
            count = cut(setup, state, p, least)
            if count == at.NO_ROOM:
                return at.NO_ROOM
            used[at.SPACES] = count
        p += 1
    used[at.ITEMS], used[at.PLACED], used[at.CONTACTS] = i + 1, p, end
    return 1


@compiled(Whole(SetupType, StateType, I2, Whole, Whole))
def _replay(setup: Setup, state: State, rows: Ints, count: int, least: int) -> int:
    """Empty the container, then place the given rows; return 1, or `NO_ROOM` or `BROKEN`."""
    apart, used, spaces = setup.box[at.BOX_CLEARANCE], state.used, state.spaces
    used[at.ITEMS], used[at.PLACED], used[at.CONTACTS], used[at.SPACES] = 0, 0, 0, 1
    spaces[0, 0], spaces[0, 1], spaces[0, at.SPACE_Z] = apart, apart, 0
    spaces[0, 2], spaces[0, 3] = setup.box[at.BOX_LENGTH], setup.box[at.BOX_WIDTH]
    for r in range(count):
        done = _put(
            setup,
            state,
            rows[r, at.ROW_KIND],
            rows[r, at.ROW_POSE],
            rows[r, at.ROW_X],
            rows[r, at.ROW_Y],
            rows[r, at.ROW_Z],
            least,
        )
        if done != 1:
            return done
    return 1


@compiled(Flag(SetupType, StateType, Whole, Whole))
def _welcome(setup: Setup, state: State, kind: int, weight: int) -> bool:
    """Whether payload and company allow one more item of a kind."""
    if weight + setup.kinds[kind, at.KIND_WEIGHT] > setup.box[at.BOX_PAYLOAD]:
        return False
    for i in range(state.used[at.ITEMS]):
        if setup.conflicts[kind, state.items[i, at.ROW_KIND]] != 0:
            return False
    return True


@compiled(Whole(SetupType, StateType, Whole, Whole, Whole, F1, F1, I1))
def _add(
    setup: Setup,
    state: State,
    kind: int,
    copies: int,
    least: int,
    weights: Reals,
    bias: Reals,
    best: Ints,
) -> int:
    """Place one more item of a kind where it is best; return 1, 0, `NO_ROOM` or `BROKEN`."""
    found = best_place(setup, state, kind, copies, int(weights[at.DEEP]), weights, bias, best)
    if found == 0 and weights[at.DEEP] == 0:
        found = best_place(setup, state, kind, copies, 1, weights, bias, best)
    if found != 1:
        return found
    return _put(setup, state, kind, best[0], best[1], best[2], best[3], least)


@compiled(Whole(SetupType, StateType, I1, I1, I2, Whole, F1, F1))
def fill(
    setup: Setup,
    state: State,
    available: Ints,
    order: Ints,
    rows: Ints,
    count: int,
    weights: Reals,
    bias: Reals,
) -> int:
    """Fill a container with as many items as find a place.

    Parameters
    ----------
    setup, state
        The construction, and its work arrays.
    available
        How many there are of each kind; what is placed is taken off.
    order
        Kinds in the order in which they are tried; kinds of one cluster follow each other, and
        are placed all or not at all.
    rows, count
        What lies in the container already, in its first `count` rows; receives the rest.
    weights, bias
        How places are scored.

    Returns
    -------
    int
        The number of rows, or `NO_ROOM` or `BROKEN`.
    """
    kinds, used = setup.kinds, state.used
    best = np.zeros(4, np.int64)
    failed = np.full(kinds.shape[0], -1, np.int64)
    least = setup.box[at.BOX_LENGTH]
    for o in range(order.shape[0]):
        for pose in range(kinds[order[o], at.KIND_FIRST], kinds[order[o], at.KIND_END]):
            first = setup.poses[pose, at.POSE_FIRST_ANCHOR]
            for a in range(first, setup.poses[pose, at.POSE_END_ANCHOR]):
                for k in range(2):
                    side = setup.anchors[a, k + 2] - setup.anchors[a, k]
                    least = min(least, side + setup.box[at.BOX_CLEARANCE])
    done = _replay(setup, state, rows, count, least)
    if done != 1:
        return done
    weight = 0
    for r in range(count):
        weight += kinds[rows[r, at.ROW_KIND], at.KIND_WEIGHT]
    changed = True
    while changed:
        changed = False
        end = 0
        while end < order.shape[0]:
            start = end
            cluster = kinds[order[start], at.KIND_CLUSTER]
            end += 1
            while cluster >= 0 and end < order.shape[0]:
                if kinds[order[end], at.KIND_CLUSTER] != cluster:
                    break
                end += 1
            before, weight_before = used[at.ITEMS], weight
            if failed[order[start]] == before:
                continue
            complete = True
            for o in range(start, end):
                kind = order[o]
                while complete and available[kind] > 0:
                    done = 0
                    if _welcome(setup, state, kind, weight):
                        done = _add(setup, state, kind, available[kind], least, weights, bias, best)
                    if done < 0:
                        return done
                    if done == 0:
                        complete = False
                        break
                    i = used[at.ITEMS] - 1
                    for k in range(at.ROW_COLUMNS):
                        rows[i, k] = state.items[i, k]
                    available[kind] -= 1
                    weight += kinds[kind, at.KIND_WEIGHT]
            if not complete:
                if cluster >= 0 and used[at.ITEMS] > before:
                    for i in range(before, used[at.ITEMS]):
                        available[rows[i, at.ROW_KIND]] += 1
                    weight = weight_before
                    done = _replay(setup, state, rows, before, least)
                    if done != 1:
                        return done
                failed[order[start]] = used[at.ITEMS]
            if used[at.ITEMS] > before:
                changed = True
    return int(used[at.ITEMS])
