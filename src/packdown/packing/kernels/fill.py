"""One construction: items are placed one by one into one container."""

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

__all__ = ["fill", "put"]


@compiled(Whole(SetupType, StateType, Whole, Whole, Whole, Whole, Whole, Whole))
def put(
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
    used[at.LOADED] += setup.kinds[kind, at.KIND_WEIGHT]
    return 1


@compiled(Whole(SetupType, StateType, I2, Whole, Whole))
def _replay(setup: Setup, state: State, rows: Ints, count: int, least: int) -> int:
    """Empty the container, then place the given rows; return 1, or `NO_ROOM` or `BROKEN`."""
    apart, used, spaces = setup.box[at.BOX_CLEARANCE], state.used, state.spaces
    used[at.ITEMS], used[at.PLACED], used[at.CONTACTS] = 0, 0, 0
    used[at.SPACES], used[at.LOADED] = 1, 0
    spaces[0, 0], spaces[0, 1], spaces[0, at.SPACE_Z] = apart, apart, 0
    spaces[0, at.SPACE_BORN] = 0
    spaces[0, 2], spaces[0, 3] = setup.box[at.BOX_LENGTH], setup.box[at.BOX_WIDTH]
    for r in range(count):
        done = put(
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


@compiled(Flag(SetupType, StateType, Whole))
def _welcome(setup: Setup, state: State, kind: int) -> bool:
    """Whether payload and company allow one more item of a kind."""
    if state.used[at.LOADED] + setup.kinds[kind, at.KIND_WEIGHT] > setup.box[at.BOX_PAYLOAD]:
        return False
    for i in range(state.used[at.ITEMS]):
        if setup.conflicts[kind, state.items[i, at.ROW_KIND]] != 0:
            return False
    return True


@compiled(Whole(SetupType, StateType, Whole, I1, Whole, Whole, F1, F1, I1))
def _add(
    setup: Setup,
    state: State,
    kind: int,
    available: Ints,
    since: int,
    least: int,
    weights: Reals,
    bias: Reals,
    best: Ints,
) -> int:
    """Place one more item of a kind where it is best; return 1, 0, `NO_ROOM` or `BROKEN`.

    Only spaces since it last found no place are tried.
    """
    if not _welcome(setup, state, kind):
        return 0
    copies, deep = available[kind], int(weights[at.DEEP])
    found = best_place(setup, state, kind, copies, deep, since, weights, bias, best)
    if found == 0 and deep == at.SHALLOW:
        found = best_place(setup, state, kind, copies, at.DEEP_ONLY, since, weights, bias, best)
    if found == 1:
        found = put(setup, state, kind, best[0], best[1], best[2], best[3], least)
    if found == 1:
        available[kind] -= 1
    return found


@compiled(Whole(SetupType, I1))
def _least_side(setup: Setup, order: Ints) -> int:
    """Return the side, with its clearance, below which a space is too narrow for every kind."""
    least = setup.box[at.BOX_LENGTH]
    for o in range(order.shape[0]):
        kind = order[o]
        for pose in range(setup.kinds[kind, at.KIND_FIRST], setup.kinds[kind, at.KIND_END]):
            first = setup.poses[pose, at.POSE_FIRST_ANCHOR]
            for a in range(first, setup.poses[pose, at.POSE_END_ANCHOR]):
                for k in range(2):
                    side = setup.anchors[a, k + 2] - setup.anchors[a, k]
                    least = min(least, side + setup.box[at.BOX_CLEARANCE])
    return int(least)


@compiled(Whole(StateType, I2))
def _listed(state: State, rows: Ints) -> int:
    """Copy the placed items to rows and return their number."""
    for i in range(state.used[at.ITEMS]):
        for k in range(at.ROW_COLUMNS):
            rows[i, k] = state.items[i, k]
    return int(state.used[at.ITEMS])


@compiled(Whole(SetupType, StateType, Whole, I1, I2, Whole))
def _undo(setup: Setup, state: State, count: int, available: Ints, rows: Ints, least: int) -> int:
    """Take out all but the first items; return 1, or `NO_ROOM` or `BROKEN`."""
    for i in range(count, _listed(state, rows)):
        available[rows[i, at.ROW_KIND]] += 1
    return _replay(setup, state, rows, count, least)


@compiled(Whole(SetupType, StateType, I1, I1, I2, Whole, F1, F1, I1, I1))
def fill(
    setup: Setup,
    state: State,
    available: Ints,
    order: Ints,
    rows: Ints,
    count: int,
    weights: Reals,
    bias: Reals,
    best: Ints,
    failed: Ints,
) -> int:
    """Fill a container with as many items as find a place.

    The kinds are gone through until a whole round adds nothing. A kind that found no place is
    not tried again before something else was placed.

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
        What lies in the container already, in its first `count` rows; receives everything.
    weights, bias
        How places are scored.
    best, failed
        Work space: a place, and how many items there were when a kind found no place.

    Returns
    -------
    int
        The number of rows, or `NO_ROOM` or `BROKEN`.
    """
    kinds, used = setup.kinds, state.used
    failed[:] = -1
    least = _least_side(setup, order)
    done = _replay(setup, state, rows, count, least)
    start, placed_at_start = 0, used[at.ITEMS]
    while done >= 0:
        if start == order.shape[0]:
            if used[at.ITEMS] == placed_at_start:
                break
            start, placed_at_start = 0, used[at.ITEMS]
        first, before = order[start], used[at.ITEMS]
        cluster, end = kinds[first, at.KIND_CLUSTER], start + 1
        while cluster >= 0 and end < order.shape[0]:
            if kinds[order[end], at.KIND_CLUSTER] != cluster:
                break
            end += 1
        if failed[first] != before:
            done = 1
            for o in range(start, end):
                kind, since = order[o], 0 if cluster >= 0 else failed[order[o]]
                while done == 1 and available[kind] > 0:
                    done = _add(setup, state, kind, available, since, least, weights, bias, best)
            if done == 0 and cluster >= 0:
                done = _undo(setup, state, before, available, rows, least)
                failed[first] = before
            elif done == 0:
                failed[first] = used[at.ITEMS]
        start = end
    if done < 0:
        return done
    return _listed(state, rows)
