"""Placing blocks: one, a greedy completion, and the best next ones."""

from packdown.packing.blocks import layout as at
from packdown.packing.kernels.block_scores import corner, rank, reachable
from packdown.packing.kernels.block_spaces import carve, discard, next_space
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
from packdown.packing.kernels.compiled import I1, Ints, Whole, compiled

__all__ = ["complete", "expand", "follow", "try_all"]


@compiled(Whole(TaskType, PoolType, SceneType, Whole, Whole))
def _put(task: Task, pool: Pool, scene: Scene, block: int, s: int) -> int:
    """Place a block in the corner of a space; return 1 or `NO_ROOM`."""
    spaces, placed, blocks, used = scene.spaces, scene.placed, pool.blocks, scene.used
    p = used[at.PLACED]
    if p == placed.shape[0]:
        return at.NO_ROOM
    for axis in range(3):
        low, side = spaces[s, axis], blocks[block, axis]
        if corner(task, spaces, s, axis) == 1:
            low = spaces[s, axis + 3] - side
        placed[p, axis], placed[p, axis + 3] = low, low + side
    placed[p, at.ON_X0] = placed[p, at.X0] + blocks[block, at.TOP_X0]
    placed[p, at.ON_X1] = placed[p, at.X0] + blocks[block, at.TOP_X1]
    placed[p, at.ON_Y0] = placed[p, at.Y0] + blocks[block, at.TOP_Y0]
    placed[p, at.ON_Y1] = placed[p, at.Y0] + blocks[block, at.TOP_Y1]
    placed[p, at.PUT_BLOCK] = block
    for n in range(pool.first_need[block], pool.first_need[block + 1]):
        scene.left[pool.needs[n, at.NEED_KIND]] -= pool.needs[n, at.NEED_COUNT]
    used[at.PLACED] = p + 1
    used[at.FILLED] += blocks[block, at.VOLUME]
    count = carve(task, scene, p)
    if count == at.NO_ROOM:
        return at.NO_ROOM
    used[at.SPACES] = count
    return 1


@compiled(Whole(TaskType, PoolType, SceneType, WorkType, Whole))
def _branches(task: Task, pool: Pool, scene: Scene, work: Work, want: int) -> int:
    """Write the best blocks for the next space in which anything has a place.

    The space is the one that `next_space` gives.

    Returns
    -------
    int
        The number of blocks, 0 if nothing has a place any more, or `NO_ROOM`.
    """
    reachable(task, scene, work)
    while True:
        s = next_space(task, scene)
        if s < 0:
            return 0
        count = rank(task, pool, scene, work, s, want)
        if count != 0:
            return int(count)
        discard(scene, s)


@compiled(Whole(TaskType, PoolType, SceneType, WorkType))
def complete(task: Task, pool: Pool, scene: Scene, work: Work) -> int:
    """Place the best block again and again; return the volume in the end or `NO_ROOM`."""
    while True:
        count = _branches(task, pool, scene, work, 1)
        if count == 0:
            return int(scene.used[at.FILLED])
        if count < 0 or _put(task, pool, scene, work.best[0], next_space(task, scene)) < 0:
            return at.NO_ROOM


@compiled(Whole(SceneType, SceneType))
def _restore(node: Scene, scene: Scene) -> int:
    """Make a scene equal to a node; return 1 or `NO_ROOM`."""
    spaces, placed = node.used[at.SPACES], node.used[at.PLACED]
    if spaces > scene.spaces.shape[0] or placed > scene.placed.shape[0]:
        return at.NO_ROOM
    for i in range(spaces):
        for k in range(at.SPACE_COLUMNS):
            scene.spaces[i, k] = node.spaces[i, k]
    for i in range(placed):
        for k in range(at.PUT_COLUMNS):
            scene.placed[i, k] = node.placed[i, k]
    for k in range(node.left.shape[0]):
        scene.left[k] = node.left[k]
    for k in range(at.USED_COLUMNS):
        scene.used[k] = node.used[k]
    return 1


@compiled(Whole(TaskType, PoolType, SceneType, SceneType, WorkType, Whole))
def expand(task: Task, pool: Pool, node: Scene, scene: Scene, work: Work, want: int) -> int:
    """Write the best blocks for the next space of a node; the scene is the node without dead space.

    Returns
    -------
    int
        The number of blocks, 0 if nothing has a place any more, or `NO_ROOM`.
    """
    if _restore(node, scene) < 0:
        return at.NO_ROOM
    return int(_branches(task, pool, scene, work, want))


@compiled(Whole(TaskType, PoolType, SceneType, SceneType, Whole))
def follow(task: Task, pool: Pool, node: Scene, scene: Scene, block: int) -> int:
    """Make a scene of an expanded node and one more block; return 1 or `NO_ROOM`."""
    if _restore(node, scene) < 0:
        return at.NO_ROOM
    return int(_put(task, pool, scene, block, next_space(task, scene)))


@compiled(Whole(TaskType, PoolType, SceneType, SceneType, WorkType, I1, I1))
def try_all(
    task: Task, pool: Pool, node: Scene, scene: Scene, work: Work, blocks: Ints, volumes: Ints
) -> int:
    """Write the volume that each block leads to when the rest is filled greedily.

    Returns
    -------
    int
        1 or `NO_ROOM`.
    """
    for i in range(blocks.shape[0]):
        if follow(task, pool, node, scene, blocks[i]) < 0:
            return at.NO_ROOM
        volumes[i] = complete(task, pool, scene, work)
        if volumes[i] < 0:
            return at.NO_ROOM
    return 1
