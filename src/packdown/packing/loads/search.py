"""Search for a load: many constructions, each a small change of a good one."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from packdown.model import Cargo, Loaded, LoadRules, LoadSpace, OpeningSide
from packdown.packing.kernels.boot_fill import fill_boot
from packdown.packing.kernels.boot_types import Boot, Stow
from packdown.packing.loads import layout as at

__all__ = ["TRIES", "search_load"]

TRIES = 1_000
"""Constructions for one unit of effort."""
PATIENCE = 200
"""Constructions without any gain after which a search begins anew from what is best."""
SETTLED = 150
"""Constructions without any gain after which a load of everything is good enough."""
TURNS = (0, 1, at.FREE_TURN, at.FREE_TURN)
ENDS = (at.FORWARD, at.FORWARD, at.FORWARD, at.BACKWARD, at.BACKWARD, at.MIDDLE)
SIDES = (at.EITHER, at.LEFT, at.RIGHT, at.UP)
LARGE = 300.0
"""What it costs more if what is left behind is large: small ones find a place more easily."""
SLACK = 0.15
"""How much worse a load may be lowered and pushed forward, to be changed further."""
RISK = 0.02
"""How often a load with one container less is changed further."""
URGENT = 0.15
"""How often one that was left behind goes first."""
RESTART = 0.4
"""How often a search begins anew from nothing."""
PRESETS = ((8.0, 1.0, 0.3), (1.0, 8.0, 0.3), (3.0, 2.0, 1.0), (1.0, 1.0, 1.0))
"""Weights of height, distance to the end, and distance to the side to begin with."""


@dataclass(frozen=True, slots=True)
class _Wish:
    """What one construction is told: order, turns, ends, sides, and the weights of its places."""

    order: tuple[int, ...]
    turns: tuple[int, ...]
    ends: tuple[int, ...]
    sides: tuple[int, ...]
    whims: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Trial:
    """A construction and what it is worth; less is better."""

    wish: _Wish
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

    def build(self, wish: _Wish) -> _Trial:
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
            wish = _first(cargo, number, draw) if restart or best is None else best.wish
            since_gain = 0
        else:
            wish = _changed(current, cargo, draw) if current else wish
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


def _rank(one: Cargo) -> float:
    """Return when something is needed: what is not said is needed last."""
    return float("inf") if one.needed is None else one.needed


def _first(cargo: Sequence[Cargo], number: int, draw: Random) -> _Wish:
    """Return a wish to begin with: by weight, by base, by volume or at random."""
    keys: tuple[Callable[[Cargo], float], ...] = (
        lambda one: one.gross_g,
        lambda one: one.size_um[0] * one.size_um[1],
        lambda one: one.size_um[0] * one.size_um[1] * one.size_um[2],
        lambda _: draw.random(),
    )
    key = keys[number // len(PRESETS) % len(keys)]
    values, n = [key(one) for one in cargo], len(cargo)
    order = tuple(sorted(range(n), key=lambda i: (-_rank(cargo[i]), -values[i], i)))
    free, either = (at.FREE_TURN,) * n, (at.EITHER,) * n
    wish = _Wish(order, free, (at.FORWARD,) * n, either, PRESETS[number % len(PRESETS)])
    if number < len(PRESETS) * 3:
        return wish
    return replace(
        wish,
        turns=tuple(draw.choice(TURNS) for _ in cargo),
        ends=tuple(draw.choice(ENDS) for _ in cargo),
        sides=tuple(draw.choice(SIDES) for _ in cargo),
    )


def _changed(trial: _Trial, cargo: Sequence[Cargo], draw: Random) -> _Wish:
    """Change one or two things of a wish; what was left behind may go first."""
    wish = trial.wish
    if trial.missing and draw.random() < URGENT:
        wish = _urged(wish, draw.choice(trial.missing), draw)
    changes = (_swapped, _moved, _turned, _drawn, _whimsical, _left_out)
    for _ in range(1 + (draw.random() < 0.4)):
        wish = draw.choices(changes, weights=(4, 4, 3, 2, 1, 3))[0](wish, draw)
    order = sorted(wish.order, key=lambda i: -_rank(cargo[i]))
    return replace(wish, order=tuple(order))


def _swapped(wish: _Wish, draw: Random) -> _Wish:
    order = list(wish.order)
    i, j = draw.randrange(len(order)), draw.randrange(len(order))
    order[i], order[j] = order[j], order[i]
    return replace(wish, order=tuple(order))


def _moved(wish: _Wish, draw: Random) -> _Wish:
    order = list(wish.order)
    order.insert(draw.randrange(len(order)), order.pop(draw.randrange(len(order))))
    return replace(wish, order=tuple(order))


def _turned(wish: _Wish, draw: Random) -> _Wish:
    turns = list(wish.turns)
    turns[draw.randrange(len(turns))] = draw.choice(TURNS)
    return replace(wish, turns=tuple(turns))


def _drawn(wish: _Wish, draw: Random) -> _Wish:
    ends = list(wish.ends)
    sides, chosen = list(wish.sides), draw.randrange(len(ends))
    if ends[chosen] == at.LEAVE or draw.random() < 0.5:
        sides[chosen] = draw.choice(SIDES)
    else:
        ends[chosen] = draw.choice(ENDS)
    return replace(wish, ends=tuple(ends), sides=tuple(sides))


def _urged(wish: _Wish, chosen: int, draw: Random) -> _Wish:
    """Load one of those left behind before all others, and leave another."""
    order = [chosen, *(i for i in wish.order if i != chosen)]
    ends = list(wish.ends)
    ends[draw.randrange(len(ends))] = at.LEAVE
    ends[chosen] = draw.choice(ENDS)
    return replace(wish, order=tuple(order), ends=tuple(ends))


def _left_out(wish: _Wish, draw: Random) -> _Wish:
    """Leave one behind, or try again to load one that was left."""
    ends = list(wish.ends)
    chosen = draw.randrange(len(ends))
    gone = [i for i, end in enumerate(ends) if end == at.LEAVE]
    if gone and draw.random() < 0.7:
        ends[draw.choice(gone)] = at.FORWARD
    ends[chosen] = at.FORWARD if ends[chosen] == at.LEAVE else at.LEAVE
    return replace(wish, ends=tuple(ends))


def _whimsical(wish: _Wish, draw: Random) -> _Wish:
    x, y, z = (draw.choice((0.0, 0.3, 1.0, 3.0, 8.0)) for _ in range(3))
    return replace(wish, whims=(x, y, z))
