"""Fills with blocks keep to the container, the stock and the support, and are the same twice."""

import json
import os
import subprocess
import sys
from collections import Counter
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from packdown.geometry import plan_of, rests_on
from packdown.packing.blocks.pool import Boxes
from support.box_sets import filled, random_boxes

TESTS = Path(__file__).resolve().parents[2]
CASES = [(seed, support) for seed in range(3) for support in (0, 80, 100)]
SCRIPT = f"""
import json
from support.box_sets import filled, random_boxes
from packdown.packing.kernels import block_fill
assert not hasattr(block_fill.complete, "py_func"), "the loops are compiled"
fills = [filled(random_boxes(*case, 4), effort=3, most=40) for case in {CASES}]
print(json.dumps(fills))
"""


@pytest.mark.parametrize("support", [0, 80, 100])
@pytest.mark.parametrize("seed", range(8))
def test_fills_keep_the_rules(seed: int, support: int) -> None:
    """Boxes lie inside, apart from each other, supported, and no more of them than there are."""
    asked = random_boxes(seed, support, 30)
    found, volume = filled(asked, effort=40, most=400)
    boxes = [cuboid for _, cuboid in found]
    assert volume == sum(box.volume for box in boxes)
    assert not any(one.overlaps(two) for one, two in combinations(boxes, 2))
    for low, high in ((box[:3], box[3:]) for box in boxes):
        assert min(low) >= 0
        assert all(a <= b for a, b in zip(high, asked.inner, strict=True))
    taken = Counter(asked.lies[lie][0] for lie, _ in found)
    assert all(number <= asked.counts[kind] for kind, number in taken.items())
    for box in boxes:
        held = sum(rect.area for rect in rests_on((box,), boxes))
        assert box.z0 == 0 or 100 * held >= support * plan_of(box).area


def test_a_container_is_filled_to_the_last_corner() -> None:
    """54 bricks of 2 x 2 x 1 and 27 cubes of 2 fill 12 x 6 x 6 exactly: 4 + 8 each three wide."""
    lies = ((0, 2, 2, 1), (1, 2, 2, 2))
    for support in (0, 100):
        asked = Boxes(
            inner=(12, 6, 6),
            lies=lies,
            counts=np.array([54, 27], np.int64),
            support_percent=support,
        )
        assert filled(asked, effort=50, most=500)[1] == 12 * 6 * 6


def test_the_same_twice_and_with_one_thread() -> None:
    """The number of threads decides nothing."""
    asked = random_boxes(1, 100, 30)
    once = filled(asked, effort=60, most=400)
    assert filled(asked, effort=60, most=400) == once
    assert filled(asked, effort=60, most=400, threads=1) == once


def test_more_effort_is_no_worse() -> None:
    """The best fill so far is kept."""
    asked = random_boxes(2, 100, 30)
    volumes = [filled(asked, effort=effort, most=400)[1] for effort in (1, 10, 100)]
    assert volumes == sorted(volumes)


def test_work_arrays_grow() -> None:
    """With room for two spaces at first, the same fill comes out."""
    asked = random_boxes(3, 0, 30)
    assert filled(asked, effort=20, most=200, rows=2) == filled(asked, effort=20, most=200)


def test_compiled_and_plain_loops_agree() -> None:
    """Plain Python finds the very same fills as compiled code."""
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": _path()},
        capture_output=True,
        text=True,
        check=True,
    )
    fills = [filled(random_boxes(*case, 4), effort=3, most=40) for case in CASES]
    assert json.loads(run.stdout) == json.loads(json.dumps(fills))


def _path() -> str:
    return os.pathsep.join([str(TESTS), os.environ.get("PYTHONPATH", "")])
