"""Boxes of three crates are brought into two, under every rule, and the same way each time."""

import json
import os
import random
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from packdown.geometry import Vector
from packdown.model import Packing, PackingProblem
from packdown.packing import pack
from packdown.packing.bins import elimination, use
from packdown.packing.construct import EMPTY, Rows
from packdown.packing.kinds import kinds_of
from packdown.packing.placements import fills_of
from support.packing_problems import block, crate, problem, violations

TESTS = Path(__file__).resolve().parents[2]
SIZE = (60, 50, 40)
SCRIPT = """
import json
from packing.bins.test_elimination import cut_up, emptied
from packdown.packing.kernels import bin_moves
assert not hasattr(bin_moves.empty_pool, "py_func"), "the loops are compiled"
print(json.dumps(emptied(cut_up(0, 4, support=80), rounds=1)))
"""


def _halves(draw: random.Random, size: Vector) -> list[Vector]:
    """Cut a box in two, somewhere along its longest side."""
    axis = max(range(3), key=lambda k: size[k])
    cut = draw.randint(size[axis] // 3, 2 * size[axis] // 3)
    one, two = list(size), list(size)
    one[axis], two[axis] = cut, size[axis] - cut
    return [(one[0], one[1], one[2]), (two[0], two[1], two[2])]


def cut_up(
    seed: int,
    pieces: int,
    *,
    support: int,
    crates: int = 2,
    of_crate: dict[str, object] | None = None,
) -> PackingProblem:
    """Crates sawn into boxes, and as many crates to put them in, with one to spare."""
    draw = random.Random(seed)
    boxes: list[Vector] = []
    for _ in range(crates):
        own = [SIZE]
        while len(own) < pieces:
            own.sort(key=lambda size: size[0] * size[1] * size[2])
            own += _halves(draw, own.pop())
        boxes += own
    slack = 8 if of_crate else 0
    size = (SIZE[0] + slack, SIZE[1] + slack, SIZE[2] + slack)
    return problem(
        [block(f"box-{n}", one, 1 + n) for n, one in enumerate(boxes)],
        [crate(f"crate-{n}", size, **(of_crate or {})) for n in range(crates + 1)],
        support_percent=support,
    )


def emptied(
    asked: PackingProblem, *, rounds: int, threads: int = 2
) -> list[list[list[int]]] | None:
    """Bring all boxes into all crates but the last; return what lies in each."""
    kinds = kinds_of(asked)
    stay: dict[int, Rows] = dict.fromkeys(range(len(asked.containers) - 1), EMPTY)
    search = elimination.Elimination(kinds, stay, kinds.counts, random.Random(0))
    with ThreadPoolExecutor(threads) as pool:
        for _ in range(rounds):
            found = search.round(pool, lambda: False)
            if found is not None:
                return [found[index].tolist() for index in sorted(found)]
    return None


def _faults(asked: PackingProblem, packing: Packing) -> list[str]:
    """What the verifier finds; where no support is asked for, nothing need be in balance."""
    free = asked.rules.support_percent == 0
    return [fault for fault in violations(asked, packing) if not (free and "balance" in fault)]


@pytest.mark.parametrize("support", [0, 60, 100])
@pytest.mark.parametrize("seed", range(4))
def test_everything_goes_back_where_it_was_sawn_from(seed: int, support: int) -> None:
    """Two crates without a gap are filled to the last corner, and every rule is kept."""
    asked = cut_up(seed, 5, support=support)
    packing = pack(asked, effort=30, seed=seed)
    assert _faults(asked, packing) == []
    assert (len(packing.fills), packing.unpacked) == (2, ())


@pytest.mark.parametrize("more", [{"clearance_um": 1_500}, {"sheet_um": 2_000}])
@pytest.mark.parametrize("support", [0, 80, 100])
def test_clearance_and_sheets_are_kept(support: int, more: dict[str, object]) -> None:
    """Boxes are grown by what lies between them; what comes out keeps every rule."""
    asked = cut_up(1, 6, crates=3, support=support, of_crate=more)
    kinds = kinds_of(asked)
    rows = emptied(asked, rounds=20)
    assert rows is not None
    fills = fills_of(kinds, {index: np.array(own, np.int64) for index, own in enumerate(rows)})
    assert sum(len(fill.placements) for fill in fills) == len(asked.items)
    assert _faults(asked, Packing(fills=fills, unpacked=())) == []


def test_payload_is_kept() -> None:
    """What two crates may not carry is not brought into them, though it had room."""
    light = cut_up(2, 5, support=0)
    weight = sum(item.weight_g for item in light.items)
    for payload, enough in ((weight, True), (weight // 2 - 1, False)):
        crates = [crate(f"crate-{n}", SIZE, payload_g=payload) for n in range(3)]
        asked = problem(list(light.items), crates, support_percent=0)
        assert (emptied(asked, rounds=8) is not None) == enough


def test_the_same_twice_and_with_one_thread() -> None:
    """The number of threads decides nothing."""
    asked = cut_up(3, 5, support=0)
    once = emptied(asked, rounds=20)
    assert once is not None
    assert emptied(asked, rounds=20) == once
    assert emptied(asked, rounds=20, threads=1) == once


def test_work_arrays_grow(monkeypatch: pytest.MonkeyPatch) -> None:
    """With room for two spaces at first, everything still finds its place."""
    asked = cut_up(3, 5, support=0)
    monkeypatch.setattr(elimination, "ROWS", 2)
    assert emptied(asked, rounds=20) is not None


def test_rules_that_boxes_know_nothing_of_keep_it_out() -> None:
    """Rounds are for problems of nothing but boxes in containers of one clearance."""
    plain = cut_up(0, 4, support=0)
    odd = problem(
        list(plain.items),
        [crate("one", SIZE), crate("two", SIZE, clearance_um=1_000)],
        support_percent=0,
    )
    fragile = problem(
        [*plain.items, block("vase", (5, 5, 5), carry_limit_g=0)], list(plain.containers)
    )
    for asked, usable in ((plain, True), (odd, False), (fragile, False)):
        kinds = kinds_of(asked)
        with ThreadPoolExecutor(1) as pool:
            rounds = use.Eliminations(kinds, pool, lambda: False, random.Random(0))
            assert rounds.usable == usable


def test_compiled_and_plain_loops_agree() -> None:
    """Plain Python finds the very same places as compiled code."""
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        env={
            **os.environ,
            "NUMBA_DISABLE_JIT": "1",
            "PYTHONPATH": os.pathsep.join([str(TESTS), os.environ.get("PYTHONPATH", "")]),
        },
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(run.stdout) == json.loads(
        json.dumps(emptied(cut_up(0, 4, support=80), rounds=1))
    )
