"""The compiled loops against the same code as plain Python."""

import json
import os
import subprocess
import sys

from packdown.packing import pack
from support.packing_problems import random_problem

SEEDS = (0, 1, 2, 4, 5, 6, 7, 8, 10, 11)
"""Of the first dozen problems, those that plain Python packs within a few seconds."""
SCRIPT = f"""
import json
from support.packing_problems import random_problem
from packdown.packing import pack, kernels
assert not hasattr(kernels.fill, "py_func"), "the loops are compiled"
answers = [repr(pack(random_problem(seed, 7), effort=1, seed=seed)) for seed in {SEEDS}]
print(json.dumps(answers))
"""


def test_compiled_and_plain_loops_agree() -> None:
    """On random problems, plain Python finds the very same packings as compiled code."""
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    )
    compiled = [repr(pack(random_problem(seed, 7), effort=1, seed=seed)) for seed in SEEDS]
    assert json.loads(run.stdout) == compiled
