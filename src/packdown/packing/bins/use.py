"""When one container fewer is worth a try; the compiled loops are loaded only then."""

from collections.abc import Callable
from concurrent.futures import Executor
from random import Random
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.blocks.use import stackable
from packdown.packing.construct import Rows
from packdown.packing.kinds import Kinds

if TYPE_CHECKING:
    from packdown.packing.bins.elimination import Elimination

__all__ = ["Eliminations"]

TRIALS = 125
"""Trial fills that one round stands for."""
SHARE = 3
"""How much more work goes into rounds than into all else."""

Counts = NDArray[np.int64]


class Eliminations:
    """Rounds of elimination, for problems of nothing but boxes.

    Parameters
    ----------
    kinds
        The problem.
    threads, stop
        As for `Elimination.round`.
    draw
        Draws the seeds.
    """

    def __init__(
        self, kinds: Kinds, threads: Executor, stop: Callable[[], bool], draw: Random
    ) -> None:
        self.kinds = kinds
        self.threads, self.stop, self.draw = threads, stop, draw
        self.made = 0
        self.usable = bool(len(kinds.boxes) > 1 and stackable(kinds).all() and _alike(kinds))
        self.begun: tuple[int, int] | None = None
        self.search: Elimination | None = None

    def due(self, made: int) -> bool:
        """Whether a round is due, so many trials having been made, those of rounds included."""
        return self.usable and self.made <= SHARE * (made - self.made)

    def round(
        self, rows: dict[int, Rows], weakest: int | None, left: Counts
    ) -> dict[int, Rows] | None:
        """Search for places in containers; return what lies in each once all has a place.

        A search that did not end goes on as long as neither the number of containers nor of
        items without a place changes.

        Parameters
        ----------
        rows
            What lies in the containers in use.
        weakest
            The one to be emptied, or None if none is.
        left
            How many of each kind have no place.
        """
        from packdown.packing.bins.elimination import (  # noqa: PLC0415 - loads compiled loops
            Elimination,
        )

        self.made += TRIALS
        now = (len(rows), int(left.sum()))
        if self.search is None or now != self.begun:
            kept = {index: own for index, own in rows.items() if index != weakest}
            out = self.kinds.counts - sum(
                (np.bincount(own[:, at.ROW_KIND], minlength=len(left)) for own in kept.values()),
                np.zeros(len(left), np.int64),
            )
            self.begun, self.search = now, Elimination(self.kinds, kept, out, self.draw)
        return self.search.round(self.threads, self.stop)


def _alike(kinds: Kinds) -> bool:
    """Whether clearance, sheets and support are the same in every container."""
    columns = kinds.boxes[:, [at.BOX_CLEARANCE, at.BOX_SHEET, at.BOX_SUPPORT]]
    return bool((columns == columns[0]).all())
