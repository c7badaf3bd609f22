"""Search for a load: many constructions, each a small change of a good one."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from packdown.model import Cargo, Loaded, LoadRules, LoadSpace, OpeningSide
from packdown.packing.kernels.boot_fill import fill_boot
from packdown.packing.kernels.boot_types import Boot, Stow
from packdown.packing.loads import layout as at
from packdown.packing.loads.wishes import PRESETS, Wish, changed, first

__all__ = ["TRIES", "search_load"]

TRIES = 1_000
"""Constructions for one unit of effort."""
PATIENCE = 200
"""Constructions without any gain after which a search begins anew from what is best."""
SETTLED = 150
"""Constructions without any gain after which a load of everything is good enough."""
LARGE = 300.0
"""What it costs more if what is left behind is large: small ones find a place more easily."""
SLACK = 0.15
"""How much worse a load may be lowered and pushed forward, to be changed further."""
RISK = 0.02
"""How often a load with one container less is changed further."""
RESTART = 0.4
"""How often a search begins anew from nothing."""


@dataclass(frozen=True, slots=True)
class _Trial:
    """A construction and what it is worth; less is better."""

    wish: Wish
    cost: float
    valid: bool
    count: int
    missing: tuple[int, ...]


class _Bench:
    """The arrays of one search."""

    def __init__(self, space: LoadSpace, cargo: Sequence[Cargo], rules: LoadRules) -> None:
        self.cargo, self.space, self.rules = cargo, space, rules
        n = len(cargo)
        volumes = [float(np.prod(np.array(one.size_um, dtype=float))) for one in cargo]
        self.volumes = [volume / sum(volumes) for volume in volumes]
        boxes = np.zeros((n, at.NUM_BOX), dtype=np.int64)
        for row, one in zip(boxes, cargo, strict=True):
            limit = at.UNLIMITED if one.stack_limit_g is None else one.stack_limit_g
            row[:] = (*one.size_um, one.gross_g, limit, one.nest_um)
        blocked = np.array(space.taken_um, dtype=np.int64).reshape(-1, 6)
        self.boot = Boot(boxes, blocked, _place(space, rules))
        spots = 4 * (n + len(blocked)) + 4
        ints = np.int64
        self.stow = Stow(
            order=np.zeros(n, ints),
            turns=np.zeros(n, ints),
            ends=np.zeros(n, ints),
            sides=np.zeros(n, ints),
            whims=np.zeros(3),
            placed=np.zeros((n, at.NUM_PLACED), ints),
            below=np.zeros((n, n), ints),
            loads=np.zeros(n, ints),
            path=np.zeros((at.MOST_CORNERS, 3), ints),
            paths=np.zeros((n * at.MOST_CORNERS, 3), ints),
            corners=np.zeros(n, ints),
            spots=np.zeros((3, spots), ints),
            carriers=np.zeros(n, ints),
        )

    def build(self, wish: Wish) -> _Trial:
        """Load as wished, and say what it is worth."""
        stow = self.stow
        stow.order[:], stow.turns[:], stow.ends[:] = wish.order, wish.turns, wish.ends
        stow.sides[:], stow.whims[:] = wish.sides, wish.whims
        count = int(fill_boot(self.boot, stow))
        uneven = self._uneven(count)
        inside = set(stow.placed[:count, at.BOX].tolist())
        missing = tuple(i for i in range(len(self.cargo)) if i not in inside)
        large = float(sum(self.volumes[i] for i in missing))
        cost = 1_000 * len(missing) + LARGE * large + 3_000 * uneven + self._quality(count)
        return _Trial(wish, cost, uneven == 0, count, missing)

    def _uneven(self, count: int) -> float:
        """Return by how much more than it may hold one half of the length holds."""
        rows = self.stow.placed[:count]
        weights = self.boot.boxes[rows[:, at.BOX], at.WEIGHT]
        total = int(weights.sum())
        if total * 100 <= self.space.payload_g * self.rules.spread_percent:
            return 0.0
        y0, y1 = 2 * rows[:, at.Y0], 2 * rows[:, at.Y1]
        front = (y1 - np.clip(self.space.size_um[1], y0, y1)) / (y1 - y0)
        share = float((weights * front).sum()) / total
        return max(0.0, max(share, 1 - share) - self.rules.half_percent / 100 + 1e-9)

    def _quality(self, count: int) -> float:
        """Return how high and how far from the seat back the weight is: less is better."""
        if not count:
            return 0.0
        rows = self.stow.placed[:count]
        weights = self.boot.boxes[rows[:, at.BOX], at.WEIGHT]
        height = (rows[:, at.Z0] + rows[:, at.Z1]) / (2 * self.space.size_um[2])
        away = 1 - (rows[:, at.Y0] + rows[:, at.Y1]) / (2 * self.space.size_um[1])
        return float((weights * (2 * height + away)).sum() / weights.sum())

    def loaded(self, count: int) -> tuple[Loaded, ...]:
        """Return what the last construction loaded."""
        stow, loaded = self.stow, []
        for n in range(count):
            first = n * at.MOST_CORNERS
            corners = stow.paths[first : first + stow.corners[n]].tolist()
            path = [corner for k, corner in enumerate(corners) if not k or corner != corners[k - 1]]
            row = stow.placed[n].tolist()
            loaded.append(
                Loaded(
                    container=self.cargo[row[at.BOX]].id,
                    at_um=(row[at.X0], row[at.Y0], row[at.Z0]),
                    turn=90 * row[at.TURN],
                    path_um=tuple((x, y, z) for x, y, z in path),
                )
            )
        return tuple(loaded)


def _place(space: LoadSpace, rules: LoadRules) -> np.ndarray:
    side, opening = space.opening.side, space.opening
    high = int(side in {OpeningSide.RIGHT, OpeningSide.TOP})
    (u0, v0), (du, dv) = opening.low_um, opening.size_um
    return np.array(
        [
            *space.size_um, space.usable_um[2], space.payload_g, rules.heavier_percent,
            side.axis, high, u0, u0 + du, v0, v0 + dv, len(space.blocked_um),
        ],
        dtype=np.int64,
    )  # fmt: skip


def search_load(
    space: LoadSpace,
    cargo: Sequence[Cargo],
    rules: LoadRules,
    *,
    tries: int,
    draw: Random,
    stop: Callable[[], bool] = lambda: False,
) -> tuple[Loaded, ...]:
    """Load as many containers as can be, heavy ones low and near the seat back.

    Containers that are needed later are loaded first, so that each can be taken out again past
    those that are needed after it.

    Parameters
    ----------
    space, cargo, rules
        The problem.
    tries
        How many constructions are made at most.
    draw
        Draws the changes.
    stop
        Asked after every construction.

    Returns
    -------
    tuple of Loaded
        What is loaded, in loading order.
    """
    if not cargo:
        return ()
    bench = _Bench(space, cargo, rules)
    best: _Trial | None = None
    kept: tuple[Loaded, ...] = ()
    current: _Trial | None = None
    since_gain = quiet = 0
    for number in range(max(1, tries)):
        anew = number < len(PRESETS) * 3 or since_gain > PATIENCE or current is None
        if anew:
            restart = best is None or number < len(PRESETS) * 3 or draw.random() < RESTART
            wish = first(cargo, number, draw) if restart or best is None else best.wish
            since_gain = 0
        else:
            wish = changed(current.wish, current.missing, cargo, draw) if current else wish
        trial = bench.build(wish)
        since_gain, quiet = since_gain + 1, quiet + 1
        if trial.valid and (best is None or trial.cost < best.cost - 1e-9):
            best, kept, since_gain, quiet = trial, bench.loaded(trial.count), 0, 0
        if anew or current is None or trial.cost <= current.cost + _slack(draw):
            current = trial
        if stop() or (best and best.count == len(cargo) and quiet >= SETTLED):
            break
    return kept


def _slack(draw: Random) -> float:
    """Return how much worse a load may be to be changed further: rarely by a whole container."""
    return 1_100.0 if draw.random() < RISK else SLACK
