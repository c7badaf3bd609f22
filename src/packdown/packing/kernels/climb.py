"""Many constructions in a row, each a small change of the best so far."""

from packdown.packing import layout as at
from packdown.packing.kernels.compiled import (
    F1,
    I1,
    I2,
    Ints,
    Real,
    Reals,
    Setup,
    SetupType,
    State,
    StateType,
    Whole,
    compiled,
)
from packdown.packing.kernels.draw import draw
from packdown.packing.kernels.fill import fill

__all__ = ["climb"]

MOVED, TURNED, ANEW = 0.6, 0.6, 0.2
"""How often a kind is tried at another time, lies in another way, or all places score anew."""


@compiled(Whole(I1, I1))
def _copy(source: Ints, target: Ints) -> int:
    for place in range(source.shape[0]):
        target[place] = source[place]
    return 1


@compiled(Whole(F1, F1))
def _copy_reals(source: Reals, target: Reals) -> int:
    for place in range(source.shape[0]):
        target[place] = source[place]
    return 1


@compiled(Whole(I1, Whole))
def _pick(seed: Ints, count: int) -> int:
    """Return a whole number from 0 up to a count."""
    return min(count - 1, int(draw(seed) * count))


@compiled(Whole(I1, I1))
def _move(order: Ints, seed: Ints) -> int:
    """Take one kind out of the order and put it elsewhere."""
    start, end = _pick(seed, order.shape[0]), _pick(seed, order.shape[0])
    kind, step = order[start], 1 if end > start else -1
    for place in range(start, end, step):
        order[place] = order[place + step]
    order[end] = kind
    return 1


@compiled(Whole(SetupType, I1, F1, I1, Whole))
def _turn(setup: Setup, ways: Ints, bias: Reals, seed: Ints, kind: int) -> int:
    """Draw anew how a kind would rather lie, and against which corners; turns may count alike."""
    first, end = setup.kinds[kind, at.KIND_FIRST], setup.kinds[kind, at.KIND_END]
    alike, count = draw(seed) < 0.5, setup.poses.shape[0]
    for pose in range(first, end):
        bias[pose] = draw(seed)
        if alike and pose > first and ways[pose] == ways[pose - 1]:
            bias[pose] = bias[pose - 1]
        for corner in range(4):
            bias[count + 4 * pose + corner] = draw(seed)
    return 1


@compiled(Whole(F1, I1))
def _score_anew(weights: Reals, seed: Ints) -> int:
    """Draw the weights of places anew."""
    weights[at.BOTTOM], weights[at.TOP] = draw(seed), 0.2 + 0.8 * draw(seed)
    weights[at.SLACK] = draw(seed) ** 3
    weights[at.REST] = 0.1 + 0.9 * draw(seed) ** 2
    weights[at.CORNER] = 0.2 * draw(seed) ** 2
    weights[at.FOOTPRINT] = 0.6 * draw(seed) - 0.3
    weights[at.OF_POSE] = 5.0 * draw(seed) ** 3
    weights[at.DEEP] = 1.0 if draw(seed) < 0.5 else 0.0
    weights[at.OF_CORNER] = 5.0 * draw(seed) ** 3
    return 1


@compiled(Real(I2, Whole, F1))
def _worth(rows: Ints, count: int, prices: Reals) -> float:
    total = 0.0
    for r in range(count):
        total += prices[rows[r, at.ROW_KIND]]
    return total


@compiled(
    Whole(
        SetupType, StateType, I1, I1, F1, I1, I1, F1, F1, I1, F1, F1, I2, I2, I1, I1, I1, F1, Whole
    )
)
def climb(
    setup: Setup,
    state: State,
    ways: Ints,
    load: Ints,
    prices: Reals,
    seed: Ints,
    order: Ints,
    weights: Reals,
    bias: Reals,
    new_order: Ints,
    new_weights: Reals,
    new_bias: Reals,
    rows: Ints,
    best_rows: Ints,
    available: Ints,
    best: Ints,
    failed: Ints,
    worth: Reals,
    tries: int,
) -> int:
    """Fill an empty container again and again, and keep the recipe that is worth most.

    Parameters
    ----------
    setup, state
        The construction, and its work arrays.
    ways
        For each pose a number that poses of one kind that are the same way up share.
    load, prices
        How many items there are of each kind, and what one is worth.
    seed
        One number that decides all that is random; changed.
    order, weights, bias
        The recipe to begin with; receives the best. Later ones win among equals.
    new_order, new_weights, new_bias, rows, available, best, failed
        Work space.
    best_rows
        Receives the best fill, if one is worth as much as was known.
    worth
        One number: what the recipe is known to be worth, or less than 0; receives the best.
    tries
        How many constructions to make at most; the last is the one that takes everything.

    Returns
    -------
    int
        The number of rows of the best fill, 0 if none was worth enough, `NO_ROOM` or `BROKEN`.
    """
    kept, total, moved = 0, 0, MOVED
    for kind in range(load.shape[0]):
        total += load[kind]
        if setup.kinds[kind, at.KIND_CLUSTER] >= 0:
            moved = 0.0
    for _ in range(tries):
        _copy(order, new_order)
        _copy_reals(weights, new_weights)
        _copy_reals(bias, new_bias)
        if worth[0] < 0.0 or draw(seed) < ANEW:
            _score_anew(new_weights, seed)
        if draw(seed) < moved:
            _move(new_order, seed)
        if draw(seed) < TURNED:
            _turn(setup, ways, new_bias, seed, new_order[_pick(seed, new_order.shape[0])])
        _copy(load, available)
        best[:] = 0
        count = fill(
            setup, state, available, new_order, rows, 0, new_weights, new_bias, best, failed
        )
        if count < 0:
            return count
        found = _worth(rows, count, prices)
        if found >= worth[0]:
            worth[0], kept = found, count
            _copy(new_order, order)
            _copy_reals(new_weights, weights)
            _copy_reals(new_bias, bias)
            for r in range(count):
                _copy(rows[r], best_rows[r])
        if kept == total:
            return kept
    return kept
