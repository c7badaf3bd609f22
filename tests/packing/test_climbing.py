"""Where there are few items, a great many constructions find what a few miss."""

import json
import os
import subprocess
import sys

import pytest

from packdown.packing import pack
from packdown.packing.kinds import kinds_of
from support.packing_problems import blocks, crate, problem, random_problem, violations
from support.small_groups import small_group

SCRIPT = """
import json
from packdown.packing import pack
from packdown.packing.kernels import climb
from support.small_groups import small_group
assert not hasattr(climb.climb, "py_func"), "the loops are compiled"
print(json.dumps(repr(pack(small_group(1), effort=1, seed=0))))
"""


@pytest.mark.parametrize("seed", [1, 47, 87, 137, 157, 161, 197])
def test_what_one_container_can_hold_is_put_into_one(seed: int) -> None:
    """`exact` proves that one is enough; two were used before."""
    asked = small_group(seed)
    assert kinds_of(asked).few
    packing = pack(asked, effort=8, seed=0)
    assert (len(packing.fills), packing.unpacked) == (1, ())


@pytest.mark.parametrize("seed", range(20))
def test_every_rule_is_kept(seed: int) -> None:
    """Whatever the rules, the verifier finds nothing wrong."""
    asked = random_problem(900 + seed)
    assert violations(asked, pack(asked, effort=4, seed=seed)) == []


def test_many_items_are_not_few() -> None:
    """With more items each construction costs too much for that."""
    box = [crate("box", (90, 90, 90))]
    assert kinds_of(problem(blocks(16, (10, 10, 10)), box)).few
    assert not kinds_of(problem(blocks(17, (10, 10, 10)), box)).few


def test_compiled_and_plain_loops_agree() -> None:
    """Plain Python finds the very same packing as compiled code."""
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(run.stdout) == repr(pack(small_group(1), effort=1, seed=0))
