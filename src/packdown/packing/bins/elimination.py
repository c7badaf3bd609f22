"""One container fewer: what lies in the weakest goes into the others, many at a time."""

from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

from packdown.packing import layout as rule
from packdown.packing.bins import layout as of
from packdown.packing.blocks import layout as at
from packdown.packing.construct import Rows
from packdown.packing.kernels.bin_moves import empty_pool
from packdown.packing.kernels.bin_types import Bench, Bins, Hold
from packdown.packing.kernels.block_types import Scene, Task
from packdown.packing.kinds import Kinds
from packdown.packing.settling import settled

__all__ = ["TRIES", "Elimination"]

STREAMS = 2
"""Searches side by side, as many with one thread as with two."""
TRIES = 250
"""Times in one round that each of them empties some containers and fills them again."""
ROWS = 1_024
"""First size of the work arrays; they grow when they are too small."""

Counts = NDArray[np.int64]


@dataclass(slots=True)
class _Stream:
    """One search: where everything lies, and its work space."""

    hold: Hold
    bench: Bench
    scene: Scene
    task: Task


class Elimination:
    """A search for places in some containers for everything that is to be packed.

    Parameters
    ----------
    kinds
        The problem: all boxes, as `stackable` says, and equal clearance and sheets everywhere.
    rows
        What lies in the containers that stay.
    out
        How many of each kind lie in none of them.
    draw
        Draws the seeds of the streams.
    """

    def __init__(self, kinds: Kinds, rows: dict[int, Rows], out: Counts, draw: Random) -> None:
        self.kinds, self.rows = kinds, rows
        self.containers = sorted(rows)
        self.size = ROWS
        self.bins, self.poses = _bins(kinds, self.containers, rows, out)
        held = [index for index in self.containers for _ in range(len(rows[index]))]
        self.streams = [self._stream(held, draw) for _ in range(STREAMS)]

    def round(self, threads: Executor, stop: Callable[[], bool]) -> dict[int, Rows] | None:
        """Search on for one round; return what then lies in each container, once all lies there.

        Parameters
        ----------
        threads
            Runs the streams side by side.
        stop
            Asked now and then; once true, the round ends.
        """
        emptied = list(threads.map(lambda stream: self._run(stream, stop), self.streams))
        for stream, found in zip(self.streams, emptied, strict=True):
            rows = self._rows(stream.hold) if found else None
            if rows is not None:
                return rows
        return None

    def _run(self, stream: _Stream, stop: Callable[[], bool]) -> bool:
        tries = 0
        while tries < TRIES and not stop():
            answer = empty_pool(stream.task, stream.scene, self.bins, stream.hold, stream.bench, 10)
            if answer == of.NO_ROOM:
                stream.scene = _scene(2 * len(stream.scene.spaces), len(self.bins.boxes))
                continue
            if answer == 1:
                return True
            tries += 10
        return False

    def _stream(self, held: list[int], draw: Random) -> _Stream:
        count, number = len(self.bins.boxes), len(self.containers)
        box = self.kinds.boxes[self.containers[0]]
        steady = int(box[rule.BOX_SUPPORT]) > 0
        across = int(box[rule.BOX_SUPPORT]) < 100 or int(box[rule.BOX_CLEARANCE]) == 0
        where = np.full(count, of.POOL, np.int64)
        where[: len(held)] = np.searchsorted(self.containers, held)
        none = np.zeros((0, at.LIE_COLUMNS), np.int64)
        task = np.array([0, 0, 0, 100 * steady, across, 1, 1, 1, 1], np.int64)
        return _Stream(
            Hold(
                where,
                np.full(count, of.UNMOVED, np.int64),
                np.zeros((count, 3), np.int64),
                np.ones(count),
            ),
            _bench(count, number, draw.randrange(1, 2**31 - 1)),
            _scene(self.size, count),
            Task(task, none, none[:, :3].copy(), np.zeros(at.WEIGHTS)),
        )

    def _rows(self, hold: Hold) -> dict[int, Rows] | None:
        """Return what lies in each container, or None if a rule allows it not."""
        apart = int(self.kinds.boxes[self.containers[0], rule.BOX_CLEARANCE])
        found = {}
        for b, index in enumerate(self.containers):
            inside = np.flatnonzero(hold.bin_of == b)
            lies = hold.lie_of[inside]
            if (lies == of.UNMOVED).all():
                found[index] = self.rows[index]
                continue
            rows = np.concatenate((self.poses[lies], hold.corner[inside] + (apart, apart, 0)), 1)
            found[index] = settled(self.kinds, index, rows)
            if len(found[index]) < len(rows):
                return None
        return found


def _bins(
    kinds: Kinds, containers: list[int], rows: dict[int, Rows], out: Counts
) -> tuple[Bins, NDArray[np.int64]]:
    """Return the problem in flat arrays, and the kind and pose of each way of lying.

    Boxes come in the order of containers and rows, then what lies in none.
    """
    apart, sheet = kinds.boxes[containers[0], [rule.BOX_CLEARANCE, rule.BOX_SHEET]].tolist()
    inside = kinds.boxes[containers][:, [0, 1, 2, rule.BOX_PAYLOAD]] + (-apart, -apart, sheet, 0)
    of_kind = [kind for index in containers for kind in rows[index][:, rule.ROW_KIND].tolist()]
    of_kind += np.repeat(np.arange(len(out)), out).tolist()
    poses: list[tuple[int, int]] = []
    first = []
    for kind, row in enumerate(kinds.kind_rows):
        first.append(len(poses))
        sizes = {
            tuple(kinds.pose_rows[pose, :3].tolist()): pose
            for pose in reversed(range(row[rule.KIND_FIRST], row[rule.KIND_END]))
        }
        poses += [(kind, pose) for pose in sorted(sizes.values())]
    first.append(len(poses))
    table = np.array(poses, np.int64)
    lies = kinds.pose_rows[table[:, 1], :3] + (apart, apart, sheet)
    weights = kinds.kind_rows[:, rule.KIND_WEIGHT]
    boxes = np.array([(first[k], first[k + 1], weights[k]) for k in of_kind], np.int64)
    volume = lies[boxes[:, of.FIRST_LIE]].astype(np.float64).prod(axis=1)
    as_c = np.ascontiguousarray
    return Bins(as_c(inside), boxes, as_c(lies), volume), table


def _bench(count: int, number: int, seed: int) -> Bench:
    return Bench(
        np.zeros(count, np.int64),
        np.zeros(count),
        np.zeros(count, np.int64),
        np.zeros(count, np.int64),
        np.zeros((count, 3), np.int64),
        np.zeros(number, np.int64),
        np.zeros(number, np.int64),
        np.zeros(number),
        np.zeros(3),
        np.array([seed], np.int64),
    )


def _scene(rows: int, count: int) -> Scene:
    return Scene(
        np.zeros((rows, at.SPACE_COLUMNS), np.int64),
        np.zeros((count, at.PUT_COLUMNS), np.int64),
        np.zeros(0, np.int64),
        np.zeros(at.USED_COLUMNS, np.int64),
    )
