"""Making blocks: copies of one kind of box, and joins of two blocks with hardly a gap.

General blocks: Fanslau, T., Bortfeldt, A. (2010), INFORMS Journal on Computing 22(2), 222-235.
"""

from numba import types

from packdown.packing.blocks import layout as at
from packdown.packing.kernels.block_types import Task, TaskType
from packdown.packing.kernels.compiled import I1, I2, Flag, Ints, Real, Whole, compiled

__all__ = ["copies", "joins"]

PRIME = 2_147_483_647


@compiled(Flag(I2, I2, I1, Whole))
def _is_new(blocks: Ints, counts: Ints, table: Ints, row: int) -> bool:
    """Whether no block before has the same size and contents; if so, it is put in the table."""
    key = 0
    for k in range(3):
        key = (key * 1_000_003 + blocks[row, k]) % PRIME
    for k in range(counts.shape[1]):
        key = (key * 31 + counts[row, k]) % PRIME
    slot = key % table.shape[0]
    while table[slot] >= 0:
        other, same = table[slot], True
        for k in range(3):
            same = same and blocks[other, k] == blocks[row, k]
        for k in range(counts.shape[1]):
            same = same and counts[other, k] == counts[row, k]
        if same:
            return False
        slot = (slot + 1) % table.shape[0]
    table[slot] = row
    return True


@compiled(types.void(I2, Whole, Whole, Whole, Whole, Whole, Whole))
def _made_of(parts: Ints, row: int, first: int, second: int, x: int, y: int, z: int) -> None:
    parts[row, at.FIRST], parts[row, at.SECOND] = first, second
    parts[row, at.SHIFT_X], parts[row, at.SHIFT_Y], parts[row, at.SHIFT_Z] = x, y, z


@compiled(types.void(I2, Whole, Whole, Whole, Whole, Whole))
def _top(blocks: Ints, row: int, x0: int, y0: int, x1: int, y1: int) -> None:
    blocks[row, at.TOP_X0], blocks[row, at.TOP_Y0] = x0, y0
    blocks[row, at.TOP_X1], blocks[row, at.TOP_Y1] = x1, y1


@compiled(Flag(Whole, Whole))
def _coarse(number: int, most: int) -> bool:
    """Whether a number is the most, or has few digits in base two."""
    odd = number
    while odd % 2 == 0:
        odd //= 2
    return odd <= 3 or number == most


