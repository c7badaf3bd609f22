"""Cells of a floor plan: their names, and where a piece stands in those that it takes."""

from collections.abc import Sequence

from packdown.geometry import WayUp, rotate_vector

__all__ = ["cell_name", "cells_across", "offset", "touching_groups", "turned"]

NEAR_UM = 1_000
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
Rectangle = tuple[int, int, int, int]


def cell_name(column: int, row: int) -> str:
    """Return the name of a cell: letters count columns from the left, numbers rows from the front.

    >>> cell_name(0, 0), cell_name(27, 9)
    ('a1', 'ab10')
    """
    letters, rest = "", column + 1
    while rest:
        rest, letter = divmod(rest - 1, len(_LETTERS))
        letters = _LETTERS[letter] + letters
    return f"{letters}{row + 1}"


def cells_across(extent_um: int, cell_um: int) -> int:
    """Return how many cells something takes along one axis; an eighth of a cell more is let pass.

    >>> [cells_across(extent, 32_000) for extent in (16_000, 64_000, 66_000, 69_000)]
    [1, 2, 2, 3]
    """
    return max(1, -(-(extent_um - cell_um // 8) // cell_um))


def offset(extent_um: int, room_um: int, anchor: int) -> int:
    """Return how far from the lower edge of its cells a piece begins, along one axis.

    Parameters
    ----------
    extent_um
        Its extent.
    room_um
        The extent of its cells.
    anchor
        0 for the middle, 1 for inside against an edge, 2 for the middle of the piece on that edge;
        negative for the lower edge.

    Examples
    --------
    >>> [offset(10, 32, anchor) for anchor in (-2, -1, 0, 1, 2)]
    [-5, 0, 11, 22, 27]
    """
    if anchor == -1:
        return 0
    if anchor == 1:
        return room_um - extent_um
    twice_middle = {-2: 0, 0: room_um, 2: 2 * room_um}[anchor]
    return (twice_middle - extent_um) // 2


def turned(vector: tuple[int, int], turn: int) -> tuple[int, int]:
    """Turn a vector in plan anticlockwise."""
    return rotate_vector((*vector, 0), WayUp.UPRIGHT, turn)[:2]


def touching_groups(rectangles: Sequence[Rectangle]) -> list[list[int]]:
    """Group rectangles, as corner and size, that touch side by side or share area.

    >>> touching_groups([(0, 0, 9_000, 9_000), (20_000, 0, 9_000, 9_000), (9_000, 0, 5_000, 1)])
    [[0, 2], [1]]
    """
    groups: list[list[int]] = []
    left = list(range(len(rectangles)))
    while left:
        group = [left.pop(0)]
        for one in group:
            near = {two for two in left if _touch(rectangles[one], rectangles[two])}
            group.extend(sorted(near))
            left = [two for two in left if two not in near]
        groups.append(sorted(group))
    return groups


def _touch(a: Rectangle, b: Rectangle) -> bool:
    gap_x, gap_y = (max(a[k] - b[k] - b[k + 2], b[k] - a[k] - a[k + 2]) for k in range(2))
    return max(gap_x, gap_y) <= NEAR_UM and min(gap_x, gap_y) < 0
