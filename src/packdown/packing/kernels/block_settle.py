"""Blocks come apart: each box is placed under every rule, or left out."""

from packdown.packing import layout as at
from packdown.packing.kernels.compiled import (
    I2,
    Ints,
    Setup,
    SetupType,
    State,
    StateType,
    Whole,
    compiled,
)
from packdown.packing.kernels.fill import put

__all__ = ["settle"]


@compiled(Whole(SetupType, StateType, I2))
def settle(setup: Setup, state: State, rows: Ints) -> int:
    """Place items one by one into an empty container, and leave out what breaks a rule.

    Parameters
    ----------
    setup, state
        The construction; nothing lies in it yet.
    rows
        What is to be placed, in loading order; receives what is placed.

    Returns
    -------
    int
        The number of rows, or `NO_ROOM`.
    """
    count = 0
    for r in range(rows.shape[0]):
        kind, pose = rows[r, at.ROW_KIND], rows[r, at.ROW_POSE]
        weight = state.used[at.LOADED] + setup.kinds[kind, at.KIND_WEIGHT]
        if weight > setup.box[at.BOX_PAYLOAD]:
            continue
        x, y, z = rows[r, at.ROW_X], rows[r, at.ROW_Y], rows[r, at.ROW_Z]
        done = put(setup, state, kind, pose, x, y, z, setup.box[at.BOX_LENGTH])
        if done == at.NO_ROOM:
            return at.NO_ROOM
        if done == 1:
            for k in range(at.ROW_COLUMNS):
                rows[count, k] = rows[r, k]
            count += 1
    return count
