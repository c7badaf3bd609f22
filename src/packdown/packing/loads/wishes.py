"""What a construction of a load is told, and small changes of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from packdown.model import Cargo
from packdown.packing.loads import layout as at

__all__ = ["PRESETS", "Wish", "changed", "first"]

PRESETS = ((8.0, 1.0, 0.3), (1.0, 8.0, 0.3), (3.0, 2.0, 1.0), (1.0, 1.0, 1.0))
"""Weights of height, distance to the end, and distance to the side to begin with."""
TURNS = (0, 1, at.FREE_TURN, at.FREE_TURN)
ENDS = (at.FORWARD, at.FORWARD, at.FORWARD, at.BACKWARD, at.BACKWARD, at.MIDDLE)
SIDES = (at.EITHER, at.LEFT, at.RIGHT, at.UP)
URGENT = 0.15
"""How often one that was left behind goes first."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What one construction is told: order, turns, ends, sides, and the weights of its places."""

    order: tuple[int, ...]
    turns: tuple[int, ...]
    ends: tuple[int, ...]
    sides: tuple[int, ...]
    whims: tuple[float, float, float]


def _rank(one: Cargo) -> float:
    """Return when something is needed: what is not said is needed last."""
    return float("inf") if one.needed is None else one.needed


def first(cargo: Sequence[Cargo], number: int, draw: Random) -> Wish:
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
    wish = Wish(order, free, (at.FORWARD,) * n, either, PRESETS[number % len(PRESETS)])
    if number < len(PRESETS) * 3:
        return wish
    return replace(
        wish,
        turns=tuple(draw.choice(TURNS) for _ in cargo),
        ends=tuple(draw.choice(ENDS) for _ in cargo),
        sides=tuple(draw.choice(SIDES) for _ in cargo),
    )


def changed(wish: Wish, missing: Sequence[int], cargo: Sequence[Cargo], draw: Random) -> Wish:
    """Change one or two things of a wish; what was left behind may go first."""
    if missing and draw.random() < URGENT:
        wish = _urged(wish, draw.choice(missing), draw)
    changes = (_swapped, _moved, _turned, _drawn, _whimsical, _left_out)
    for _ in range(1 + (draw.random() < 0.4)):
        wish = draw.choices(changes, weights=(4, 4, 3, 2, 1, 3))[0](wish, draw)
    order = sorted(wish.order, key=lambda i: -_rank(cargo[i]))
    return replace(wish, order=tuple(order))


def _swapped(wish: Wish, draw: Random) -> Wish:
    order = list(wish.order)
    i, j = draw.randrange(len(order)), draw.randrange(len(order))
    order[i], order[j] = order[j], order[i]
    return replace(wish, order=tuple(order))


def _moved(wish: Wish, draw: Random) -> Wish:
    order = list(wish.order)
    order.insert(draw.randrange(len(order)), order.pop(draw.randrange(len(order))))
    return replace(wish, order=tuple(order))


def _turned(wish: Wish, draw: Random) -> Wish:
    turns = list(wish.turns)
    turns[draw.randrange(len(turns))] = draw.choice(TURNS)
    return replace(wish, turns=tuple(turns))


def _drawn(wish: Wish, draw: Random) -> Wish:
    ends = list(wish.ends)
    sides, chosen = list(wish.sides), draw.randrange(len(ends))
    if ends[chosen] == at.LEAVE or draw.random() < 0.5:
        sides[chosen] = draw.choice(SIDES)
    else:
        ends[chosen] = draw.choice(ENDS)
    return replace(wish, ends=tuple(ends), sides=tuple(sides))


def _urged(wish: Wish, chosen: int, draw: Random) -> Wish:
    """Load one of those left behind before all others, and leave another."""
    order = [chosen, *(i for i in wish.order if i != chosen)]
    ends = list(wish.ends)
    ends[draw.randrange(len(ends))] = at.LEAVE
    ends[chosen] = draw.choice(ENDS)
    return replace(wish, order=tuple(order), ends=tuple(ends))


def _left_out(wish: Wish, draw: Random) -> Wish:
    """Leave one behind, or try again to load one that was left."""
    ends = list(wish.ends)
    chosen = draw.randrange(len(ends))
    gone = [i for i, end in enumerate(ends) if end == at.LEAVE]
    if gone and draw.random() < 0.7:
        ends[draw.choice(gone)] = at.FORWARD
    ends[chosen] = at.FORWARD if ends[chosen] == at.LEAVE else at.LEAVE
    return replace(wish, ends=tuple(ends))


def _whimsical(wish: Wish, draw: Random) -> Wish:
    x, y, z = (draw.choice((0.0, 0.3, 1.0, 3.0, 8.0)) for _ in range(3))
    return replace(wish, whims=(x, y, z))
