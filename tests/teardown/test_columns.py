"""The linear program over all sets that may stay whole."""

from random import Random

import numpy as np
import pytest
from scipy.optimize import linprog

from packdown.teardown.assembly import Assembler
from packdown.teardown.bounds import cut_bound
from packdown.teardown.columns import Columns
from packdown.teardown.frontier import SCALE
from packdown.teardown.graph import graph_of
from packdown.teardown.room import rooms_of
from packdown.teardown.units import Units
from packdown.teardown.windows import Windows
from support.teardown_builds import KEY_G, RULES, SETTINGS, box, hall, random_build
from support.unit_sets import every_set


def test_the_linear_program_beats_single_cuts_on_a_hall() -> None:
    """A hall of 4 x 4 floors in boxes for 3 x 2: 99 s are needed, single cuts prove far less."""
    build = hall(4, 4)
    rooms = rooms_of([box("a", 200, 150, 100)], RULES)
    windows = Windows(Assembler(build, SETTINGS, KEY_G), rooms, RULES.place_s)
    columns = Columns(windows, windows.leaves(windows.graph.all), lambda: False)
    columns.solve()
    assert columns.exact
    assert columns.bound_s == 99
    units = Units(graph_of(build), SETTINGS.joint_tolerance_um)
    assert cut_bound(units, rooms, RULES.place_s) < 99


@pytest.mark.parametrize("seed", range(12))
def test_the_bound_is_that_of_all_sets_at_once(seed: int) -> None:
    """HiGHS, called through SciPy on every set that may stay whole, finds the same value."""
    random = Random(seed)
    build = random_build(random, 9)
    sides = [random.choice([65, 95, 125]) for _ in range(3)]
    payload_g = random.choice([300, 600, 10_000])
    rooms = rooms_of([box("a", *sides, payload_g=payload_g)], RULES)
    windows = Windows(Assembler(build, SETTINGS, KEY_G), rooms, RULES.place_s)
    columns = Columns(windows, windows.leaves(windows.graph.all), lambda: False)
    columns.solve()
    units = columns.units
    masks = [
        mask
        for mask in every_set(units, [0] * units.count)
        if mask.bit_count() == 1 or windows.whole(units.pieces(mask))
    ]
    plain = linprog(
        [units.edge(mask) + 2 * RULES.place_s for mask in masks],
        A_eq=np.array([[mask >> unit & 1 for mask in masks] for unit in range(units.count)]),
        b_eq=np.ones(units.count),
    )
    assert columns.exact
    assert columns.prices.total / SCALE == pytest.approx(plain.fun, abs=0.1)
    assert columns.bound_s - 1 < plain.fun / 2 - RULES.place_s + 1e-6
    assert columns.bound_s > plain.fun / 2 - RULES.place_s - 0.1


def test_nothing_is_asked_for_once_told_to_stop() -> None:
    """A search that is stopped at once knows no bound, and says so."""
    rooms = rooms_of([box("a", 200, 150, 100)], RULES)
    windows = Windows(Assembler(hall(4, 4), SETTINGS, KEY_G), rooms, RULES.place_s)
    columns = Columns(windows, windows.leaves(windows.graph.all), lambda: True)
    columns.solve()
    assert not columns.exact
    assert columns.bound_s == 0
