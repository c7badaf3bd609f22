"""One construction of a load: container by container, each where it suits best."""

from numba import types

from packdown.packing.kernels.boot_types import Boot, BootType, Stow, StowType
from packdown.packing.kernels.boot_way import meets, way_in
from packdown.packing.kernels.compiled import Flag, Real, Whole, compiled
from packdown.packing.loads import layout as at

__all__ = ["fill_boot"]

NOWHERE = 1e300


@compiled(Whole(StowType, Whole, Whole, Whole))
def _add(stow: Stow, axis: int, count: int, value: int) -> int:
    """Add a spot that is not yet on the list of an axis; return how many there are."""
    for k in range(count):
        if stow.spots[axis, k] == value:
            return count
    stow.spots[axis, count] = value
    return count + 1


@compiled(Whole(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole))
def _spots(
    boot: Boot, stow: Stow, count: int, axis: int, side: int, most: int, z0: int, z1: int
) -> int:
    """List places along x or y that touch or align with something between two heights."""
    n = _add(stow, axis, _add(stow, axis, 0, most - side), 0)
    if axis == 1:
        n = _add(stow, axis, n, (most - side) // 2)
    for p in range(count):
        row = stow.placed[p]
        if row[at.Z0] < z1 and z0 <= row[at.Z1]:
            low, high = row[axis], row[axis + 3]
            for value in (low - side, high, low, high - side):
                if 0 <= value <= most - side:
                    n = _add(stow, axis, n, value)
    for p in range(boot.blocked.shape[0]):
        row = boot.blocked[p]
        if row[2] < z1 and z0 < row[5]:
            for value in (row[axis] - side, row[axis + 3]):
                if 0 <= value <= most - side:
                    n = _add(stow, axis, n, value)
    return n


@compiled(Flag(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _is_clear(
    boot: Boot,
    stow: Stow,
    count: int,
    x: int,
    y: int,
    z: int,
    dx: int,
    dy: int,
    dz: int,
    into: int,
) -> bool:
    """Whether a container overlaps nothing but what it sinks into."""
    for p in range(count):
        if p != into and meets(stow.placed[p], x, y, z, x + dx, y + dy, z + dz):
            return False
    for p in range(boot.blocked.shape[0]):
        if meets(boot.blocked[p], x, y, z, x + dx, y + dy, z + dz):
            return False
    return True


@compiled(Flag(StowType, Whole, Whole, Whole, Whole, Whole, Whole))
def _find_carriers(stow: Stow, count: int, x: int, y: int, z: int, dx: int, dy: int) -> bool:
    """Mark what a container stands on; say whether all four corners are carried."""
    carried = 0
    for p in range(count):
        row = stow.placed[p]
        stow.carriers[p] = 0
        if row[at.Z1] != z or x >= row[3] or row[0] >= x + dx or y >= row[4] or row[1] >= y + dy:
            continue
        stow.carriers[p] = 1
        left, right = int(row[0] <= x), int(x + dx <= row[3])
        front, back = int(row[1] <= y), int(y + dy <= row[4])
        carried |= left * front + right * front * 2 + left * back * 4 + right * back * 8
    return bool(carried == 15)


@compiled(Flag(BootType, StowType, Whole, Whole))
def _may_carry(boot: Boot, stow: Stow, count: int, box: int) -> bool:
    """Whether what is marked may carry a container, and what carries that in its turn."""
    boxes, weight = boot.boxes, boot.boxes[box, at.WEIGHT]
    for p in range(count):
        if stow.carriers[p]:
            under = boxes[stow.placed[p, at.BOX]]
            if weight * 100 > under[at.WEIGHT] * (100 + boot.place[at.HEAVIER]):
                return False
    for q in range(count):
        under = stow.carriers[q] == 1
        for p in range(count):
            under = under or (stow.carriers[p] == 1 and stow.below[p, q] == 1)
        if under and stow.loads[q] + weight > boxes[stow.placed[q, at.BOX], at.LIMIT]:
            return False
    return True


@compiled(Real(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole))
def _score(boot: Boot, stow: Stow, box: int, x: int, y: int, z: int, dx: int, dy: int) -> float:
    """Score a place, less is better."""
    length, end = boot.place[at.SIZE_Y], stow.ends[box]
    away = length - dy - y
    if end == at.BACKWARD:
        away = y
    elif end == at.MIDDLE:
        away = abs(2 * y + dy - length) // 2
    right = boot.place[at.SIZE_X] - dx - x
    edge = min(x, right)
    if stow.sides[box] == at.LEFT:
        edge = x
    elif stow.sides[box] == at.RIGHT:
        edge = right
    whims = stow.whims
    height = -z if stow.sides[box] == at.UP else z
    return float(whims[0] * height + whims[1] * away + whims[2] * edge + 1e-3 * x)


@compiled(types.void(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _put(
    boot: Boot, stow: Stow, count: int, box: int, turn: int, x: int, y: int, z: int, into: int
) -> None:
    """Load a container where it may be; `carriers` and `path` are still those of its place."""
    row, size = stow.placed[count], boot.boxes[box]
    row[0], row[1], row[2] = x, y, z
    row[3] = x + (size[at.WIDTH] if turn else size[at.LENGTH])
    row[4] = y + (size[at.LENGTH] if turn else size[at.WIDTH])
    row[5] = z + size[at.HEIGHT]
    row[at.BOX], row[at.TURN], row[at.INTO] = box, turn, into
    for q in range(count):
        under = stow.carriers[q]
        for p in range(count):
            if stow.carriers[p] and stow.below[p, q]:
                under = 1
        stow.below[count, q] = under
        if under:
            stow.loads[q] += size[at.WEIGHT]
    stow.loads[count] = 0
    for k in range(at.MOST_CORNERS):
        for axis in range(3):
            stow.paths[count * at.MOST_CORNERS + k, axis] = stow.path[k, axis]


@compiled(Flag(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _may_be(
    boot: Boot,
    stow: Stow,
    count: int,
    box: int,
    x: int,
    y: int,
    z: int,
    dx: int,
    dy: int,
    dz: int,
    into: int,
) -> bool:
    """Whether a container may stand at a place and get there."""
    if not _is_clear(boot, stow, count, x, y, z, dx, dy, dz, into):
        return False
    if into >= 0:
        for p in range(count):
            stow.carriers[p] = int(p == into)
    elif z == 0:
        for p in range(count):
            stow.carriers[p] = 0
    elif not _find_carriers(stow, count, x, y, z, dx, dy):
        return False
    if not _may_carry(boot, stow, count, box):
        return False
    above = stow.placed[into, at.Z1] if into >= 0 else z
    corners = way_in(boot, stow, count, x, y, above, dx, dy, dz)
    if corners == 0:
        return False
    stow.corners[count] = corners
    if above != z:
        for k in range(3):
            stow.path[corners, k] = stow.path[corners - 1, k]
        stow.path[corners, 2] = z
        stow.corners[count] = corners + 1
    return True


@compiled(Whole(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole))
def _sinks_into(
    boot: Boot, stow: Stow, count: int, box: int, turn: int, x: int, y: int, z: int
) -> int:
    """Return which loaded container of the same size one sinks into from a place, or -1."""
    size = boot.boxes[box]
    if size[at.NEST] == 0 or z == 0:
        return -1
    for p in range(count):
        row = stow.placed[p]
        other = boot.boxes[row[at.BOX]]
        same = size[0] == other[0] and size[1] == other[1] and size[2] == other[2]
        there = row[0] == x and row[1] == y and row[at.Z1] == z and row[at.TURN] == turn
        if same and there and other[at.NEST] == size[at.NEST]:
            covered = False
            for q in range(count):
                covered = covered or stow.placed[q, at.INTO] == p
            if not covered:
                return p
    return -1


@compiled(Flag(BootType, StowType, Whole, Whole))
def _load_one(boot: Boot, stow: Stow, count: int, box: int) -> bool:
    """Load one container at the best of the places that touch something."""
    size, place = boot.boxes[box], boot.place
    best, best_turn, best_into = NOWHERE, -1, -1
    best_x, best_y, best_z = 0, 0, 0
    dz = size[at.HEIGHT]
    for turn in range(2):
        if stow.turns[box] != at.FREE_TURN and stow.turns[box] != turn:
            continue
        dx = size[at.WIDTH] if turn else size[at.LENGTH]
        dy = size[at.LENGTH] if turn else size[at.WIDTH]
        if dx > place[at.SIZE_X] or dy > place[at.SIZE_Y]:
            continue
        heights = _add(stow, 2, 0, 0)
        for p in range(count):
            heights = _add(stow, 2, heights, stow.placed[p, at.Z1])
        for h in range(heights):
            z = stow.spots[2, h]
            if z > place[at.TOP]:
                continue
            across = _spots(boot, stow, count, 0, dx, place[at.SIZE_X], z, z + dz)
            along = _spots(boot, stow, count, 1, dy, place[at.SIZE_Y], z, z + dz)
            for i in range(across):
                for j in range(along):
                    x, y = stow.spots[0, i], stow.spots[1, j]
                    into = _sinks_into(boot, stow, count, box, turn, x, y, z)
                    low = z - size[at.NEST] if into >= 0 else z
                    score = _score(boot, stow, box, x, y, low, dx, dy)
                    if score >= best or low + dz > place[at.TOP]:
                        continue
                    if _may_be(boot, stow, count, box, x, y, low, dx, dy, dz, into):
                        best, best_turn, best_into = score, turn, into
                        best_x, best_y, best_z = x, y, low
    if best_turn < 0:
        return False
    dx = size[at.WIDTH] if best_turn else size[at.LENGTH]
    dy = size[at.LENGTH] if best_turn else size[at.WIDTH]
    _may_be(boot, stow, count, box, best_x, best_y, best_z, dx, dy, dz, best_into)
    _put(boot, stow, count, box, best_turn, best_x, best_y, best_z, best_into)
    return True


@compiled(Whole(BootType, StowType))
def fill_boot(boot: Boot, stow: Stow) -> int:
    """Load containers in their order; what finds no place is left out.

    Parameters
    ----------
    boot
        The problem.
    stow
        Order and wishes; receives what is loaded.

    Returns
    -------
    int
        How many are loaded.
    """
    count, weight = 0, 0
    for o in range(stow.order.shape[0]):
        box = stow.order[o]
        own = boot.boxes[box, at.WEIGHT]
        if stow.ends[box] == at.LEAVE:
            continue
        if weight + own <= boot.place[at.PAYLOAD] and _load_one(boot, stow, count, box):
            weight += own
            count += 1
    return count
