"""Every rule of a load is kept by one made by hand, and broken by a change of it."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from packdown.geometry import Cuboid
from packdown.model import (
    Cargo,
    LeftBehind,
    Loaded,
    Loading,
    LoadRules,
    Opening,
    OpeningSide,
    Securing,
)
from packdown.planning.loading import load
from packdown.verify import LOAD_RULES, verify_load
from support.loads import box, random_load, vehicle

# A heavy box against the seat back, with a light one in its rim and a third behind it.
CARGO = (
    replace(box("low", 9_000), nest_um=15_000, stack_limit_g=5_000),
    replace(box("top", 4_000), nest_um=15_000, needed=2),
    replace(box("rear", 8_000), needed=1),
)
LOADED = (
    Loaded(
        container="low",
        at_um=(0, 500_000, 0),
        turn=0,
        path_um=((0, -300_000, 0), (0, 500_000, 0)),
    ),
    Loaded(
        container="top",
        at_um=(0, 500_000, 185_000),
        turn=0,
        path_um=((0, -300_000, 200_000), (0, 500_000, 200_000), (0, 500_000, 185_000)),
    ),
    Loaded(
        container="rear",
        at_um=(600_000, 10_000, 0),
        turn=0,
        path_um=((600_000, -300_000, 0), (600_000, 10_000, 0)),
    ),
)
# With friction 0.3: 0.2 x 13 kg x 9.81 = 25.5 N to the rear and to the right; 8 kg 15.7 N to the
# left, and 0.5 x 8 x 9.81 = 39.2 N forward. Centres at half of the heights: 0.5 x 100 mm is less
# than 150 and 200 mm to the edges. Of the two together it is at 100 x 9/13 + 285 x 4/13 = 156.9
# mm, and 0.5 x 156.9 is less than 150 mm. What is in a rim cannot slide in it.
SECURING = (
    Securing(container="low", side="backward", slides=True, tips=False, force_n=25.5),
    Securing(container="low", side="right", slides=True, tips=False, force_n=25.5),
    Securing(container="rear", side="forward", slides=True, tips=False, force_n=39.2),
    Securing(container="rear", side="left", slides=True, tips=False, force_n=15.7),
)
LOADING = Loading(
    created_with="0",
    plan="by hand",
    seed=0,
    effort=1,
    space=vehicle(),
    rules=LoadRules(spread_percent=10, half_percent=70),
    cargo=CARGO,
    loaded=LOADED,
    left=(),
    securing=SECURING,
)


def _at(loading: Loading, number: int, **changes: Any) -> Loading:  # noqa: ANN401 -- any field
    loaded = list(loading.loaded)
    loaded[number] = replace(loaded[number], **changes)
    return replace(loading, loaded=tuple(loaded))


def _of(loading: Loading, number: int, **changes: Any) -> Loading:  # noqa: ANN401 -- any field
    cargo: list[Cargo] = list(loading.cargo)
    cargo[number] = replace(cargo[number], **changes)
    return replace(loading, cargo=tuple(cargo))


def _moved(loading: Loading, number: int, x: int, y: int, z: int) -> Loading:
    """Put a container elsewhere, by the straight way from the back."""
    return _at(loading, number, at_um=(x, y, z), path_um=((x, -300_000, z), (x, y, z)))


def _space(loading: Loading, **changes: Any) -> Loading:  # noqa: ANN401 -- any field
    return replace(loading, space=replace(loading.space, **changes))


ARCH = (Cuboid(0, 700_000, 0, 50_000, 800_000, 100_000),)
OVER = ((600_000, -300_000, 300_000), (600_000, 10_000, 300_000), (600_000, 10_000, 0))
DOOR_CLOSED = (Cuboid(0, 0, 100_000, 1_000_000, 20_000, 700_000),)
FENCE = (Cuboid(590_000, 0, 300_000, 1_000_000, 5_000, 700_000),)
DOOR = Opening(side=OpeningSide.BACK, low_um=(0, 0), size_um=(950_000, 700_000))
HIGH_RIGHT = Opening(side=OpeningSide.RIGHT, low_um=(0, 0), size_um=(800_000, 700_000))

BREAKS: dict[str, tuple[str, Callable[[], Loading]]] = {
    "twice": ("loaded once", lambda: replace(LOADING, loaded=(*LOADED, LOADED[0]))),
    "nowhere": ("loaded once", lambda: replace(LOADING, loaded=LOADED[:2])),
    "unknown": (
        "loaded once",
        lambda: replace(LOADING, left=(LeftBehind(container="x", reason="y"),)),
    ),
    "no reason": (
        "loaded once",
        lambda: replace(
            LOADING, loaded=LOADED[:2], left=(LeftBehind(container="rear", reason=" "),)
        ),
    ),
    "centre outside": ("centres of gravity", lambda: _of(LOADING, 2, centre_um=(1, -1, 1))),
    "askew": ("upright", lambda: _at(LOADING, 2, turn=45)),
    "sticks out": ("inside", lambda: _moved(LOADING, 2, 600_001, 10_000, 0)),
    "below the floor": ("inside", lambda: _moved(LOADING, 2, 600_000, 10_000, -1)),
    "above the seat back": ("seat back", lambda: _space(LOADING, seat_back_um=384_999)),
    "in an arch": ("taken away", lambda: _space(LOADING, blocked_um=ARCH)),
    "in the closed tailgate": ("taken away", lambda: _space(LOADING, door_um=DOOR_CLOSED)),
    "in each other": ("overlap", lambda: _moved(LOADING, 2, 0, 250_000, 0)),
    "in the air": ("rest", lambda: _moved(LOADING, 2, 600_000, 10_000, 1)),
    "over an edge": ("rest", lambda: _moved(LOADING, 2, 100_000, 400_000, 200_000)),
    "on the rim": ("rims", lambda: _moved(LOADING, 1, 0, 500_000, 200_000)),
    "heavy on top": ("heavy low", lambda: _of(LOADING, 1, gross_g=11_251, needed=2)),
    "too much on top": ("stacking limits", lambda: _of(LOADING, 0, stack_limit_g=3_999)),
    "too heavy": ("payload", lambda: _space(LOADING, payload_g=20_999)),
    "all in one half": ("spread", lambda: replace(LOADING, rules=LoadRules(spread_percent=10))),
    "no way": ("way in", lambda: _at(LOADING, 2, path_um=((600_000, 10_000, 0),))),
    "another way": ("way in", lambda: _at(LOADING, 2, path_um=LOADED[0].path_um)),
    "aslant": (
        "way in",
        lambda: _at(LOADING, 2, path_um=((599_000, -300_000, 0), (600_000, 10_000, 0))),
    ),
    "from inside": (
        "way in",
        lambda: _at(LOADING, 2, path_um=((600_000, 0, 0), (600_000, 10_000, 0))),
    ),
    "beside the opening": ("way in", lambda: _space(LOADING, opening=DOOR)),
    "by another side": ("way in", lambda: _space(LOADING, opening=HIGH_RIGHT)),
    "through a wall": (
        "way in",
        lambda: _at(
            LOADING,
            2,
            path_um=((600_000, -300_000, 0), (600_000, 600_000, 0), (600_000, 10_000, 0)),
        ),
    ),
    "past an arch": (
        "way in",
        lambda: _at(
            _space(LOADING, blocked_um=FENCE),
            2,
            path_um=OVER,
        ),
    ),
    "past another": (
        "way in",
        lambda: _at(
            LOADING,
            2,
            path_um=(
                (0, -300_000, 0), (0, 400_000, 0), (600_000, 400_000, 0), (600_000, 10_000, 0),
            ),
        ),
    ),
    "needed first, loaded first": ("first needed", lambda: _of(LOADING, 0, needed=1)),
    "nothing secured": ("securing", lambda: replace(LOADING, securing=SECURING[1:])),
    "too weak a strap": (
        "securing",
        lambda: replace(LOADING, securing=(replace(SECURING[0], force_n=25.0), *SECURING[1:])),
    ),
    "told in vain": (
        "securing",
        lambda: replace(LOADING, securing=(*SECURING, replace(SECURING[0], side="forward"))),
    ),
    "told twice": ("securing", lambda: replace(LOADING, securing=(*SECURING, SECURING[0]))),
    "tipping untold": ("securing", lambda: _of(LOADING, 2, centre_um=(40_000, 150_000, 100_000))),
}  # fmt: skip


def test_the_load_made_by_hand_keeps_every_rule() -> None:
    """Else a change of it would prove nothing."""
    assert [str(violation) for violation in verify_load(LOADING).violations] == []


@pytest.mark.parametrize(("rule", "broken"), BREAKS.values(), ids=BREAKS)
def test_a_change_breaks_a_rule(rule: str, broken: Callable[[], Loading]) -> None:
    """The rule that is meant reports it."""
    assert rule in {violation.rule for violation in verify_load(broken()).violations}


def test_every_rule_is_broken_once() -> None:
    """No rule of the table goes without a change that breaks it."""
    assert {rule for rule, _ in BREAKS.values()} == {rule.name for rule in LOAD_RULES}


@pytest.mark.parametrize("seed", range(24))
def test_random_loads_keep_every_rule(seed: int) -> None:
    """Any opening, arches, rims, limits and order of need; what slides is worked out twice."""
    space, cargo = random_load(seed, any_side=True)
    report = verify_load(load(space, cargo, seed=seed, effort=1))
    assert [str(violation) for violation in report.violations] == []
