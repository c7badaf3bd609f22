"""The least-effort split and its proof."""

from random import Random

import pytest

from packdown.teardown import columns as columns_module
from packdown.teardown import least as least_module
from packdown.teardown.assembly import Assembler
from packdown.teardown.least import first_parts, least
from packdown.teardown.room import rooms_of
from packdown.teardown.windows import Windows
from support.teardown_builds import (
    KEY_G,
    RULES,
    SETTINGS,
    box,
    hall,
    random_boxes,
    random_build,
)
from support.teardown_oracle import least_effort


@pytest.fixture(autouse=True)
def _cold() -> None:
    """Forget every answer before each test."""
    least_module.forget()


def windows_of(seed: int, count: int) -> Windows:
    """Return a random build and random boxes as windows."""
    random = Random(seed)
    build = random_build(random, count)
    rooms = rooms_of(random_boxes(random), RULES)
    return Windows(Assembler(build, SETTINGS, KEY_G), rooms, RULES.place_s)


def test_a_large_hall_is_proved() -> None:
    """A hall of 4 x 4 floors in boxes for 3 x 2 needs 99 s."""
    rooms = rooms_of([box("a", 200, 150, 100)], RULES)
    windows = Windows(Assembler(hall(4, 4), SETTINGS, KEY_G), rooms, RULES.place_s)
    found = least(windows)
    assert found.bound_s == windows.cost(found.parts) == 99


@pytest.mark.parametrize("seed", range(6))
def test_the_same_answer_comes_out_again(seed: int) -> None:
    """From a cold start the same question gets the same answer; then it is remembered."""
    first = least(windows_of(seed, 20))
    least_module.forget()
    second = least(windows_of(seed, 20))
    assert first == second
    assert least(windows_of(seed, 20)) is second


@pytest.mark.parametrize("seed", range(6))
def test_what_is_stopped_still_holds_and_is_not_remembered(seed: int) -> None:
    """Once told to stop, the cheapest cuts are the answer, with no bound; later it is better."""
    windows = windows_of(seed, 20)
    found = least(windows, lambda: True)
    assert windows.cost(found.parts) <= windows.cost(first_parts(windows))
    full = least(windows_of(seed, 20))
    assert found.bound_s <= full.bound_s <= windows.cost(full.parts) <= windows.cost(found.parts)


@pytest.mark.parametrize("what", ["nodes", "hunts", "tables", "rounds"])
def test_a_spent_budget_leaves_a_valid_bound(what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """However little is looked at, no bound is above the least effort of all partitions."""
    if what == "nodes":
        monkeypatch.setattr(least_module, "NODES", 3)
    if what == "hunts":
        monkeypatch.setattr(columns_module, "NODES", 2)
        monkeypatch.setattr(columns_module, "ALL_NODES", 20)
    if what == "tables":
        monkeypatch.setattr("packdown.teardown.frontier.ENTRIES", 40)
    if what == "rounds":
        monkeypatch.setattr(columns_module, "ROUNDS", 2)
    for seed in range(12):
        random = Random(seed)
        build = random_build(random, 7)
        boxes = random_boxes(random)
        windows = Windows(Assembler(build, SETTINGS, KEY_G), rooms_of(boxes, RULES), RULES.place_s)
        found = least(windows)
        best = least_effort(build, boxes, SETTINGS, RULES)
        assert best is None or found.bound_s <= best <= windows.cost(found.parts), seed


def test_what_a_limit_refuses_is_split_further() -> None:
    """With a limit of four pieces no part has more, and nothing of it is remembered."""
    unlimited = windows_of(3, 14)
    rooms = unlimited.rooms
    windows = Windows(unlimited.assembler, rooms, RULES.place_s, lambda item: len(item.pieces) <= 4)
    found = least(windows)
    assert max(part.bit_count() for part in found.parts) <= 4
    assert windows.cost(found.parts) >= found.bound_s
    assert least(unlimited).bound_s <= found.bound_s
