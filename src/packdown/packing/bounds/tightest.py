"""The measures of room by which some things take most: in line, by slabs, and scaled."""

from collections.abc import Sequence
from itertools import product

import numpy as np
from numpy.typing import NDArray

from packdown.geometry import Vector
from packdown.packing.bounds.measures import (
    VOLUME,
    Boxes,
    Floats,
    Load,
    Measure,
    Scaled,
    Slabs,
)
from packdown.packing.bounds.scales import FAMILIES, LARGE, SAME, Family, Scale, counted, cut

__all__ = ["in_line", "scaled", "slabs"]

SHORT = Family(cut, lambda lengths, side: lengths[2 * lengths <= side])
NUMBER = Family(counted, lambda lengths, side: lengths[2 * lengths <= side])
ROUNDS = 8
"""Times that each axis is scaled anew at most."""
Table = tuple[list[Scale], Floats]
"""Scales, and the share of the scaled side that each box takes under each of them."""


def in_line(load: Load) -> Scaled:
    """Return the best measure of what can only lie one behind the other: the bound L1."""
    boxes, best = load.boxes(), (0.0, VOLUME)
    for axis in range(3) if len(boxes.sizes) else ():
        across = np.prod(
            [LARGE(boxes.sizes[:, a], load.side[a]) for a in range(3) if a != axis], axis=0
        )
        for family in (FAMILIES[0], SHORT, NUMBER):
            if not len(family.parameters(boxes.lengths[axis], load.side[axis])):
                continue
            found, table = _table(family, boxes, load.side, axis)
            totals = boxes.total(table * across)
            row = int(totals.argmax())
            scales = [LARGE, LARGE, LARGE]
            scales[axis] = found[row]
            best = max(best, (float(totals[row]), Scaled(tuple(scales))), key=lambda one: one[0])
    return best[1]


def slabs(load: Load) -> Slabs:
    """Return the best measure by slabs: with `in_line`, the bound L2."""
    boxes = load.boxes()
    best = (-1.0, Slabs(2, (1, 1)))
    for axis in range(3) if len(boxes.sizes) else ():
        one, two = (a for a in range(3) if a != axis)
        full = boxes.sizes[:, axis] / load.side[axis]
        share = full * boxes.sizes[:, one] / load.side[one] * boxes.sizes[:, two] / load.side[two]
        firsts = _thresholds(boxes.lengths[one], load.side[one])
        seconds = np.array(_thresholds(boxes.lengths[two], load.side[two]))[:, None]
        reaches = boxes.sizes[:, two] > load.side[two] - seconds
        counts = boxes.sizes[:, two] >= seconds
        for least in firsts:
            wide = boxes.sizes[:, one] > load.side[one] - least
            taken = np.where(counts & (boxes.sizes[:, one] >= least), share, 0.0)
            totals = boxes.total(np.where(reaches & wide, full, taken))
            row = int(totals.argmax())
            found = Slabs(axis, (least, int(seconds[row, 0])))
            best = max(best, (float(totals[row]), found), key=lambda pair: pair[0])
    return best[1]


def _thresholds(lengths: NDArray[np.int64], side: int) -> list[int]:
    return sorted({1, max(1, side // 2), *SHORT.parameters(lengths, side).tolist()})


def scaled(load: Load, starts: Sequence[Measure], most: int) -> list[Scaled]:
    """Return measures by dual feasible functions of which the things take most.

    From each of several starts, and from other measures, one axis after the other is scaled by
    the best function while the others stay (coordinate ascent).

    Parameters
    ----------
    load
        Kinds and the container.
    starts
        Further measures to begin with.
    most
        How many different ones are wanted at most, the best first.
    """
    boxes = load.boxes()
    if not len(boxes.sizes):
        return []
    tables = [_tables(boxes, load.side, axis) for axis in range(3)]
    half = Scale(FAMILIES[-1].rule, 1)
    begin = [*product((SAME, half), repeat=3), *filter(None, map(_as_scales, starts))]
    found: dict[tuple[int, ...], tuple[float, Scaled]] = {}
    for scales in begin:
        total, best = _climb(boxes, load.side, tables, scales)
        measure = Scaled(best)
        found.setdefault(measure.takes(load), (total, measure))
    order = sorted(found.values(), key=lambda pair: -pair[0])
    return [measure for _, measure in order[:most]]


def _as_scales(measure: Measure) -> tuple[Scale, ...] | None:
    """Return functions that weigh no box less than a measure does."""
    if isinstance(measure, Slabs):
        first, second = (Scale(cut, least) for least in measure.least)
        across = (first, second)
        return (*across[: measure.axis], SAME, *across[measure.axis :])
    return measure.scales if isinstance(measure, Scaled) else None


def _tables(boxes: Boxes, side: Vector, axis: int) -> Table:
    scales: list[Scale] = []
    rows = []
    for family in FAMILIES:
        if len(family.parameters(boxes.lengths[axis], side[axis])):
            own, table = _table(family, boxes, side, axis)
            scales += own
            rows.append(table)
    return scales, np.concatenate(rows)


def _table(family: Family, boxes: Boxes, side: Vector, axis: int) -> Table:
    scales, table = family.table(boxes.lengths[axis], side[axis])
    return scales, table[:, np.searchsorted(boxes.lengths[axis], boxes.sizes[:, axis])]


def _climb(
    boxes: Boxes, side: Vector, tables: Sequence[Table], scales: tuple[Scale, ...]
) -> tuple[float, tuple[Scale, ...]]:
    """Scale one axis after the other as best, until nothing more is gained."""
    own = list(scales)
    shares = [
        scale(boxes.sizes[:, axis], side[axis]) / scale.of(side[axis])
        for axis, scale in enumerate(own)
    ]
    best = float(boxes.total(np.prod(shares, axis=0)[None, :])[0])
    idle, axis = 0, 0
    for axis in [0, 1, 2] * ROUNDS:
        others = np.prod([shares[other] for other in range(3) if other != axis], axis=0)
        found, table = tables[axis]
        totals = boxes.total(table * others)
        row = int(totals.argmax())
        idle += 1
        if totals[row] > best * (1 + 1e-9):
            best, own[axis], shares[axis], idle = float(totals[row]), found[row], table[row], 0
        if idle == 3:
            break
    return best, tuple(own)
