"""The dearest sets of a window, and all above some worth."""

from random import Random

import pytest

from packdown.model import Build
from packdown.teardown import frontier
from packdown.teardown.assembly import Assembler
from packdown.teardown.frontier import SCALE, Frontier
from packdown.teardown.graph import graph_of
from packdown.teardown.hunt import Hunt, Prices, Row
from packdown.teardown.refusals import Refusals
from packdown.teardown.room import rooms_of
from packdown.teardown.units import Units
from support.teardown_builds import KEY_G, RULES, SETTINGS, box, random_build, row
from support.unit_sets import every_set

ENDLESS = 10**6
LARGE = box("a", 1_000, 1_000, 1_000)


class Case:
    """A build in one window, with payload, prices and what is worth how much."""

    def __init__(self, build: Build, payload_g: int, prices: Prices) -> None:
        self.units = Units(graph_of(build), SETTINGS.joint_tolerance_um)
        assembler = Assembler(build, SETTINGS, KEY_G)
        self.refusals = Refusals(self.units, assembler, rooms_of([LARGE], RULES))
        window = Frontier(self.units, (1 << self.units.count) - 1, payload_g, KEY_G)
        self.hunt = Hunt(Row(window, self.refusals), self.units, prices)
        self.light = {
            mask: worth + sum(v for t, v in prices.triples.items() if (t & mask).bit_count() > 1)
            for mask, worth in every_set(self.units, prices.units).items()
            if self.weight(mask) <= payload_g
        }

    def weight(self, mask: int) -> int:
        """Return the weight of a set with its keys."""
        keys = self.units.keys.items()
        inner = sum(n for (a, b), n in keys if mask >> a & 1 and mask >> b & 1)
        own = (w for unit, w in enumerate(self.units.weights) if mask >> unit & 1)
        return sum(own) + KEY_G * inner


def random_case(seed: int) -> Case:
    """Return a build of 9 pieces with random prices, some losses, and a payload that may count."""
    random = Random(seed)
    build = random_build(random, 9)
    triples = {
        sum(1 << unit for unit in random.sample(range(9), 3)): -random.randrange(15) * SCALE
        for _ in range(random.choice([0, 4]))
    }
    prices = Prices([random.randrange(-5, 60) * SCALE for _ in range(9)], triples)
    return Case(build, random.choice([250, 500, ENDLESS]), prices)


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("entries", [frontier.ENTRIES, 600])
def test_the_dearest_set_is_found(seed: int, entries: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of all joined sets that are light enough and may stay whole the dearest is found.

    Also where small tables count weights coarsely, which only makes them less sharp.
    """
    monkeypatch.setattr(frontier, "ENTRIES", entries)
    case = random_case(seed)
    random = Random(seed)
    allowed = {mask for mask in case.light if random.random() < 0.7}
    floor = 10 * SCALE
    found = case.hunt.dearest(floor, lambda mask: mask in allowed, ENDLESS)
    assert found.complete
    assert found.most == max(floor, *(case.light[mask] for mask in allowed))
    assert all(case.light[mask] == worth > floor for mask, worth in found.masks.items())
    assert max(found.masks.values(), default=floor) == found.most


@pytest.mark.parametrize("seed", range(20))
def test_all_sets_above_a_worth_are_listed(seed: int) -> None:
    """Just those joined sets are listed that are light enough and worth more than told."""
    case = random_case(seed)
    for floor in (-20 * SCALE, 10 * SCALE, 60 * SCALE):
        found = case.hunt.above(floor, ENDLESS)
        assert found.complete
        assert found.masks == {m: worth for m, worth in case.light.items() if worth > floor}


@pytest.mark.parametrize("seed", range(10))
def test_a_hunt_that_is_cut_off_still_bounds(seed: int) -> None:
    """After few branches no set is worth more than told."""
    case = random_case(seed)
    for nodes in (1, 5, 20):
        found = case.hunt.dearest(0, case.light.__contains__, nodes)
        assert found.most >= max(0, *case.light.values())


def test_refused_sets_are_left_out() -> None:
    """Of four tiles of 20 s each all are best; once refused, three: 60 s less 7 s for a joint."""
    case = Case(row(4), ENDLESS, Prices([20 * SCALE] * 4))
    case.refusals.forbid(0b1111)
    found = case.hunt.above(50 * SCALE, ENDLESS)
    assert found.masks == {0b0111: 53 * SCALE, 0b1110: 53 * SCALE}


def test_a_window_too_wide_for_tables_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there would be too many states there are no steps, and nothing is hunted."""
    monkeypatch.setattr(frontier, "ENTRIES", 10)
    units = Units(graph_of(random_build(Random(1), 12)), 200)
    assert not Frontier(units, (1 << units.count) - 1, ENDLESS, KEY_G).steps
