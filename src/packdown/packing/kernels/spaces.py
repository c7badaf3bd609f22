"""Free space of a container as maximal empty spaces that are open to the top.

Things are only ever lowered from above, so whatever is placed closes the column from its top to
the floor. A space is a rectangle in plan and the height from which it is free; every spot in
which a rectangle can be lowered to a height lies in one of them.

Maximal empty spaces: Lai, K. K., Chan, J. W. M. (1997), Computers & Industrial Engineering
32(1), 115-127.
"""

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

__all__ = ["cut"]

GONE = -1


@compiled(Whole(I2, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _keep(spaces: Ints, count: int, x0: int, y0: int, x1: int, y1: int, z: int, least: int) -> int:
    """Append a space that is wide enough for anything; return the new count or `NO_ROOM`."""
    if count == at.NO_ROOM or x1 - x0 < least or y1 - y0 < least:
        return count
    if count == spaces.shape[0]:
        return at.NO_ROOM
    spaces[count, at.X0], spaces[count, 1], spaces[count, 2] = x0, y0, x1
    spaces[count, 3], spaces[count, at.SPACE_Z] = y1, z
    return count + 1


@compiled(Whole(I2, Whole, Whole, Whole))
def _tidy(spaces: Ints, new: int, count: int, now: int) -> int:
    """Remove what is gone, and new spaces (from row `new` on) inside others; return the count.

    A space with a new one of the same floor inside it counts as new: there is more to rest on.
    """
    for i in range(new, count):
        spaces[i, at.SPACE_BORN] = now
    for i in range(new, count):
        for j in range(count):
            if j == i or spaces[j, at.SPACE_Z] == GONE:
                continue
            if (
                spaces[j, at.SPACE_Z] <= spaces[i, at.SPACE_Z]
                and spaces[j, 0] <= spaces[i, 0]
                and spaces[j, 1] <= spaces[i, 1]
                and spaces[j, 2] >= spaces[i, 2]
                and spaces[j, 3] >= spaces[i, 3]
            ):
                if spaces[j, at.SPACE_Z] == spaces[i, at.SPACE_Z]:
                    spaces[j, at.SPACE_BORN] = now
                spaces[i, at.SPACE_Z] = GONE
                break
    kept = 0
    for i in range(count):
        if spaces[i, at.SPACE_Z] != GONE:
            for k in range(at.SPACE_COLUMNS):
                spaces[kept, k] = spaces[i, k]
            kept += 1
    return kept


@compiled(Whole(SetupType, StateType, Whole, Whole))
def cut(setup: Setup, state: State, p: int, least: int) -> int:
    """Take the column of a placed cuboid out of all spaces.

    Parameters
    ----------
    setup, state
        The construction; its spaces are changed.
    p
        Row of the cuboid.
    least
        Spaces narrower than this are dropped: nothing fits them.

    Returns
    -------
    int
        The new number of spaces, or `NO_ROOM`.
    """
    spaces, placed, count = state.spaces, state.placed, state.used[at.SPACES]
    px0, py0 = placed[p, at.X0], placed[p, at.Y0]
    px1 = placed[p, at.X1] + setup.box[at.BOX_CLEARANCE]
    py1 = placed[p, at.Y1] + setup.box[at.BOX_CLEARANCE]
    top = placed[p, at.Z1] + setup.box[at.BOX_SHEET]
    end = count
    for i in range(count):
        x0, y0, x1, y1 = spaces[i, 0], spaces[i, 1], spaces[i, 2], spaces[i, 3]
        z = spaces[i, at.SPACE_Z]
        if z >= top or px0 >= x1 or x0 >= px1 or py0 >= y1 or y0 >= py1:
            continue
        spaces[i, at.SPACE_Z] = GONE
        end = _keep(spaces, end, x0, y0, px0, y1, z, least)
        end = _keep(spaces, end, px1, y0, x1, y1, z, least)
        end = _keep(spaces, end, x0, y0, x1, py0, z, least)
        end = _keep(spaces, end, x0, py1, x1, y1, z, least)
        if top < setup.box[at.BOX_HEIGHT]:
            end = _keep(spaces, end, x0, y0, x1, y1, top, least)
        if end == at.NO_ROOM:
            return at.NO_ROOM
    if end == count:
        return int(count)
    return _tidy(spaces, count, end, state.used[at.ITEMS])
