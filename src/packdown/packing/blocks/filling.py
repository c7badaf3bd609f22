"""One container of a packing problem, filled with blocks and checked under every rule."""

from collections.abc import Callable
from concurrent.futures import Executor

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as rule
from packdown.packing.blocks import layout as at
from packdown.packing.blocks.beam import Beam
from packdown.packing.blocks.pool import Boxes, stock_of
from packdown.packing.construct import EMPTY, Rows
from packdown.packing.kinds import Kinds
from packdown.packing.settling import settled

__all__ = ["BlockFills"]

FIRST_EFFORT = 64
"""Greedy completions of the first fill; each time that it is asked for again, twice as many."""
STEADY_PERCENT = 75
"""With less support than this, boxes tip too often for blocks to be built on them."""

Ints = NDArray[np.int64]


class BlockFills:
    """Fills of single containers; asked for the same once more, it searches on.

    Parameters
    ----------
    kinds
        The problem.
    usable
        Whether boxes of a kind may be built into blocks.
    threads, stop
        As for `Beam`.
    """

    def __init__(
        self,
        kinds: Kinds,
        usable: NDArray[np.bool_],
        threads: Executor,
        stop: Callable[[], bool],
    ) -> None:
        self.kinds = kinds
        self.usable = usable
        self.threads, self.stop = threads, stop
        self.asked: tuple[object, ...] = ()
        self.effort = FIRST_EFFORT
        self.beam: Beam
        self.poses: list[int]

    def fill(self, container: int, left: Ints) -> tuple[Rows, int]:
        """Return a fill that keeps every rule, and how many greedy completions it took."""
        asked = (tuple(self.kinds.boxes[container].tolist()), tuple(left.tolist()))
        if asked != self.asked:
            self.asked, self.effort = asked, FIRST_EFFORT
            boxes, self.poses = self._boxes(container, left)
            if not boxes.lies:
                self.asked = ()
                return EMPTY, 0
            self.beam = Beam(stock_of(boxes), self.threads, self.stop)
        before = self.beam.completions
        self.beam.run(self.effort)
        self.effort *= 2
        return settled(self.kinds, container, self._rows(container)), self.beam.completions - before

    def _boxes(self, container: int, left: Ints) -> tuple[Boxes, list[int]]:
        """Return the boxes, grown by clearance and sheet, and the pose of each way of lying."""
        length, width, height, apart, sheet, support, *_ = self.kinds.boxes[container].tolist()
        usable = np.where(self.usable & self.kinds.fits[container], left, 0)
        inner = (length - apart, width - apart, height + sheet)
        poses: dict[tuple[int, int, int, int], int] = {}
        for kind in np.flatnonzero(usable).tolist():
            for pose in range(self.kinds.first_pose[kind], self.kinds.first_pose[kind + 1]):
                x, y, z = self.kinds.poses[pose].size
                lie = (kind, x + apart, y + apart, z + sheet)
                if all(side <= room for side, room in zip(lie[1:], inner, strict=True)):
                    poses.setdefault(lie, pose)
        boxes = Boxes(
            inner=inner,
            lies=tuple(poses),
            counts=usable,
            support_percent=max(support, STEADY_PERCENT),
            across=support < 100 or apart == 0,
        )
        return boxes, list(poses.values())

    def _rows(self, container: int) -> Rows:
        """Return the boxes of the best fill."""
        apart = int(self.kinds.boxes[container, rule.BOX_CLEARANCE])
        stock = self.beam.stock
        rows = [
            (int(stock.task.lies[lie, at.LIE_KIND]), self.poses[lie], x + apart, y + apart, z)
            for put in self.beam.best.placed.tolist()
            for lie, x, y, z in stock.boxes(put[at.PUT_BLOCK], *put[: at.Z0 + 1])
        ]
        return np.array(rows, np.int64).reshape(-1, rule.ROW_COLUMNS)
