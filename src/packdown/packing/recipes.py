"""How one construction goes about it: the order of kinds and the weights of places."""

from dataclasses import dataclass

import numpy as np
from numpy.random import PCG64, Generator
from numpy.typing import NDArray

from packdown.packing import layout as at
from packdown.packing.kinds import Kinds

__all__ = ["PLAIN", "Recipe", "recipe"]

PRESETS = (
    # bottom, top, slack, rest, corner, footprint, pose, deep, which corner
    (1.0, 0.2, 0.1, 0.1, 0.2, 0.0, 0.0, 0.0, 0.0),
    (0.5, 1.0, 1.0, 0.3, 0.2, 0.0, 0.0, 0.0, 0.0),
    (0.0, 1.0, 0.1, 1.0, 0.02, 0.2, 0.0, 0.0, 0.0),
    (0.5, 0.2, 0.0, 0.3, 0.05, -0.3, 0.0, 0.0, 0.0),
)
"""Weights of the first constructions, in the order of the columns of `layout`.

Every other one places what is awkward before all else.
"""
PLAIN = len(PRESETS)
"""How many recipes are not drawn at random."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """Everything that makes one construction differ from another.

    Parameters
    ----------
    order
        All kinds, in the order in which they are tried.
    weights
        Weights of the score of a place.
    bias
        Added to the score of each pose, and of each corner for each pose, times their weights.
    """

    order: NDArray[np.int64]
    weights: NDArray[np.float64]
    bias: NDArray[np.float64]

    def copy(self) -> "Recipe":
        """Return a recipe with arrays of its own."""
        return Recipe(order=self.order.copy(), weights=self.weights.copy(), bias=self.bias.copy())


def recipe(kinds: Kinds, boost: NDArray[np.float64], number: int, seed: int) -> Recipe:
    """Return a recipe; the first few are plain, the others drawn at random.

    Parameters
    ----------
    kinds
        The problem.
    boost
        Factor on the priority of each kind: above 1 for what is hard to place.
    number
        Counts the recipes; those below `PLAIN` are plain.
    seed
        Decides all that is random. Only the uniform numbers of the generator are used, which
        are the same everywhere.
    """
    draw = _Draw(seed)
    plain = number < PLAIN
    factors = 1.0 if plain else _whims(kinds, draw)
    awkward_first = number % 2 == 0 if plain else draw.within(0, 1) < 0.5
    return Recipe(
        order=_order(kinds, boost * factors, draw, plain=plain, awkward_first=awkward_first),
        weights=np.array(PRESETS[number] if plain else _weights(draw)),
        bias=draw.generator.random(5 * len(kinds.poses)),
    )


class _Draw:
    """Random choices made of uniform numbers alone."""

    def __init__(self, seed: int) -> None:
        self.generator = Generator(PCG64(seed))

    def within(self, low: float, high: float) -> float:
        return low + (high - low) * self.generator.random()

    def one_of(self, *choices: float) -> float:
        return choices[int(self.generator.random() * len(choices))]


def _weights(draw: _Draw) -> tuple[float, ...]:
    """Draw weights from the ranges that did best on open rooms and on plain boxes."""
    return (
        draw.within(0, 1),
        draw.within(0.2, 1),
        draw.one_of(0.0, 0.1, 0.3, 1.0),
        draw.one_of(0.1, 0.3, 0.3, 1.0),
        draw.one_of(0.0, 0.05, 0.2),
        draw.within(-0.3, 0.3),
        draw.one_of(0.0, 0.0, 0.1, 0.5),
        float(draw.within(0, 1) < 0.1),
        0.0,
    )


def _whims(kinds: Kinds, draw: _Draw) -> NDArray[np.float64]:
    """Draw a factor on the priority of each kind; sub-assemblies gain up to a half."""
    count = len(kinds.items)
    spread = draw.one_of(0.1, 0.4, 0.9)
    factors: NDArray[np.float64] = np.exp(spread * (2 * draw.generator.random(count) - 1))
    return factors * (1 + 0.5 * draw.generator.random(count) * kinds.assembled)


def _order(
    kinds: Kinds, boost: NDArray[np.float64], draw: _Draw, *, plain: bool, awkward_first: bool
) -> NDArray[np.int64]:
    """Sort the kinds: large ones first, what must stay on top last; clusters stay together.

    What is awkward may come before all else, whatever stays on top of it.
    """
    measure = kinds.sizes[0 if plain else int(draw.one_of(0, 0, 1, 2))]
    keys: list[NDArray[np.float64] | NDArray[np.int64]] = [-measure * boost]
    if draw.within(0, 1) < 0.3:
        keys.append(kinds.frail.astype(np.int64))
    if draw.within(0, 1) < 0.7 or plain:
        keys.append(-kinds.kind_rows[:, at.KIND_RANK])
    if awkward_first:
        keys[1:] = [np.where(kinds.awkward, 0, key) for key in keys[1:]]
        keys.append((~kinds.awkward).astype(np.int64))
    order = np.lexsort(keys)
    cluster = kinds.kind_rows[:, at.KIND_CLUSTER]
    if cluster.max(initial=-1) < 0:
        return order
    turn = np.empty_like(order)
    turn[order] = np.arange(len(order))
    lead = turn.copy()
    for number in set(cluster.tolist()) - {-1}:
        lead[cluster == number] = turn[cluster == number].min()
    return np.lexsort((turn, lead))
