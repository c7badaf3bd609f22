"""How good a block is in the corner of a free space, and which are best.

The score is volume x contact x reach x few boxes, after Araya, I., Guerrero, K., Nunez, E.
(2017), Computers & Operations Research 82, 27-35: the share of the block's surface that touches
something, the share of the space that what is left can still reach, axis by axis, and a small
price for each box.
"""

from numba import types

from packdown.packing.blocks import layout as at
from packdown.packing.kernels.block_types import (
    Pool,
    PoolType,
    Scene,
    SceneType,
    Task,
    TaskType,
    Work,
    WorkType,
)
from packdown.packing.kernels.compiled import I2, Flag, Ints, Real, Whole, compiled

__all__ = ["corner", "rank", "reachable"]

WORD, MASK = 32, 2**32 - 1


@compiled(types.void(WorkType, Whole, Whole))
def _shift_in(work: Work, words: int, shift: int) -> None:
    """Add to the sums each sum that is longer by a shift."""
    bits, whole, part = work.bits, shift // WORD, shift % WORD
    for i in range(words - 1, whole - 1, -1):
        moved = (bits[i - whole] << part) & MASK
        if part != 0 and i > whole:
            moved |= bits[i - whole - 1] >> (WORD - part)
        bits[i] |= moved


@compiled(types.void(TaskType, SceneType, WorkType))
def reachable(task: Task, scene: Scene, work: Work) -> None:
    """Write, for each axis and length, the greatest sum of sides of boxes that are left."""
    sides, left, reach, bits = task.sides, scene.left, work.reach, work.bits
    s = 0
    for axis in range(3):
        length = task.box[at.LENGTH + axis] // task.box[at.UNIT]
        words = length // WORD + 1
        for i in range(words):
            bits[i] = 0
        bits[0] = 1
        while s < sides.shape[0] and sides[s, at.SIDE_AXIS] == axis:
            side = sides[s, at.SIDE_UNITS]
            copies, step = min(left[sides[s, at.SIDE_KIND]], length // side), 1
            while copies > 0:
                step = min(step, copies)
                _shift_in(work, words, step * side)
                copies -= step
                step *= 2
            s += 1
        last = 0
        for i in range(length + 1):
            if (bits[i // WORD] >> (i % WORD)) & 1 != 0:
                last = i
            reach[axis, i] = last * task.box[at.UNIT]


@compiled(Whole(WorkType, Whole, Whole, Whole, Whole, Whole))
def _face(work: Work, row: int, a0: int, b0: int, a1: int, b1: int) -> int:
    """Append a rectangle that touches a face; return the next row or `NO_ROOM`."""
    if row == at.NO_ROOM or a0 >= a1 or b0 >= b1:
        return row
    faces = work.faces
    if row == faces.shape[0]:
        return at.NO_ROOM
    faces[row, 0], faces[row, 1], faces[row, 2], faces[row, 3] = a0, b0, a1, b1
    return row + 1


@compiled(Whole(TaskType, SceneType, WorkType, Whole))
def _touching(task: Task, scene: Scene, work: Work, s: int) -> int:
    """Write what touches the six faces of a space; return the number of rectangles."""
    spaces, placed = scene.spaces, scene.placed
    row = 0
    for face in range(6):
        axis, upper = face // 2, face % 2
        a, b = (axis + 1) % 3, (axis + 2) % 3
        work.first_face[face] = row
        plane = spaces[s, axis + 3 * upper]
        a0, a1, b0, b1 = spaces[s, a], spaces[s, a + 3], spaces[s, b], spaces[s, b + 3]
        if plane == (task.box[axis] if upper == 1 else 0):
            row = _face(work, row, a0, b0, a1, b1)
        else:
            for p in range(scene.used[at.PLACED]):
                if placed[p, axis + 3 * (1 - upper)] == plane:
                    row = _face(
                        work,
                        row,
                        max(a0, placed[p, a]),
                        max(b0, placed[p, b]),
                        min(a1, placed[p, a + 3]),
                        min(b1, placed[p, b + 3]),
                    )
        if row == at.NO_ROOM:
            return at.NO_ROOM
    work.first_face[6] = row
    return int(row)


@compiled(Real(WorkType, Whole, Whole, Whole, Whole, Whole))
def _touched(work: Work, face: int, a0: int, b0: int, a1: int, b1: int) -> float:
    """Return how much of a rectangle in a face touches something."""
    faces, area = work.faces, 0.0
    for row in range(work.first_face[face], work.first_face[face + 1]):
        a = min(a1, faces[row, 2]) - max(a0, faces[row, 0])
        b = min(b1, faces[row, 3]) - max(b0, faces[row, 1])
        if a > 0 and b > 0:
            area += float(a) * float(b)
    return area


@compiled(Whole(TaskType, I2, Whole, Whole))
def corner(task: Task, spaces: Ints, s: int, axis: int) -> int:
    """Return 1 if a space is filled from its upper end along an axis, else 0."""
    if axis == 2 and task.box[at.SUPPORT] != 0:
        return 0
    upper = task.box[axis] - spaces[s, axis + 3] < spaces[s, axis]
    return 1 if upper else 0


@compiled(Real(TaskType, SceneType, WorkType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _contact(
    task: Task, scene: Scene, work: Work, s: int, x: int, y: int, z: int, dx: int, dy: int, dz: int
) -> float:
    """Return the share of the surface of a block in a space that touches something."""
    spaces, near = scene.spaces, task.weights[at.NEAR]
    area = 0.0
    if x - spaces[s, at.X0] <= near * dx:
        area += _touched(work, 0, y, z, y + dy, z + dz)
    if spaces[s, at.X1] - x - dx <= near * dx:
        area += _touched(work, 1, y, z, y + dy, z + dz)
    if y - spaces[s, at.Y0] <= near * dy:
        area += _touched(work, 2, z, x, z + dz, x + dx)
    if spaces[s, at.Y1] - y - dy <= near * dy:
        area += _touched(work, 3, z, x, z + dz, x + dx)
    if z - spaces[s, at.Z0] <= near * dz:
        area += _touched(work, 4, x, y, x + dx, y + dy)
    if spaces[s, at.Z1] - z - dz <= near * dz:
        area += _touched(work, 5, x, y, x + dx, y + dy)
    length, width, height = float(dx), float(dy), float(dz)
    return area / (2.0 * (length * width + length * height + width * height))


@compiled(Flag(PoolType, SceneType, Whole))
def _available(pool: Pool, scene: Scene, block: int) -> bool:
    for n in range(pool.first_need[block], pool.first_need[block + 1]):
        if pool.needs[n, at.NEED_COUNT] > scene.left[pool.needs[n, at.NEED_KIND]]:
            return False
    return True


@compiled(Flag(TaskType, PoolType, SceneType, Whole, Whole, Whole, Whole))
def _held(task: Task, pool: Pool, scene: Scene, block: int, x: int, y: int, z: int) -> bool:
    """Whether each box at the bottom of a block is supported well enough."""
    placed = scene.placed
    for f in range(pool.first_foot[block], pool.first_foot[block + 1]):
        x0, x1 = x + pool.feet[f, 0], x + pool.feet[f, 2]
        y0, y1 = y + pool.feet[f, 1], y + pool.feet[f, 3]
        held = 0.0
        for p in range(scene.used[at.PLACED]):
            if placed[p, at.Z1] == z:
                dx = min(x1, placed[p, at.ON_X1]) - max(x0, placed[p, at.ON_X0])
                dy = min(y1, placed[p, at.ON_Y1]) - max(y0, placed[p, at.ON_Y0])
                if dx > 0 and dy > 0:
                    held += float(dx) * float(dy)
        if held * 100.0 < float(x1 - x0) * float(y1 - y0) * task.box[at.SUPPORT]:
            return False
    return True


@compiled(Whole(PoolType, Real))
def _first(pool: Pool, volume: float) -> int:
    """Return the first block whose worth is not above a volume."""
    low, high = 0, pool.worth.shape[0]
    while low < high:
        middle = (low + high) // 2
        if pool.worth[middle] > volume:
            low = middle + 1
        else:
            high = middle
    return low


@compiled(Whole(WorkType, Whole, Whole, Real, Whole))
def _insert(work: Work, count: int, want: int, score: float, block: int) -> int:
    """Insert a block into the best so far; return how many there are."""
    best, scores = work.best, work.scores
    i = min(count, want - 1)
    while i > 0 and scores[i - 1] < score:
        scores[i], best[i] = scores[i - 1], best[i - 1]
        i -= 1
    scores[i], best[i] = score, block
    return min(count + 1, want)


@compiled(Whole(TaskType, PoolType, SceneType, WorkType, Whole, Whole))
def rank(task: Task, pool: Pool, scene: Scene, work: Work, s: int, want: int) -> int:
    """Write the blocks with the highest scores for the corner of a space.

    Parameters
    ----------
    task, pool, scene, work
        Of these, `work.reach` must be up to date.
    s
        Row of the space.
    want
        How many blocks at most.

    Returns
    -------
    int
        How many there are, or `NO_ROOM`.
    """
    spaces, blocks, worth, reach, weights = (
        scene.spaces,
        pool.blocks,
        pool.worth,
        work.reach,
        task.weights,
    )
    if _touching(task, scene, work, s) == at.NO_ROOM:
        return at.NO_ROOM
    x0, y0, z0 = spaces[s, at.X0], spaces[s, at.Y0], spaces[s, at.Z0]
    x, y, z = spaces[s, at.X1] - x0, spaces[s, at.Y1] - y0, spaces[s, at.Z1] - z0
    far_x, far_y = corner(task, spaces, s, 0), corner(task, spaces, s, 1)
    far_z = corner(task, spaces, s, 2)
    volume, unit = float(x) * float(y) * float(z), task.box[at.UNIT]
    partly = 0 < task.box[at.SUPPORT] < 100 and z0 > 0
    count, floor = 0, 0.0
    for b in range(_first(pool, min(volume, weights[at.LARGEST])), worth.shape[0]):
        if worth[b] <= floor:
            break
        dx, dy, dz = blocks[b, at.SIZE_X], blocks[b, at.SIZE_Y], blocks[b, at.SIZE_Z]
        if dx > x or dy > y or dz > z:
            continue
        kept = (
            float(dx + reach[0, (x - dx) // unit])
            * float(dy + reach[1, (y - dy) // unit])
            * float(dz + reach[2, (z - dz) // unit])
            / volume
        )
        score = worth[b] * kept ** weights[at.REACH]
        if score <= floor or not _available(pool, scene, b):
            continue
        at_x, at_y, at_z = x0 + far_x * (x - dx), y0 + far_y * (y - dy), z0 + far_z * (z - dz)
        contact = _contact(task, scene, work, s, at_x, at_y, at_z, dx, dy, dz)
        score *= contact ** weights[at.CONTACT]
        if score <= floor or (partly and not _held(task, pool, scene, b, at_x, at_y, at_z)):
            continue
        count = _insert(work, count, want, score, b)
        if count == want:
            floor = work.scores[want - 1]
    return count
