"""Where an item comes to rest, what it touches, and what the stack beneath bears."""

from numba import types

from packdown.packing import layout as at
from packdown.packing.kernels.compiled import (
    Flag,
    Real,
    Setup,
    SetupType,
    State,
    StateType,
    Whole,
    compiled,
)

__all__ = ["bears", "rest_height", "touch"]

MARGIN_UM = 1e-3
"""Distance kept from the edge of a footing: far above any rounding, far below any hand."""
ROUND_UP = 1.0 + 1e-12
"""Loads that are shared out are never rounded down."""


@compiled(Whole(SetupType, StateType, Whole, Whole, Whole, Whole))
def rest_height(setup: Setup, state: State, pose: int, x: int, y: int, limit: int) -> int:
    """Return the height at which a pose comes to rest when lowered at a place in plan.

    Once it is certain to be above the limit, some height above the limit is returned.
    """
    cuboids, items, placed = setup.cuboids, state.items, state.placed
    apart, sheet = setup.box[at.BOX_CLEARANCE], setup.box[at.BOX_SHEET]
    x1 = x + setup.poses[pose, at.POSE_LENGTH] + apart
    y1 = y + setup.poses[pose, at.POSE_WIDTH] + apart
    first, end = setup.poses[pose, at.POSE_FIRST], setup.poses[pose, at.POSE_END]
    z = 0
    for i in range(state.used[at.ITEMS]):
        if z > limit:
            return z
        if items[i, at.PUT_Z1] + sheet <= z or x >= items[i, at.PUT_X1] + apart:
            continue
        if x1 <= items[i, at.ROW_X] or y >= items[i, at.PUT_Y1] + apart or y1 <= items[i, at.ROW_Y]:
            continue
        for p in range(items[i, at.PUT_FIRST], items[i, at.PUT_END]):
            top = placed[p, at.Z1] + sheet
            if top <= z:
                continue
            for c in range(first, end):
                if (
                    top - cuboids[c, at.Z0] > z
                    and x + cuboids[c, at.X0] < placed[p, at.X1] + apart
                    and placed[p, at.X0] < x + cuboids[c, at.X1] + apart
                    and y + cuboids[c, at.Y0] < placed[p, at.Y1] + apart
                    and placed[p, at.Y0] < y + cuboids[c, at.Y1] + apart
                ):
                    z = top - cuboids[c, at.Z0]
    return z


@compiled(Whole(StateType, Whole, Whole, Whole, Whole, Whole, Whole))
def _note(state: State, row: int, on: int, x0: int, y0: int, x1: int, y1: int) -> int:
    """Write a contact and return the next row, or `NO_ROOM`."""
    contacts = state.contacts
    if row == contacts.shape[0]:
        return at.NO_ROOM
    contacts[row, at.ON] = on
    contacts[row, at.ON_X0], contacts[row, at.ON_Y0] = x0, y0
    contacts[row, at.ON_X1], contacts[row, at.ON_Y1] = x1, y1
    contacts[row, at.ON_AREA] = (x1 - x0) * (y1 - y0)
    return row + 1