@compiled(Whole(TaskType, I1, I2, I2, I2, I1, Whole, Whole, Whole))
def copies(
    task: Task,
    stock: Ints,
    blocks: Ints,
    counts: Ints,
    parts: Ints,
    table: Ints,
    lie: int,
    start: int,
    quota: int,
) -> int:
    """Append the blocks of two or more copies of a box that all lie the same way.

    Parameters
    ----------
    task, stock
        The container, and how many boxes there are of each kind.
    blocks, counts, parts, table
        The pool so far: blocks, their numbers of boxes of each kind, what they are made of, and
        the table of what is there.
    lie
        The way of lying; its single box is the block of the same row.
    start
        Number of blocks so far.
    quota
        Above this number of blocks, only some numbers of copies along an axis are taken.

    Returns
    -------
    int
        The new number of blocks, or `NO_ROOM`.
    """
    kind, end = task.lies[lie, at.LIE_KIND], start
    most_x = task.box[at.LENGTH] // blocks[lie, at.SIZE_X]
    most_y = task.box[at.WIDTH] // blocks[lie, at.SIZE_Y]
    most_z = task.box[at.HEIGHT] // blocks[lie, at.SIZE_Z]
    number = 0
    for x in range(1, most_x + 1):
        for y in range(1, min(most_y, stock[kind] // x) + 1):
            number += min(most_z, stock[kind] // (x * y))
    coarse = number > quota
    for x in range(1, most_x + 1):
        for y in range(1, min(most_y, stock[kind] // x) + 1):
            if coarse and not (_coarse(x, most_x) and _coarse(y, most_y)):
                continue
            tallest = min(most_z, stock[kind] // (x * y))
            for z in range(1, tallest + 1):
                if x * y * z == 1 or (coarse and not _coarse(z, tallest)):
                    continue
                if end == blocks.shape[0]:
                    return at.NO_ROOM
                for k in range(3):
                    blocks[end, k] = blocks[lie, k]
                for k in range(counts.shape[1]):
                    counts[end, k] = 0
                blocks[end, at.SIZE_X] *= x
                blocks[end, at.SIZE_Y] *= y
                blocks[end, at.SIZE_Z] *= z
                blocks[end, at.VOLUME] = blocks[lie, at.VOLUME] * x * y * z
                blocks[end, at.BOXES] = counts[end, kind] = x * y * z
                across = task.box[at.ACROSS]
                wide = blocks[end if across != 0 else lie, at.SIZE_X]
                deep = blocks[end if across != 0 else lie, at.SIZE_Y]
                _top(blocks, end, 0, 0, wide, deep)
                _made_of(parts, end, -1 - lie, -1, x, y, z)
                if _is_new(blocks, counts, table, end):
                    end += 1
    return end


@compiled(types.void(TaskType, I2, Whole, Whole, Whole, Whole))
def _side_top(task: Task, blocks: Ints, row: int, i: int, j: int, axis: int) -> None:
    """Write the largest rectangle on top of two blocks side by side."""
    dx = blocks[i, at.SIZE_X] if axis == 0 else 0
    dy = blocks[i, at.SIZE_Y] if axis == 1 else 0
    ax0, ay0 = blocks[i, at.TOP_X0], blocks[i, at.TOP_Y0]
    ax1, ay1 = blocks[i, at.TOP_X1], blocks[i, at.TOP_Y1]
    bx0, by0 = blocks[j, at.TOP_X0] + dx, blocks[j, at.TOP_Y0] + dy
    bx1, by1 = blocks[j, at.TOP_X1] + dx, blocks[j, at.TOP_Y1] + dy
    if blocks[i, at.SIZE_Z] < blocks[j, at.SIZE_Z]:
        _top(blocks, row, bx0, by0, bx1, by1)
        return
    _top(blocks, row, ax0, ay0, ax1, ay1)
    if blocks[i, at.SIZE_Z] > blocks[j, at.SIZE_Z]:
        return
    area = (ax1 - ax0) * (ay1 - ay0)
    if (bx1 - bx0) * (by1 - by0) > area:
        _top(blocks, row, bx0, by0, bx1, by1)
        area = (bx1 - bx0) * (by1 - by0)
    if task.box[at.ACROSS] == 0:
        return
    if axis == 0 and ax1 == bx0:
        low, high = max(ay0, by0), min(ay1, by1)
        if (bx1 - ax0) * (high - low) > area:
            _top(blocks, row, ax0, low, bx1, high)
    elif axis == 1 and ay1 == by0:
        low, high = max(ax0, bx0), min(ax1, bx1)
        if (by1 - ay0) * (high - low) > area:
            _top(blocks, row, low, ay0, high, by1)


@compiled(Flag(TaskType, I2, Whole, Whole, Whole, Real))
def _is_full(task: Task, blocks: Ints, i: int, j: int, axis: int, least: float) -> bool:
    """Whether the join of two blocks along an axis fits and is filled well enough."""
    a, b = (axis + 1) % 3, (axis + 2) % 3
    side = blocks[i, axis] + blocks[j, axis]
    if side > task.box[axis]:
        return False
    across = float(max(blocks[i, a], blocks[j, a])) * float(max(blocks[i, b], blocks[j, b]))
    return float(blocks[i, at.VOLUME] + blocks[j, at.VOLUME]) >= least * float(side) * across


@compiled(Flag(TaskType, I2, I2, Whole, Whole, Whole, Whole))
def _joined(task: Task, blocks: Ints, parts: Ints, row: int, i: int, j: int, axis: int) -> bool:
    """Write the join of two blocks along an axis; whether the second lies on the first."""
    for k in range(3):
        blocks[row, k] = max(blocks[i, k], blocks[j, k])
    blocks[row, axis] = blocks[i, axis] + blocks[j, axis]
    x, y, z = 0, 0, 0
    if axis < 2:
        x = blocks[i, at.SIZE_X] if axis == 0 else 0
        y = blocks[i, at.SIZE_Y] if axis == 1 else 0
        _side_top(task, blocks, row, i, j, axis)
    elif task.box[at.SUPPORT] == 0:
        z = blocks[i, at.SIZE_Z]
        _top(blocks, row, 0, 0, 0, 0)
    else:
        x, y, z = blocks[i, at.TOP_X0], blocks[i, at.TOP_Y0], blocks[i, at.SIZE_Z]
        right, back = x + blocks[j, at.SIZE_X], y + blocks[j, at.SIZE_Y]
        if right > blocks[i, at.TOP_X1] or back > blocks[i, at.TOP_Y1]:
            return False
        x1, y1 = x + blocks[j, at.TOP_X1], y + blocks[j, at.TOP_Y1]
        _top(blocks, row, x + blocks[j, at.TOP_X0], y + blocks[j, at.TOP_Y0], x1, y1)
    blocks[row, at.VOLUME] = blocks[i, at.VOLUME] + blocks[j, at.VOLUME]
    blocks[row, at.BOXES] = blocks[i, at.BOXES] + blocks[j, at.BOXES]
    _made_of(parts, row, i, j, x, y, z)
    return True


@compiled(Flag(I1, I2, Whole, Whole))
def _are_there(stock: Ints, counts: Ints, i: int, j: int) -> bool:
    """Whether there are enough boxes for two blocks."""
    enough = True
    for k in range(counts.shape[1]):
        enough = enough and counts[i, k] + counts[j, k] <= stock[k]
    return enough


@compiled(Whole(TaskType, I1, I2, I2, I2, I1, Whole, Whole, Real))
def joins(
    task: Task,
    stock: Ints,
    blocks: Ints,
    counts: Ints,
    parts: Ints,
    table: Ints,
    newest: int,
    count: int,
    least: float,
) -> int:
    """Append joins of the newest blocks, from row `newest` on, with all, until the pool is full.

    Parameters
    ----------
    task, stock, blocks, counts, parts, table
        As for `copies`.
    newest, count
        First row of the newest blocks, and the number of blocks so far.
    least
        Least share of a join that is filled.

    Returns
    -------
    int
        The new number of blocks.
    """
    end = count
    for i in range(count):
        for j in range(max(newest, i), count):
            for way in range(4):
                if way == 3 and task.box[at.SUPPORT] == 0:
                    continue
                axis = min(way, 2)
                if not _is_full(task, blocks, i, j, axis, least):
                    continue
                if not _are_there(stock, counts, i, j):
                    break
                if end == blocks.shape[0]:
                    return end
                under, over = (j, i) if way == 3 else (i, j)
                if not _joined(task, blocks, parts, end, under, over, axis):
                    continue
                for k in range(counts.shape[1]):
                    counts[end, k] = counts[i, k] + counts[j, k]
                if _is_new(blocks, counts, table, end):
                    end += 1
    return end
