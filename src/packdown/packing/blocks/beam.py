"""Beam search over blocks: every node is worth what a greedy completion of it reaches."""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field
from math import ceil

import numpy as np
from numpy.typing import NDArray

from packdown.packing.blocks import layout as at
from packdown.packing.blocks.pool import Stock
from packdown.packing.kernels.block_fill import complete, expand, follow, try_all
from packdown.packing.kernels.block_types import Scene, Work

__all__ = ["Beam"]

THREADS = 2
STYLES = ((4.0, 1.0, 0.04, 1.0), (4.0, 1.0, 0.04, 0.1))
"""Exponents of contact and reach, how near counts as touching (as a share of the side), and the
highest worth of a block (as a share of the container): now the largest first, now not too large."""
Ints = NDArray[np.int64]


class _TooSmallError(Exception):
    """A work array overflowed."""


@dataclass(slots=True)
class _Desk:
    """The work arrays of one thread."""

    scene: Scene
    work: Work

    @classmethod
    def for_(cls, stock: Stock, rows: int) -> "_Desk":
        reach = max(stock.task.box[:3]) // stock.task.box[at.UNIT] + 1
        scene = Scene(
            np.zeros((rows, at.SPACE_COLUMNS), np.int64),
            np.zeros((rows, at.PUT_COLUMNS), np.int64),
            stock.counts.copy(),
            np.zeros(at.USED_COLUMNS, np.int64),
        )
        work = Work(
            np.zeros((3, reach), np.int64),
            np.zeros(reach // 32 + 1, np.int64),
            np.zeros((8 * rows, 4), np.int64),
            np.zeros(7, np.int64),
            np.zeros(rows, np.int64),
            np.zeros(rows),
        )
        return cls(scene, work)

    def node(self) -> Scene:
        """Return a copy of the rows in use."""
        spaces, placed, left, used = self.scene
        return Scene(
            spaces[: used[at.SPACES]].copy(),
            placed[: used[at.PLACED]].copy(),
            left.copy(),
            used.copy(),
        )


@dataclass(slots=True)
class Beam:
    """One search for the best fill of one container.

    Parameters
    ----------
    stock
        Container and blocks.
    threads
        Runs completions side by side.
    stop
        Asked between batches of completions.
    rows
        First size of the work arrays; they grow when they are too small.
    """

    stock: Stock
    threads: Executor
    stop: Callable[[], bool]
    rows: int = 1_024
    desks: list[_Desk] = field(init=False)
    best: Scene = field(init=False)
    completions: int = field(init=False, default=0)
    searches: int = field(init=False, default=0)
    narrow: int = field(init=False, default=0)

    def __post_init__(self) -> None:
        self._grow(self.rows)
        self.best = self._root()

    def run(self, effort: int) -> Scene:
        """Return the best fill; the first greedy completion always finishes.

        Parameters
        ----------
        effort
            Greedy completions, those of earlier runs included, after which no further search is
            begun; each search takes about twice the work of the one before.
        """
        while not self._done() and not self.exhausted and self.completions < effort:
            style = self.searches % len(STYLES)
            try:
                wider = self._search(ceil(2 ** (self.searches // len(STYLES) / 2)), STYLES[style])
            except _TooSmallError:
                self._grow(2 * self.rows)
                continue
            self.searches += 1
            self.narrow = 0 if wider else self.narrow + 1
        return self.best

    @property
    def exhausted(self) -> bool:
        """Whether a wider search in no style could find anything else."""
        return self.narrow >= len(STYLES)

    def _grow(self, rows: int) -> None:
        self.rows = rows
        self.desks = [_Desk.for_(self.stock, rows) for _ in range(THREADS)]

    def _root(self) -> Scene:
        box = self.stock.task.box
        return Scene(
            np.array([[0, 0, 0, *box[:3]]], np.int64),
            np.zeros((0, at.PUT_COLUMNS), np.int64),
            self.stock.counts.copy(),
            np.array([1, 0, 0], np.int64),
        )

    def _done(self) -> bool:
        return not self.best.left.any() or (self.completions > 0 and self.stop())

    def _search(self, width: int, style: Sequence[float]) -> bool:
        """Run one beam search; return whether a wider one could be another."""
        room = float(np.prod(self.stock.task.box[: at.HEIGHT + 1].astype(np.float64)))
        self.stock.task.weights[:] = (*style[: at.LARGEST], style[at.LARGEST] * room)
        beam, cramped = [self._root()], False
        while beam and not self._done():
            nodes, blocks = self._expanded(beam, width)
            if not nodes:
                break
            volumes = self._tried(nodes, blocks)
            ranked = sorted(
                ((volume, n, b) for n, own in enumerate(volumes) for b, volume in enumerate(own)),
                key=lambda found: (-found[0], found[1], found[2]),
            )
            self._note(nodes, blocks, ranked[0])
            chosen = list({volume: (n, b) for volume, n, b in reversed(ranked)}.values())[::-1]
            cramped = cramped or len(ranked) > width or max(map(len, blocks)) == width
            beam = [self._followed(nodes[n], blocks[n][b]) for n, b in chosen[:width]]
        return cramped

    def _expanded(self, beam: Sequence[Scene], width: int) -> tuple[list[Scene], list[Ints]]:
        nodes, blocks = [], []
        desk = self.desks[0]
        for scene in beam:
            count = _checked(
                expand(self.stock.task, self.stock.pool, scene, desk.scene, desk.work, width)
            )
            if count:
                nodes.append(desk.node())
                blocks.append(desk.work.best[:count].copy())
        return nodes, blocks

    def _tried(self, nodes: Sequence[Scene], blocks: Sequence[Ints]) -> list[Ints]:
        """Return the volume that each block of each node leads to, 0 where it was not tried."""
        volumes = [np.zeros(len(own), np.int64) for own in blocks]
        batches = iter(
            [
                (nodes[n], blocks[n][b : b + 4], volumes[n][b : b + 4])
                for n in range(len(nodes))
                for b in range(0, len(blocks[n]), 4)
            ]
        )
        list(self.threads.map(lambda desk: self._try(desk, batches), self.desks))
        self.completions += sum(int(np.count_nonzero(own)) for own in volumes)
        return volumes

    def _try(self, desk: _Desk, batches: Iterator[tuple[Scene, Ints, Ints]]) -> None:
        for node, blocks, volumes in batches:
            if self.completions > 0 and self.stop():
                return
            _checked(
                try_all(
                    self.stock.task, self.stock.pool, node, desk.scene, desk.work, blocks, volumes
                )
            )

    def _note(
        self, nodes: Sequence[Scene], blocks: Sequence[Ints], found: tuple[int, int, int]
    ) -> None:
        """Keep the best of all completions, which is made once more."""
        volume, n, b = found
        if volume <= self.best.used[at.FILLED]:
            return
        desk = self.desks[0]
        self._followed(nodes[n], blocks[n][b])
        _checked(complete(self.stock.task, self.stock.pool, desk.scene, desk.work))
        self.best = desk.node()

    def _followed(self, node: Scene, block: int) -> Scene:
        desk = self.desks[0]
        _checked(follow(self.stock.task, self.stock.pool, node, desk.scene, int(block)))
        return desk.node()


def _checked(answer: int) -> int:
    if answer == at.NO_ROOM:
        raise _TooSmallError
    return answer