@compiled(Whole(SetupType, StateType, Whole, Whole, Whole, Whole, Whole))
def touch(setup: Setup, state: State, kind: int, pose: int, x: int, y: int, z: int) -> int:
    """Write the contacts of an item at rest behind those in use.

    Returns
    -------
    int
        The row after the last contact; -1 if too little of it is supported, something tender is
        touched, or something needed earlier lies beneath; `NO_ROOM` if the array is full.
    """
    kinds, poses, cuboids = setup.kinds, setup.poses, setup.cuboids
    items, placed = state.items, state.placed
    apart, sheet = setup.box[at.BOX_CLEARANCE], setup.box[at.BOX_SHEET]
    x1, y1 = x + poses[pose, at.POSE_LENGTH] + apart, y + poses[pose, at.POSE_WIDTH] + apart
    first, end = poses[pose, at.POSE_FIRST], poses[pose, at.POSE_END]
    row, lowest = state.used[at.CONTACTS], 0
    if z == 0:
        lowest = poses[pose, at.POSE_LOWEST_AREA]
        for c in range(first, end):
            if cuboids[c, at.Z0] == 0:
                row = _note(
                    state,
                    row,
                    at.FLOOR,
                    x + cuboids[c, at.X0],
                    y + cuboids[c, at.Y0],
                    x + cuboids[c, at.X1],
                    y + cuboids[c, at.Y1],
                )
                if row == at.NO_ROOM:
                    return at.NO_ROOM
    for i in range(state.used[at.ITEMS]):
        buries = kinds[items[i, at.ROW_KIND], at.KIND_RANK] < kinds[kind, at.KIND_RANK]
        if not buries and items[i, at.PUT_Z1] + sheet < z:
            continue
        if x >= items[i, at.PUT_X1] + apart or x1 <= items[i, at.ROW_X]:
            continue
        if y >= items[i, at.PUT_Y1] + apart or y1 <= items[i, at.ROW_Y]:
            continue
        for p in range(items[i, at.PUT_FIRST], items[i, at.PUT_END]):
            top = placed[p, at.Z1] + sheet
            if not buries and top < z:
                continue
            for c in range(first, end):
                cx0, cx1 = x + cuboids[c, at.X0], x + cuboids[c, at.X1]
                cy0, cy1 = y + cuboids[c, at.Y0], y + cuboids[c, at.Y1]
                if cx0 >= placed[p, at.X1] + apart or placed[p, at.X0] >= cx1 + apart:
                    continue
                if cy0 >= placed[p, at.Y1] + apart or placed[p, at.Y0] >= cy1 + apart:
                    continue
                if buries:
                    return -1
                cx0, cx1 = max(cx0, placed[p, at.X0]), min(cx1, placed[p, at.X1])
                cy0, cy1 = max(cy0, placed[p, at.Y0]), min(cy1, placed[p, at.Y1])
                if z + cuboids[c, at.Z0] != top or cx0 >= cx1 or cy0 >= cy1:
                    continue
                if placed[p, at.TENDER] != 0:
                    return -1
                row = _note(state, row, i, cx0, cy0, cx1, cy1)
                if row == at.NO_ROOM:
                    return at.NO_ROOM
                if cuboids[c, at.Z0] == 0:
                    lowest += (cx1 - cx0) * (cy1 - cy0)
    if lowest * 100 < setup.box[at.BOX_SUPPORT] * poses[pose, at.POSE_LOWEST_AREA]:
        return -1
    return int(row)


