"""When blocks are worth a try; the compiled loops are loaded only then."""

from collections.abc import Callable
from concurrent.futures import Executor
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.construct import EMPTY, Rows
from packdown.packing.kinds import Kinds

if TYPE_CHECKING:
    from packdown.packing.blocks.filling import BlockFills

__all__ = ["BlockTrials", "stackable"]

WORTH_BLOCKS = 60
"""With fewer boxes than this, blocks win nothing."""
MOST_PART = 0.5
"""Blocks are tried where boxes make up this share of what is left, and of the container."""
COMPLETIONS = 32
"""Greedy completions with blocks that count as one trial fill."""

Counts = NDArray[np.int64]


class BlockTrials:
    """Fills with blocks, for containers that boxes with copies may fill.

    Parameters
    ----------
    kinds
        The problem.
    inside
        Volume of each container.
    threads, stop
        As for `Beam`.
    """

    def __init__(
        self, kinds: Kinds, inside: list[int], threads: Executor, stop: Callable[[], bool]
    ) -> None:
        self.kinds, self.inside = kinds, inside
        self.threads, self.stop = threads, stop
        self.usable = stackable(kinds)
        self.fills: BlockFills | None = None

    def fill(self, container: int, load: Counts) -> tuple[Rows, int]:
        """Return a fill of an empty container, and how many trial fills it stands for.

        It is empty where blocks are not worth a try.
        """
        if self.stop() or not self._worth_it(container, load):
            return EMPTY, 0
        if self.fills is None:
            from packdown.packing.blocks.filling import (  # noqa: PLC0415 - loads compiled loops
                BlockFills,
            )

            self.fills = BlockFills(self.kinds, self.usable, self.threads, self.stop)
        rows, completions = self.fills.fill(container, load)
        return rows, -(-completions // COMPLETIONS)

    def _worth_it(self, container: int, load: Counts) -> bool:
        """Whether most of a load are boxes with copies, and enough for the container."""
        boxes = np.where(self.usable & self.kinds.fits[container], load, 0)
        volume, need = float(boxes @ self.kinds.need), float(load @ self.kinds.need)
        return bool(
            boxes.sum() >= max(WORTH_BLOCKS, 2 * np.count_nonzero(boxes))
            and volume >= MOST_PART * max(need, self.inside[container])
        )


def stackable(kinds: Kinds) -> NDArray[np.bool_]:
    """Return whether a kind is a box that no rule but support, clearance and payload is about."""
    rows = kinds.kind_rows
    steel = bool(kinds.boxes[:, at.BOX_STEEL].any())
    single = np.array([len(items[0].cuboids_um) == 1 for items in kinds.items], np.bool_)
    boxes: NDArray[np.bool_] = (
        single
        & ~kinds.frail
        & (rows[:, at.KIND_CARRY] < 0)
        & (rows[:, at.KIND_RANK] == at.LAST)
        & (rows[:, at.KIND_CLUSTER] < 0)
        & ~((rows[:, at.KIND_MAGNETS] != 0) & steel)
        & ~kinds.conflicts.any(axis=1)
    )
    return boxes
