"""Boxes that were placed by a simpler view, placed once more under every rule."""

import numpy as np

from packdown.packing import kernels
from packdown.packing import layout as at
from packdown.packing.construct import Room, Rows, setup_of
from packdown.packing.kernels.settle import settle
from packdown.packing.kinds import Kinds

__all__ = ["settled"]

NO_WEIGHTS, NOTHING = np.zeros(at.WEIGHTS), np.zeros(0, np.int64)


def settled(kinds: Kinds, container: int, rows: Rows) -> Rows:
    """Return what of a fill keeps every rule, in loading order: what lies lowest first.

    Parameters
    ----------
    kinds
        The problem.
    container
        Row of the container.
    rows
        Boxes and where they lie, in any order.
    """
    rows = rows[np.lexsort((*rows.T[::-1], rows[:, at.ROW_Z]))]
    setup = setup_of(kinds, container)
    room = Room.for_(kinds, np.zeros(len(kinds.items), np.int64), rows)
    while True:
        state, kept = room.state(), rows.copy()
        _emptied(setup, state)
        count = settle(setup, state, kept)
        if count >= 0:
            return kept[:count]
        room = room.enlarged()


def _emptied(setup: kernels.Setup, state: kernels.State) -> None:
    """Make a state that of an empty container: a fill with nothing."""
    rows = np.zeros((0, at.ROW_COLUMNS), np.int64)
    best, failed = np.zeros(4, np.int64), np.zeros(len(setup.kinds), np.int64)
    kernels.fill(setup, state, NOTHING, NOTHING, rows, 0, NO_WEIGHTS, NO_WEIGHTS, best, failed)