@compiled(Flag(StateType, Whole, Whole, Real, Real))
def _balanced(state: State, start: int, end: int, px: float, py: float) -> bool:
    """Whether a point lies within the convex hull of contact rectangles.

    The hull is walked corner by corner, as there are few (gift wrapping: Jarvis, R. A. (1973),
    Information Processing Letters 2(1), 18-21).
    """
    contacts = state.contacts
    sx, sy = contacts[start, at.ON_X0], contacts[start, at.ON_Y0]
    for r in range(start, end):
        x0, y0 = contacts[r, at.ON_X0], contacts[r, at.ON_Y0]
        if (
            x0 + MARGIN_UM <= px <= contacts[r, at.ON_X1] - MARGIN_UM
            and y0 + MARGIN_UM <= py <= contacts[r, at.ON_Y1] - MARGIN_UM
        ):
            return True
        if x0 < sx or (x0 == sx and y0 < sy):
            sx, sy = x0, y0
    if end - start < 2:
        return False
    ax, ay = sx, sy
    for _ in range(4 * (end - start)):
        bx, by = ax, ay
        for k in range(4 * (end - start)):
            r = start + k // 4
            cx = contacts[r, at.ON_X0] if k % 2 == 0 else contacts[r, at.ON_X1]
            cy = contacts[r, at.ON_Y0] if k % 4 < 2 else contacts[r, at.ON_Y1]
            side = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
            further = (cx - ax) ** 2 + (cy - ay) ** 2 > (bx - ax) ** 2 + (by - ay) ** 2
            if side < 0 or (side == 0 and further):
                bx, by = cx, cy
        length = float((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        if (bx - ax) * (py - ay) - (by - ay) * (px - ax) < MARGIN_UM * length:
            return False
        if bx == sx and by == sy:
            return True
        ax, ay = bx, by
    return False


@compiled(types.void(StateType, Whole, Whole, Real, Real, Real))
def _share(state: State, start: int, end: int, load: float, mx: float, my: float) -> None:
    """Pass a load on to what carries it, in proportion to the area touched.

    The moments of the load about the axes tell where it acts. The shares act at the middles of
    the contacts, all shifted alike so that together they act where the load does.
    """
    contacts, extra = state.contacts, state.extra
    area, ax, ay = 0.0, 0.0, 0.0
    for r in range(start, end):
        part = float(contacts[r, at.ON_AREA])
        area += part
        ax += part * ((contacts[r, at.ON_X0] + contacts[r, at.ON_X1]) / 2)
        ay += part * ((contacts[r, at.ON_Y0] + contacts[r, at.ON_Y1]) / 2)
    sx, sy = mx / load - ax / area, my / load - ay / area
    for r in range(start, end):
        on = contacts[r, at.ON]
        if on == at.FLOOR:
            continue
        part = load
        if contacts[r, at.ON_AREA] != area:
            part = load * (contacts[r, at.ON_AREA] / area) * ROUND_UP
        extra[on, 0] += part
        extra[on, 1] += part * ((contacts[r, at.ON_X0] + contacts[r, at.ON_X1]) / 2 + sx)
        extra[on, 2] += part * ((contacts[r, at.ON_Y0] + contacts[r, at.ON_Y1]) / 2 + sy)


@compiled(Flag(SetupType, StateType, Whole, Whole, Whole, Whole, Whole))
def bears(setup: Setup, state: State, kind: int, pose: int, x: int, y: int, end: int) -> bool:
    """Whether an item stands, and all beneath it still stand and carry no more than they may.

    The contacts of the item reach from those in use to row `end`. What it adds to the loads of
    others is left in `state.extra`. Where no support is asked for, nothing need stand.
    """
    kinds, poses, items, loads, extra = (
        setup.kinds,
        setup.poses,
        state.items,
        state.loads,
        state.extra,
    )
    start, count = state.used[at.CONTACTS], state.used[at.ITEMS]
    px, py = x + poses[pose, at.POSE_CENTRE_X], y + poses[pose, at.POSE_CENTRE_Y]
    for i in range(count):
        extra[i, 0], extra[i, 1], extra[i, 2] = 0.0, 0.0, 0.0
    if setup.box[at.BOX_SUPPORT] == 0:
        return True
    if not _balanced(state, start, end, float(px), float(py)):
        return False
    weight = float(kinds[kind, at.KIND_WEIGHT])
    _share(state, start, end, weight, weight * px, weight * py)
    for i in range(count - 1, -1, -1):
        if extra[i, 0] == 0.0:
            continue
        own, lies = items[i, at.ROW_KIND], items[i, at.ROW_POSE]
        weight, load = float(kinds[own, at.KIND_WEIGHT]), loads[i, 0] + extra[i, 0]
        if 0 <= kinds[own, at.KIND_CARRY] < load:
            return False
        mx = weight * (items[i, at.ROW_X] + poses[lies, at.POSE_CENTRE_X]) + loads[i, 1]
        my = weight * (items[i, at.ROW_Y] + poses[lies, at.POSE_CENTRE_Y]) + loads[i, 2]
        cx, cy = (mx + extra[i, 1]) / (weight + load), (my + extra[i, 2]) / (weight + load)
        first, last = items[i, at.PUT_FIRST_CONTACT], items[i, at.PUT_END_CONTACT]
        if not _balanced(state, first, last, cx, cy):
            return False
        _share(state, first, last, extra[i, 0], extra[i, 1], extra[i, 2])
    return True
