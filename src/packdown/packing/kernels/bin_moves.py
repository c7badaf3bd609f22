"""Ruin and recreate on a few bins at a time, until what has no place has one.

Schrimpf, G., Schneider, J., Stamm-Wilbrandt, H., Dueck, G. (2000), Journal of Computational
Physics 159(2), 139-171.
"""

from math import log

from numba import types

from packdown.packing.bins import layout as of
from packdown.packing.kernels.bin_fill import fill_bin
from packdown.packing.kernels.bin_types import Bench, BenchType, Bins, BinsType, Hold, HoldType
from packdown.packing.kernels.block_types import Scene, SceneType, Task, TaskType
from packdown.packing.kernels.compiled import Real, Whole, compiled
from packdown.packing.kernels.draw import draw

__all__ = ["empty_pool"]

MOST_BINS = 6
"""Bins that are emptied at once, at most."""
MOST_BOXES = 200
"""No further bin is emptied once so many boxes are out."""
LOOSER = 0.1
"""By how much the sum of squared fills may fall where nothing else changes."""
DEARER = 1.01
"""How the price of what stays in the pool grows with every try."""
TOO_DEAR = 1e6


@compiled(Whole(BinsType, HoldType, BenchType))
def _choose(bins: Bins, hold: Hold, bench: Bench) -> int:
    """Choose bins to empty; return how many."""
    number = bins.bins.shape[0]
    for b in range(number):
        bench.chosen[b], bench.number[b], bench.held[b] = 0, 0, 0.0
    out = 0
    for i in range(hold.bin_of.shape[0]):
        b = hold.bin_of[i]
        if b == of.POOL:
            out += 1
        else:
            bench.number[b] += 1
            bench.held[b] += bins.volume[i]
    for b in range(number):
        inner = bins.bins
        bench.held[b] /= float(inner[b, 0]) * float(inner[b, 1]) * float(inner[b, 2])
    wanted = min(number, 1 + int(draw(bench.seed) * MOST_BINS))
    emptied = 0
    while emptied < wanted and (emptied == 0 or out < MOST_BOXES):
        b = int(draw(bench.seed) * number)
        if b < number and bench.chosen[b] == 0:
            bench.chosen[b] = 1
            out += bench.number[b]
            emptied += 1
    return emptied


@compiled(Real(BinsType, Whole, Whole))
def _measure(bins: Bins, i: int, by: int) -> float:
    """Return the logarithm of a length of a box: of an equal cube, its longest side, or all."""
    lie = bins.boxes[i, of.FIRST_LIE]
    x, y, z = float(bins.lies[lie, 0]), float(bins.lies[lie, 1]), float(bins.lies[lie, 2])
    if by == 0:
        return log(x * y * z) / 3.0
    if by == 1:
        return log(max(x, y, z))
    return log(x + y + z)


@compiled(Whole(BinsType, HoldType, BenchType))
def _line_up(bins: Bins, hold: Hold, bench: Bench) -> int:
    """Put all that is out on the bench, large things first but for whims; return how many."""
    toss = draw(bench.seed)
    spread = 0.1 if toss < 0.3 else 0.4 if toss < 0.65 else 1.0
    by = int(draw(bench.seed) * 3)
    lead = 1.0 if draw(bench.seed) < 0.5 else 0.0
    count = 0
    for i in range(hold.bin_of.shape[0]):
        b = hold.bin_of[i]
        if b != of.POOL and bench.chosen[b] == 0:
            continue
        key = -_measure(bins, i, by) - spread * (draw(bench.seed) - 0.5)
        if b == of.POOL:
            key -= lead
        place = count
        while place > 0 and bench.key[place - 1] > key:
            bench.key[place], bench.order[place] = bench.key[place - 1], bench.order[place - 1]
            place -= 1
        bench.key[place], bench.order[place] = key, i
        bench.into[count] = of.POOL
        count += 1
    return count


@compiled(types.void(HoldType, BenchType, Whole))
def _keep(hold: Hold, bench: Bench, count: int) -> None:
    """Take over what lies on the bench."""
    for o in range(count):
        i = bench.order[o]
        hold.bin_of[i], hold.lie_of[i] = bench.into[o], bench.lie[o]
        for k in range(3):
            hold.corner[i, k] = bench.corner[o, k]


@compiled(Whole(BinsType, HoldType, BenchType, Whole))
def _judge(bins: Bins, hold: Hold, bench: Bench, count: int) -> int:
    """Return whether the boxes on the bench lie better than before, or not much worse."""
    before, after, squares = 0.0, 0.0, 0.0
    for b in range(bins.bins.shape[0]):
        if bench.chosen[b] != 0:
            squares -= bench.held[b] * bench.held[b]
            bench.held[b] = 0.0
    for o in range(count):
        i = bench.order[o]
        cost = hold.price[i] * bins.volume[i]
        if hold.bin_of[i] == of.POOL:
            before += cost
        if bench.into[o] == of.POOL:
            after += cost
        else:
            bench.held[bench.into[o]] += bins.volume[i]
    for b in range(bins.bins.shape[0]):
        if bench.chosen[b] != 0:
            inner = bins.bins
            bench.held[b] /= float(inner[b, 0]) * float(inner[b, 1]) * float(inner[b, 2])
            squares += bench.held[b] * bench.held[b]
    if after < before:
        return 1
    return 1 if after == before and squares >= -LOOSER * draw(bench.seed) else 0


@compiled(types.void(HoldType, BenchType, Whole))
def _raise(hold: Hold, bench: Bench, count: int) -> None:
    """Raise the price of what was left in the pool."""
    dearest = 0.0
    for o in range(count):
        if bench.into[o] == of.POOL:
            hold.price[bench.order[o]] *= DEARER
            dearest = max(dearest, hold.price[bench.order[o]])
    if dearest > TOO_DEAR:
        for i in range(hold.price.shape[0]):
            hold.price[i] = max(1.0, hold.price[i] / TOO_DEAR)


@compiled(Whole(TaskType, SceneType, BinsType, HoldType, BenchType, Whole))
def empty_pool(task: Task, scene: Scene, bins: Bins, hold: Hold, bench: Bench, tries: int) -> int:
    """Empty some bins and fill them again, many times, so that less is left in the pool.

    Parameters
    ----------
    task, scene
        Work space for one bin.
    bins
        The problem.
    hold
        Where everything lies; is changed.
    bench
        Work space; its seed decides all that is random.
    tries
        How many times.

    Returns
    -------
    int
        1 once the pool is empty, 0 if it never was, or `NO_ROOM`.
    """
    for _ in range(tries):
        _choose(bins, hold, bench)
        for k in range(3):
            bench.whims[k] = draw(bench.seed)
        count = _line_up(bins, hold, bench)
        for b in range(bins.bins.shape[0]):
            if bench.chosen[b] != 0:
                rule = int(draw(bench.seed) * of.RULES)
                if fill_bin(task, scene, bins, bench, b, count, rule) == of.NO_ROOM:
                    return of.NO_ROOM
        left = 0
        for o in range(count):
            left += bench.into[o] == of.POOL
        if _judge(bins, hold, bench, count) == 1:
            _keep(hold, bench, count)
            if left == 0:
                return 1
        else:
            _raise(hold, bench, count)
    return 0
