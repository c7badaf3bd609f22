"""Boxes placed by a simpler view: each is lowered to where it rests, under every rule."""

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
from packdown.packing.kernels.rest import rest_height

__all__ = ["settle"]


@compiled(Whole(SetupType, StateType, I2))
def settle(setup: Setup, state: State, rows: Ints) -> int:
    """Lower items one by one into an empty container, and leave out what breaks a rule.

    Parameters
    ----------
    setup, state
        The construction; nothing lies in it yet.
    rows
        What is to be placed, in loading order; receives what is placed, where it came to rest.

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
        x, y = rows[r, at.ROW_X], rows[r, at.ROW_Y]
        z = rest_height(setup, state, pose, x, y, setup.box[at.BOX_HEIGHT])
        if z + setup.poses[pose, at.POSE_HEIGHT] > setup.box[at.BOX_HEIGHT]:
            continue
        done = put(setup, state, kind, pose, x, y, z, setup.box[at.BOX_LENGTH])
        if done == at.NO_ROOM:
            return at.NO_ROOM
        if done == 1:
            for k in range(at.ROW_COLUMNS):
                rows[count, k] = rows[r, k]
            rows[count, at.ROW_Z] = z
            count += 1
    return count
