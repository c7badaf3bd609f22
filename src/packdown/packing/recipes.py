"""How one construction goes about it: the order of kinds and the weights of places."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import size
from packdown.model import ItemKind
from packdown.packing import layout as at
from packdown.packing.kinds import Kinds

__all__ = ["Recipe", "recipe"]

PRESETS = (
    # bottom, top, slack, rest, corner, footprint, pose, deep
    (1.0, 0.3, 0.3, 0.0, 0.05, 0.0, 0.0, 0.0),
    (0.3, 1.0, 0.3, 0.0, 0.05, 0.3, 0.0, 0.0),
    (1.0, 0.0, 0.1, 1.0, 0.02, -0.3, 0.0, 0.0),
    (0.2, 0.2, 1.0, 0.3, 0.1, 0.0, 0.0, 0.0),
)
"""Weights of the first constructions, in the order of the columns of `layout`."""


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
        Added to the score of each pose, times its weight.
    """

    order: NDArray[np.int64]
    weights: NDArray[np.float64]
    bias: NDArray[np.float64]


def recipe(kinds: Kinds, boost: Sequence[float], number: int, seed: int) -> Recipe:
    """Return a recipe; the first few of every search are plain, the others drawn at random.

    Parameters
    ----------
    kinds
        The problem.
    boost
        Factor on the priority of each kind: above 1 for what is hard to place.
    number
        Counts the recipes of one container.
    seed
        Decides all that is random.
    """
    draw = Random(seed)
    plain = number < len(PRESETS)
    weights = PRESETS[number] if plain else _weights(draw)
    noise = 0.0 if plain else draw.choice((0.05, 0.2, 0.5))
    return Recipe(
        order=np.array(_order(kinds, boost, draw, noise), dtype=np.int64),
        weights=np.array(weights),
        bias=np.array([draw.random() for _ in kinds.poses]),
    )


def _weights(draw: Random) -> tuple[float, ...]:
    return (
        draw.uniform(0, 1),
        draw.uniform(0, 1),
        draw.choice((0.0, 0.2, 1.0)) * draw.random(),
        draw.choice((0.0, 0.3, 1.0)) * draw.random(),
        draw.choice((0.02, 0.1, 0.5)) * draw.random(),
        draw.uniform(-0.5, 0.5),
        draw.choice((0.0, 0.1, 0.5)) * draw.random(),
        float(draw.random() < 0.3),
    )


def _order(kinds: Kinds, boost: Sequence[float], draw: Random, noise: float) -> list[int]:
    """Sort the kinds: large ones first, what must stay on top last; clusters stay together."""
    measure = draw.choice((_volume, _volume, _base, _longest)) if noise else _volume
    ranked = not noise or draw.random() < 0.7
    frail_last = draw.random() < 0.3
    keys: dict[int, tuple[int, int, float]] = {}
    for kind, items in enumerate(kinds.items):
        item = items[0]
        large = measure(kinds, kind) * boost[kind] * draw.lognormvariate(0, noise)
        if item.kind is ItemKind.SUB_ASSEMBLY:
            large *= draw.uniform(1.0, 1.5) if noise else 1.25
        rank = at.LAST if item.needed is None else item.needed
        frail = item.carry_limit_g == 0 or bool(item.tender)
        keys[kind] = (-rank if ranked else 0, int(frail and frail_last), -large)
    cluster = kinds.kind_rows[:, at.KIND_CLUSTER]
    first: dict[int, tuple[int, int, float]] = {}
    for kind, key in keys.items():
        number = int(cluster[kind])
        first[number] = min(first.get(number, key), key)
    return sorted(
        keys,
        key=lambda kind: (
            first[int(cluster[kind])] if cluster[kind] >= 0 else keys[kind],
            int(cluster[kind]),
            keys[kind],
        ),
    )


def _volume(kinds: Kinds, kind: int) -> float:
    return kinds.need[kind]


def _base(kinds: Kinds, kind: int) -> float:
    sizes = [pose.size for pose in kinds.poses[slice(*kinds.first_pose[kind : kind + 2])]]
    return float(max((x * y for x, y, _ in sizes), default=0))


def _longest(kinds: Kinds, kind: int) -> float:
    return float(max(size(kinds.items[kind][0].cuboids_um)))
