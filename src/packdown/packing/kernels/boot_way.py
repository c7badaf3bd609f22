"""Ways into a load space: through the opening, past what is loaded, down to the place."""

from numba import types

from packdown.packing.kernels.boot_types import Boot, BootType, Stow, StowType
from packdown.packing.kernels.compiled import I1, Flag, Ints, Whole, compiled
from packdown.packing.loads import layout as at

__all__ = ["meets", "way_in"]


@compiled(Flag(I1, Whole, Whole, Whole, Whole, Whole, Whole))
def meets(row: Ints, x0: int, y0: int, z0: int, x1: int, y1: int, z1: int) -> bool:
    """Whether a cuboid shares volume with another."""
    beside = x0 >= row[3] or row[0] >= x1 or y0 >= row[4] or row[1] >= y1
    return not (beside or z0 >= row[5] or row[2] >= z1)


@compiled(Flag(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _is_free(
    boot: Boot, stow: Stow, count: int, x0: int, y0: int, z0: int, x1: int, y1: int, z1: int
) -> bool:
    """Whether nothing is in a cuboid."""
    for p in range(count):
        if meets(stow.placed[p], x0, y0, z0, x1, y1, z1):
            return False
    for p in range(boot.place[at.FIXED]):
        if meets(boot.blocked[p], x0, y0, z0, x1, y1, z1):
            return False
    return True


@compiled(Flag(BootType, StowType, Whole, Whole, Whole, Whole, Whole))
def _can_go(boot: Boot, stow: Stow, count: int, corners: int, dx: int, dy: int, dz: int) -> bool:
    """Whether a container can go along `path`, each step swept."""
    path = stow.path
    for k in range(corners - 1):
        x0, x1 = min(path[k, 0], path[k + 1, 0]), max(path[k, 0], path[k + 1, 0]) + dx
        y0, y1 = min(path[k, 1], path[k + 1, 1]), max(path[k, 1], path[k + 1, 1]) + dy
        z0, z1 = min(path[k, 2], path[k + 1, 2]), max(path[k, 2], path[k + 1, 2]) + dz
        if not _is_free(boot, stow, count, x0, y0, z0, x1, y1, z1):
            return False
    return True


@compiled(types.void(StowType, Whole, Whole, Whole, Whole))
def _corner(stow: Stow, row: int, x: int, y: int, z: int) -> None:
    stow.path[row, 0], stow.path[row, 1], stow.path[row, 2] = x, y, z


@compiled(types.void(StowType, Whole, Whole, Whole))
def _next(stow: Stow, row: int, axis: int, to: int) -> None:
    """Go on along one axis from the corner before."""
    for k in range(3):
        stow.path[row, k] = stow.path[row - 1, k]
    stow.path[row, axis] = to


@compiled(Whole(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _level(
    boot: Boot, stow: Stow, count: int, x: int, y: int, z: int, dx: int, dy: int, dz: int
) -> int:
    """Look for a way through a side or the back, lifted over what is in the way."""
    place, a = boot.place, boot.place[at.AXIS]
    b = 1 - a
    target = x if a == 0 else y
    side, goal = (dy, y) if a == 0 else (dx, x)
    depth = dx if a == 0 else dy
    lateral = min(max(goal, place[at.U0]), place[at.U1] - side)
    inside = place[a] - depth if place[at.HIGH] else 0
    outside = place[a] if place[at.HIGH] else -depth
    lowest, highest = max(z, place[at.V0]), place[at.V1] - dz
    if lateral < place[at.U0] or highest < lowest:
        return 0
    arches = boot.place[at.FIXED]
    for level in range(count + arches + 1):
        high = lowest
        if level > arches:
            high = stow.placed[level - arches - 1, at.Z1]
        elif level > 0:
            high = boot.blocked[level - 1, at.Z1]
        if high < lowest or high > highest:
            continue
        for first_in in range(2):
            _corner(stow, 0, x, y, high)
            stow.path[0, a], stow.path[0, b] = outside, lateral
            n = 1
            if first_in:
                _next(stow, 1, a, inside)
                n = 2
            if first_in:
                _next(stow, n, b, goal)
                _next(stow, n + 1, a, target)
            else:
                _next(stow, n, a, target)
                _next(stow, n + 1, b, goal)
            _next(stow, n + 2, 2, z)
            if _can_go(boot, stow, count, n + 3, dx, dy, dz):
                return n + 3
    return 0


@compiled(Whole(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def _above(
    boot: Boot, stow: Stow, count: int, x: int, y: int, z: int, dx: int, dy: int, dz: int
) -> int:
    """Look for a way through the top."""
    place = boot.place
    sx = min(max(x, place[at.U0]), place[at.U1] - dx)
    sy = min(max(y, place[at.V0]), place[at.V1] - dy)
    if sx < place[at.U0] or sy < place[at.V0]:
        return 0
    for kind in range(3):
        depth = place[at.SIZE_Z] - dz if kind == 2 else z
        first = 1 if kind == 1 else 0
        _corner(stow, 0, sx, sy, place[at.SIZE_Z])
        _next(stow, 1, 2, depth)
        _next(stow, 2, first, y if first else x)
        _next(stow, 3, 1 - first, x if first else y)
        _next(stow, 4, 2, z)
        if _can_go(boot, stow, count, 5, dx, dy, dz):
            return 5
    return 0


@compiled(Whole(BootType, StowType, Whole, Whole, Whole, Whole, Whole, Whole, Whole))
def way_in(
    boot: Boot, stow: Stow, count: int, x: int, y: int, z: int, dx: int, dy: int, dz: int
) -> int:
    """Look for a way to a place, past the first `count` that are loaded.

    Parameters
    ----------
    boot, stow
        The problem, and what is loaded; `path` receives the corners.
    count
        How many are loaded.
    x, y, z, dx, dy, dz
        Where the container is to be, and its size.

    Returns
    -------
    int
        Number of corners, 0 if no way was found.
    """
    if boot.place[at.AXIS] == 2:
        return int(_above(boot, stow, count, x, y, z, dx, dy, dz))
    return int(_level(boot, stow, count, x, y, z, dx, dy, dz))
