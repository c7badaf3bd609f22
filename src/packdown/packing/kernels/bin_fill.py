"""One bin filled with boxes, one by one, each in the maximal empty space that suits it best."""

from numba import types

from packdown.packing.bins import layout as of
from packdown.packing.blocks import layout as at
from packdown.packing.kernels.bin_types import Bench, BenchType, Bins, BinsType
from packdown.packing.kernels.block_spaces import carve
from packdown.packing.kernels.block_types import Scene, SceneType, Task, TaskType
from packdown.packing.kernels.compiled import F1, Real, Reals, Whole, compiled

__all__ = ["fill_bin"]

NOWHERE = 1e300


@compiled(Real(TaskType, SceneType, Whole, Whole, Whole, Whole, Whole, F1))
def _score(
    task: Task, scene: Scene, s: int, dx: int, dy: int, dz: int, rule: int, whims: Reals
) -> float:
    """Score a space for a box, less is better; `NOWHERE` if it is too small."""
    box, spaces = task.box, scene.spaces
    sx = spaces[s, at.X1] - spaces[s, at.X0] - dx
    sy = spaces[s, at.Y1] - spaces[s, at.Y0] - dy
    sz = spaces[s, at.Z1] - spaces[s, at.Z0] - dz
    if sx < 0 or sy < 0 or sz < 0:
        return NOWHERE
    if rule == of.FAR:
        x = float(box[at.LENGTH] - spaces[s, at.X0] - dx)
        y = float(box[at.WIDTH] - spaces[s, at.Y0] - dy)
        z = float(box[at.HEIGHT] - spaces[s, at.Z0] - dz)
        return -(x * x + y * y + z * z)
    if rule == of.NEAR:
        return float(
            whims[0] * (spaces[s, at.X0] + dx)
            + whims[1] * (spaces[s, at.Y0] + dy)
            + whims[2] * (spaces[s, at.Z0] + dz)
        )
    if rule == of.SNUG:
        return float(min(sx, sy, sz) + 1e-3 * (sx + sy + sz))
    return float(sx + dx) * float(sy + dy) * float(sz + dz)


@compiled(types.void(TaskType, SceneType, BinsType, BenchType, Whole, Whole))
def _prepare(task: Task, scene: Scene, bins: Bins, bench: Bench, b: int, count: int) -> None:
    """Empty a bin; spaces narrower than anything that is left are not kept."""
    box, boxes, lies = task.box, bins.boxes, bins.lies
    for k in range(3):
        side = bins.bins[b, k]
        box[at.LENGTH + k], scene.spaces[0, at.X1 + k], scene.spaces[0, at.X0 + k] = side, side, 0
        least = side
        for o in range(count):
            if bench.into[o] == of.POOL:
                i = bench.order[o]
                for lie in range(boxes[i, of.FIRST_LIE], boxes[i, of.END_LIE]):
                    least = min(least, lies[lie, k])
        box[at.LEAST_X + k] = max(1, least)
    scene.used[at.SPACES], scene.used[at.PLACED] = 1, 0


@compiled(Whole(TaskType, SceneType, BenchType, Whole, Whole, Whole, Whole, Whole))
def _put(task: Task, scene: Scene, bench: Bench, o: int, s: int, dx: int, dy: int, dz: int) -> int:
    """Place a box in a space, against the wall of the bin where the space reaches it."""
    box, spaces, placed = task.box, scene.spaces, scene.placed
    x, y, z = spaces[s, at.X0], spaces[s, at.Y0], spaces[s, at.Z0]
    if x > 0 and spaces[s, at.X1] == box[at.LENGTH]:
        x = box[at.LENGTH] - dx
    if y > 0 and spaces[s, at.Y1] == box[at.WIDTH]:
        y = box[at.WIDTH] - dy
    if z > 0 and spaces[s, at.Z1] == box[at.HEIGHT] and box[at.SUPPORT] == 0:
        z = box[at.HEIGHT] - dz
    bench.corner[o, 0], bench.corner[o, 1], bench.corner[o, 2] = x, y, z
    p = scene.used[at.PLACED]
    placed[p, at.X0], placed[p, at.Y0], placed[p, at.Z0] = x, y, z
    placed[p, at.X1], placed[p, at.Y1], placed[p, at.Z1] = x + dx, y + dy, z + dz
    placed[p, at.ON_X0], placed[p, at.ON_Y0] = x, y
    placed[p, at.ON_X1], placed[p, at.ON_Y1] = x + dx, y + dy
    left = carve(task, scene, p)
    if left == at.NO_ROOM:
        return at.NO_ROOM
    scene.used[at.PLACED], scene.used[at.SPACES] = p + 1, left
    return int(left)


@compiled(Whole(TaskType, SceneType, BinsType, BenchType, Whole, Whole, Whole))
def fill_bin(
    task: Task, scene: Scene, bins: Bins, bench: Bench, b: int, count: int, rule: int
) -> int:
    """Fill a bin, in the order of the bench, with boxes that are in the pool.

    Parameters
    ----------
    task, scene
        Work space for one bin.
    bins
        The problem.
    bench
        Order of the boxes; receives which of them lie in this bin, and how.
    b, count, rule
        The bin, the number of boxes on the bench, and how spaces are chosen.

    Returns
    -------
    int
        1, or `NO_ROOM`.
    """
    boxes, lies = bins.boxes, bins.lies
    _prepare(task, scene, bins, bench, b, count)
    payload, left = bins.bins[b, of.PAYLOAD], 1
    for o in range(count):
        i = bench.order[o]
        if bench.into[o] != of.POOL or boxes[i, of.WEIGHT] > payload:
            continue
        best, space, how = NOWHERE, -1, -1
        for lie in range(boxes[i, of.FIRST_LIE], boxes[i, of.END_LIE]):
            for s in range(left):
                score = _score(
                    task, scene, s, lies[lie, 0], lies[lie, 1], lies[lie, 2], rule, bench.whims
                )
                if score < best:
                    best, space, how = score, s, lie
        if space < 0:
            continue
        left = _put(task, scene, bench, o, space, lies[how, 0], lies[how, 1], lies[how, 2])
        if left == at.NO_ROOM:
            return of.NO_ROOM
        bench.into[o], bench.lie[o] = b, how
        payload -= boxes[i, of.WEIGHT]
        if left == 0:
            break
    return 1
