"""One construction as a pure function: kinds, a container, a recipe in; rows out."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packdown.packing import kernels
from packdown.packing import layout as at
from packdown.packing.kinds import Kinds
from packdown.packing.recipes import Recipe

__all__ = ["EMPTY", "Room", "Rows", "construct", "setup_of"]

Rows = NDArray[np.int64]
"""What lies in one container, a row an item: kind, pose, x, y and z, in loading order."""

EMPTY: Rows = np.zeros((0, at.ROW_COLUMNS), dtype=np.int64)


def construct(
    kinds: Kinds, container: int, available: NDArray[np.int64], recipe: Recipe, rows: Rows = EMPTY
) -> Rows:
    """Add to what lies in a container as much as finds a place.

    Parameters
    ----------
    kinds
        The problem.
    container
        Row of the container.
    available
        How many items of each kind may be added.
    recipe
        The order in which kinds are tried, and how places are scored.
    rows
        What lies in it already.
    """
    usable = np.where(kinds.fits[container], available, 0)
    order = recipe.order[usable[recipe.order] > 0]
    room = Room.for_(kinds, usable, rows)
    while True:
        answer = np.zeros((room.items, at.ROW_COLUMNS), dtype=np.int64)
        answer[: len(rows)] = rows
        count = kernels.fill(
            setup_of(kinds, container),
            room.state(),
            usable.copy(),
            order,
            answer,
            len(rows),
            recipe.weights,
            recipe.bias,
            np.zeros(4, np.int64),
            np.zeros(len(kinds.items), np.int64),
        )
        if count >= 0:
            return answer[:count]
        if count != at.NO_ROOM:
            raise AssertionError("what already lies in the container breaks a rule")
        room = room.enlarged()


def setup_of(kinds: Kinds, container: int) -> kernels.Setup:
    """Return what the compiled loops need to know of a problem and one container."""
    return kernels.Setup(
        kinds.kind_rows,
        kinds.pose_rows,
        kinds.cuboid_rows,
        kinds.anchor_rows,
        kinds.conflicts,
        kinds.boxes[container],
    )


@dataclass(frozen=True, slots=True)
class Room:
    """Rows of the work arrays. Items and cuboids are known; contacts and spaces are guessed."""

    items: int
    placed: int
    contacts: int
    spaces: int

    @classmethod
    def for_(cls, kinds: Kinds, usable: NDArray[np.int64], rows: Rows) -> "Room":
        """Return room for what lies there and all that may be added."""
        each = np.array([len(items[0].cuboids_um) for items in kinds.items], dtype=np.int64)
        placed = int(usable @ each + each[rows[:, at.ROW_KIND]].sum())
        items = int(usable.sum()) + len(rows)
        return cls(items, placed, 64 + 4 * placed, 1024)

    def enlarged(self) -> "Room":
        """Return more room for what is guessed."""
        return Room(self.items, self.placed, 4 * self.contacts, 4 * self.spaces)

    def state(self) -> kernels.State:
        """Return new work arrays."""
        return kernels.State(
            np.empty((self.items, at.PUT_COLUMNS), dtype=np.int64),
            np.empty((self.placed, at.CUBOID_COLUMNS), dtype=np.int64),
            np.empty((self.contacts, at.CONTACT_COLUMNS), dtype=np.int64),
            np.zeros((self.items, 3)),
            np.zeros((self.items, 3)),
            np.empty((self.spaces, at.SPACE_COLUMNS), dtype=np.int64),
            np.zeros(at.USED_COLUMNS, dtype=np.int64),
        )
