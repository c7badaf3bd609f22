"""Choosing sets that hold every unit once."""

from random import Random

import numpy as np
import pytest
from ortools.math_opt.python import mathopt
from scipy.optimize import LinearConstraint, milp

from packdown.teardown import choose as choosing
from packdown.teardown.choose import choose
from packdown.teardown.triples import broken_triples, meets

ANY = 10**6


def test_the_cheapest_exact_cover_is_chosen() -> None:
    """Of overlapping sets on four units the one in the middle and the two ends cost least."""
    costs = {0b0001: 5, 0b0010: 5, 0b0100: 5, 0b1000: 5, 0b0011: 7, 0b0110: 2, 0b1100: 7}
    assert choose(4, costs, ANY).masks == (0b0001, 0b0110, 0b1000)
    assert choose(4, costs, ANY).cost == choose(4, costs, ANY).bound == 12
    assert choose(4, costs, 11).masks == ()
    assert choose(4, costs, 11).bound == 12


def test_nothing_is_chosen_where_a_unit_is_left_over() -> None:
    """No set holds the third unit."""
    assert choose(3, {0b001: 1, 0b010: 1}, ANY).masks == ()


@pytest.mark.parametrize("seed", range(25))
def test_choices_agree_with_another_solver(seed: int) -> None:
    """HiGHS, called through SciPy on the plain integer program, finds the same least cost."""
    random = Random(seed)
    count = random.randrange(6, 14)
    costs = {1 << unit: random.randrange(10, 20) for unit in range(count)}
    for _ in range(12 * count):
        mask = sum(1 << unit for unit in random.sample(range(count), random.randrange(2, 5)))
        costs[mask] = random.randrange(10, 30)
    holds = np.array([[mask >> unit & 1 for mask in costs] for unit in range(count)])
    plain = milp(
        np.array(list(costs.values())),
        constraints=LinearConstraint(holds, 1, 1),
        integrality=1,
        bounds=(0, 1),
    )
    least = round(plain.fun)
    found = choose(count, costs, ANY)
    assert found.cost == found.bound == least == sum(costs[mask] for mask in found.masks)
    assert sum(found.masks) == (1 << count) - 1
    assert choose(count, costs, least).cost == least
    assert choose(count, costs, least - 1).masks == ()
    assert choose(count, costs, least - 1).bound == least


def test_a_search_that_is_cut_off_keeps_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too many sets for an integer program the bound is that of the linear program."""
    monkeypatch.setattr(choosing, "MANY", 0)
    monkeypatch.setattr(choosing, "ROUNDS", 1)
    costs = {0b011: 2, 0b110: 2, 0b101: 2, 0b001: 3, 0b010: 3, 0b100: 3}
    found = choose(3, costs, ANY)
    assert found.masks == ()
    assert found.bound == 3  # half of each pair: least of all choices is 2 + 3 = 5


@pytest.mark.parametrize("seed", range(6))
def test_where_one_solver_gives_up_another_answers(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An internal error of the first solver changes nothing about the cost and the bound."""
    random = Random(seed)
    masks = {random.randrange(1, 2**9) for _ in range(90)} | {1 << unit for unit in range(9)}
    costs = {mask: 3 + random.randrange(1, 9) + mask.bit_count() for mask in sorted(masks)}
    monkeypatch.setattr(choosing, "ROUNDS", 1)
    first = choose(9, costs, ANY)
    solve = mathopt.solve
    asked = []

    def failing(model: object, solver: mathopt.SolverType, **more: object) -> object:
        asked.append(solver)
        if solver is mathopt.SolverType.HIGHS:
            raise AttributeError("canonical_code")
        return solve(model, solver, **more)

    monkeypatch.setattr(mathopt, "solve", failing)
    second = choose(9, costs, ANY)
    assert mathopt.SolverType.GSCIP in asked
    assert (second.cost, second.bound) == (first.cost, first.bound)


def test_half_of_each_of_three_pairs_is_cut_off() -> None:
    """Three pairs on three units are taken half each; of all that hold two units one is enough."""
    pairs = [0b011, 0b110, 0b101]
    assert broken_triples(3, pairs, [0.5] * 3, (), 10) == [0b111]
    assert broken_triples(3, pairs, [0.5] * 3, {0b111}, 10) == []
    assert broken_triples(3, [0b011, 0b100], [1.0, 1.0], (), 10) == []
    assert [meets(0b111, mask) for mask in (0b001, 0b011, 0b111, 0b1001)] == [
        False,
        True,
        True,
        False,
    ]
