"""Containers become pieces of baggage: as many as can be, those that are needed first."""

from dataclasses import replace
from itertools import combinations, permutations
from random import Random

import pytest

from packdown.limits.baggage import fits_within, linear_um
from packdown.model import Cargo, Flight
from packdown.planning.flight import load_flight
from support.flights import HOP
from support.loads import box

SMALL = (400, 300, 200)
LARGE = (600, 400, 280)


def test_a_small_one_makes_way_for_a_large_one() -> None:
    """What fits the cabin goes there when the checked pieces are needed for what does not."""
    cargo = [box("a", 7_000, SMALL), box("b", 9_000, LARGE), box("c", 9_000, LARGE)]
    found = load_flight(HOP, cargo)
    assert {piece.container: piece.kind for piece in found.baggage} == {
        "a": "cabin",
        "b": "checked",
        "c": "checked",
    }


@pytest.mark.parametrize(
    ("cargo", "reason"),
    [
        (box("a", 23_100, SMALL), "checked: weighs 23.1 kg, one piece may weigh 23.0 kg"),
        (box("a", 9_000, (800, 500, 300)), "measures 1600 mm together"),
        (box("a", 24_000, SMALL), "cabin: weighs 24.0 kg, one piece may weigh 8.0 kg"),
        (box("a", 7_000, (900, 500, 280)), "is 900 x 500 x 280 mm, the frame is 550 x 400"),
    ],
)
def test_what_passes_for_nothing_is_told_why(cargo: Cargo, reason: str) -> None:
    """Weight, size together, and the frame of the cabin."""
    (left,) = load_flight(HOP, [cargo]).left
    assert reason in left.reason


def test_what_is_needed_first_goes_first() -> None:
    """Of four large ones only two can go."""
    cargo = [
        replace(box(n, 9_000, LARGE), needed=r)
        for n, r in zip("abcd", (3, 1, None, 2), strict=True)
    ]
    found = load_flight(HOP, cargo)
    assert [piece.container for piece in found.baggage] == ["b", "d"]
    assert "needed earlier" in found.left[0].reason


def _passes(flight: Flight, kind: str, one: Cargo) -> bool:
    allowed = flight.cabin if kind == "cabin" else flight.checked
    if not allowed or one.gross_g > allowed.weight_g:
        return False
    if allowed.linear_um and linear_um(one.size_um) > allowed.linear_um:
        return False
    return not allowed.size_um or fits_within(one.size_um, allowed.size_um)


def _most(flight: Flight, cargo: list[Cargo]) -> int:
    """Try every set of containers on every order of pieces."""
    slots = ["cabin", "checked", "checked"]
    for number in range(len(slots), 0, -1):
        for chosen in combinations(cargo, number):
            for order in permutations(slots, number):
                if all(_passes(flight, k, c) for k, c in zip(order, chosen, strict=True)):
                    return number
    return 0


@pytest.mark.parametrize("seed", range(40))
def test_as_many_go_as_can(seed: int) -> None:
    """Trying everything finds no more."""
    draw = Random(seed)
    sizes = (SMALL, LARGE, (550, 400, 200), (900, 500, 280))
    cargo = [
        box(f"b{n}", draw.choice((5_000, 9_000, 24_000)), draw.choice(sizes))
        for n in range(draw.randint(1, 5))
    ]
    assert len(load_flight(HOP, cargo).baggage) == _most(HOP, cargo)
