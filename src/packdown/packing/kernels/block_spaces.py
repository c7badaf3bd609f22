"""Free space as maximal empty cuboids, and which of them is filled next.

Maximal empty spaces: Lai, K. K., Chan, J. W. M. (1997), Computers & Industrial Engineering
32(1), 115-127. With full support a space has a floor that is supported all over.
"""

from numba import types

from packdown.packing.blocks import layout as at
from packdown.packing.kernels.block_types import Scene, SceneType, Task, TaskType
from packdown.packing.kernels.compiled import I2, Flag, Ints, Whole, compiled

__all__ = ["carve", "discard", "next_space"]

GONE = -1


@compiled(Whole(TaskType, SceneType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _keep(
    task: Task, scene: Scene, count: int, x0: int, y0: int, z0: int, x1: int, y1: int, z1: int
) -> int:
    """Append a space unless it is too narrow; return the new count or `NO_ROOM`."""
    box, spaces = task.box, scene.spaces
    if count == at.NO_ROOM or x1 - x0 < box[at.LEAST_X]:
        return count
    if y1 - y0 < box[at.LEAST_Y] or z1 - z0 < box[at.LEAST_Z]:
        return count
    if count == spaces.shape[0]:
        return at.NO_ROOM
    spaces[count, at.X0], spaces[count, at.Y0], spaces[count, at.Z0] = x0, y0, z0
    spaces[count, at.X1], spaces[count, at.Y1], spaces[count, at.Z1] = x1, y1, z1
    return count + 1


@compiled(Flag(I2, Whole, Whole))
def _within(spaces: Ints, inner: int, outer: int) -> bool:
    return bool(
        spaces[outer, at.X0] <= spaces[inner, at.X0]
        and spaces[outer, at.Y0] <= spaces[inner, at.Y0]
        and spaces[outer, at.Z0] <= spaces[inner, at.Z0]
        and spaces[outer, at.X1] >= spaces[inner, at.X1]
        and spaces[outer, at.Y1] >= spaces[inner, at.Y1]
        and spaces[outer, at.Z1] >= spaces[inner, at.Z1]
    )


@compiled(types.void(I2, Whole, Whole))
def _copy(spaces: Ints, source: int, target: int) -> None:
    for k in range(at.SPACE_COLUMNS):
        spaces[target, k] = spaces[source, k]


@compiled(Whole(I2, Whole, Whole))
def _close(spaces: Ints, start: int, count: int) -> int:
    """Close the gaps left by what is gone, from row `start` on; return the new count."""
    kept = start
    for i in range(start, count):
        if spaces[i, at.X1] != GONE:
            _copy(spaces, i, kept)
            kept += 1
    return kept


@compiled(Whole(I2, Whole, Whole))
def _tidy(spaces: Ints, first: int, count: int) -> int:
    """Remove spaces from row `first` on that lie inside others; return the new count."""
    for i in range(first, count):
        for j in range(count):
            if j != i and spaces[j, at.X1] != GONE and _within(spaces, i, j):
                spaces[i, at.X1] = GONE
                break
    return int(_close(spaces, first, count))


@compiled(Whole(TaskType, SceneType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _keep_new(
    task: Task, scene: Scene, count: int, x0: int, y0: int, z0: int, x1: int, y1: int, z1: int
) -> int:
    """Append a space unless it is too narrow or within another; return as `_keep`."""
    end = _keep(task, scene, count, x0, y0, z0, x1, y1, z1)
    if end == count + 1:
        for i in range(count):
            if _within(scene.spaces, count, i):
                return count
    return int(end)


@compiled(Whole(TaskType, SceneType, Whole, Whole, Whole))
def _join(task: Task, scene: Scene, i: int, j: int, count: int) -> int:
    """Append what two spaces with floors at one height have together, if it is more than each."""
    s = scene.spaces
    z0, z1 = s[i, at.Z0], min(s[i, at.Z1], s[j, at.Z1])
    x0, x1 = max(s[i, at.X0], s[j, at.X0]), min(s[i, at.X1], s[j, at.X1])
    y0, y1 = max(s[i, at.Y0], s[j, at.Y0]), min(s[i, at.Y1], s[j, at.Y1])
    if x0 > x1 or y0 > y1:
        return count
    left, right = min(s[i, at.X0], s[j, at.X0]), max(s[i, at.X1], s[j, at.X1])
    front, back = min(s[i, at.Y0], s[j, at.Y0]), max(s[i, at.Y1], s[j, at.Y1])
    count = _keep_new(task, scene, count, left, y0, z0, right, y1, z1)
    return int(_keep_new(task, scene, count, x0, front, z0, x1, back, z1))


@compiled(Whole(TaskType, SceneType, Whole, Whole))
def _join_all(task: Task, scene: Scene, first: int, count: int) -> int:
    """Join spaces from row `first` on with all at the same height, until nothing is new."""
    spaces = scene.spaces
    i = first
    while i < count:
        for j in range(i):
            if spaces[j, at.Z0] == spaces[i, at.Z0]:
                count = _join(task, scene, i, j, count)
                if count == at.NO_ROOM:
                    return at.NO_ROOM
        i += 1
    return int(_tidy(spaces, 0, count))


@compiled(Whole(TaskType, SceneType, Whole))
def carve(task: Task, scene: Scene, p: int) -> int:
    """Take a placed block out of all free spaces.

    Parameters
    ----------
    task, scene
        The container; its spaces are changed.
    p
        Row of the block.

    Returns
    -------
    int
        The new number of spaces, or `NO_ROOM`.
    """
    spaces, placed, count = scene.spaces, scene.placed, scene.used[at.SPACES]
    supported = task.box[at.SUPPORT] == 100
    px0, py0, pz0 = placed[p, at.X0], placed[p, at.Y0], placed[p, at.Z0]
    px1, py1, pz1 = placed[p, at.X1], placed[p, at.Y1], placed[p, at.Z1]
    end = count
    for i in range(count):
        x0, y0, z0 = spaces[i, at.X0], spaces[i, at.Y0], spaces[i, at.Z0]
        x1, y1, z1 = spaces[i, at.X1], spaces[i, at.Y1], spaces[i, at.Z1]
        if px0 >= x1 or x0 >= px1 or py0 >= y1 or y0 >= py1 or pz0 >= z1 or z0 >= pz1:
            continue
        spaces[i, at.X1] = GONE
        end = _keep(task, scene, end, x0, y0, z0, px0, y1, z1)
        end = _keep(task, scene, end, px1, y0, z0, x1, y1, z1)
        end = _keep(task, scene, end, x0, y0, z0, x1, py0, z1)
        end = _keep(task, scene, end, x0, py1, z0, x1, y1, z1)
        if supported:
            end = _keep(
                task,
                scene,
                end,
                max(x0, placed[p, at.ON_X0]),
                max(y0, placed[p, at.ON_Y0]),
                pz1,
                min(x1, placed[p, at.ON_X1]),
                min(y1, placed[p, at.ON_Y1]),
                z1,
            )
        else:
            end = _keep(task, scene, end, x0, y0, z0, x1, y1, pz0)
            end = _keep(task, scene, end, x0, y0, pz1, x1, y1, z1)
        if end == at.NO_ROOM:
            return at.NO_ROOM
    old = _close(spaces, 0, count)
    new = old
    for i in range(count, end):
        _copy(spaces, i, new)
        new += 1
    end = _tidy(spaces, old, new)
    if supported and task.box[at.ACROSS] != 0:
        return int(_join_all(task, scene, old, end))
    return int(end)


@compiled(Flag(TaskType, SceneType, Whole))
def _has_room(task: Task, scene: Scene, s: int) -> bool:
    """Whether any box that is left fits a space."""
    lies, spaces, left = task.lies, scene.spaces, scene.left
    x, y = spaces[s, at.X1] - spaces[s, at.X0], spaces[s, at.Y1] - spaces[s, at.Y0]
    z = spaces[s, at.Z1] - spaces[s, at.Z0]
    for i in range(lies.shape[0]):
        if (
            lies[i, at.LIE_LENGTH] <= x
            and lies[i, at.LIE_WIDTH] <= y
            and lies[i, at.LIE_HEIGHT] <= z
            and left[lies[i, at.LIE_KIND]] > 0
        ):
            return True
    return False


@compiled(types.void(SceneType, Whole))
def discard(scene: Scene, s: int) -> None:
    """Remove one space."""
    scene.used[at.SPACES] -= 1
    _copy(scene.spaces, scene.used[at.SPACES], s)


@compiled(Whole(TaskType, SceneType))
def next_space(task: Task, scene: Scene) -> int:
    """Return the space nearest to a corner of the container, or -1; the roomier of two.

    Spaces in which nothing that is left has room are removed on the way.
    """
    spaces, box = scene.spaces, task.box
    while True:
        best, least, most = -1, 0, 0
        for i in range(scene.used[at.SPACES]):
            x = min(spaces[i, at.X0], box[at.LENGTH] - spaces[i, at.X1])
            y = min(spaces[i, at.Y0], box[at.WIDTH] - spaces[i, at.Y1])
            z = spaces[i, at.Z0]
            if box[at.SUPPORT] == 0:
                z = min(z, box[at.HEIGHT] - spaces[i, at.Z1])
            far = x + y + z
            if best >= 0 and far > least:
                continue
            volume = (
                (spaces[i, at.X1] - spaces[i, at.X0])
                * (spaces[i, at.Y1] - spaces[i, at.Y0])
                * (spaces[i, at.Z1] - spaces[i, at.Z0])
            )
            if best < 0 or far < least or volume > most:
                best, least, most = i, far, volume
        if best < 0 or _has_room(task, scene, best):
            return int(best)
        discard(scene, best)
