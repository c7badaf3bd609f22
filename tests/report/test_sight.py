"""How much of a thing is seen: worked out by hand, and the same as on the drawing."""

import random

import pytest

from packdown.geometry import Cuboid, bounds, overlap
from packdown.report.projection import Camera
from packdown.report.sight import seen_share
from support.painted import painted_share

FAR = Camera.looking_at(Cuboid(0, 0, 0, 100, 100, 100), azimuth=0, elevation=0, away=500)
"""Level with the middle, so far in front that lines of sight are all but parallel."""


def test_what_stands_free_is_seen_whole() -> None:
    """Nothing in front, or only something behind: all of it is seen."""
    thing = (Cuboid(0, 0, 0, 100, 100, 100),)
    assert seen_share(thing, (), FAR) == 1
    assert seen_share(thing, (Cuboid(0, 100, 0, 100, 200, 300),), FAR) == 1


def test_half_a_thing_is_half_seen() -> None:
    """A wall hides the left half, then a fence of 30 of 100 the lower part of what is left."""
    thing = (Cuboid(0, 0, 0, 100, 100, 100),)
    wall = Cuboid(0, -50, 0, 50, -40, 100)
    assert seen_share(thing, (wall,), FAR) == pytest.approx(0.5, abs=0.01)
    fence = Cuboid(50, -50, 0, 100, -40, 30)
    assert seen_share(thing, (wall, fence), FAR) == pytest.approx(0.35, abs=0.02)


def test_what_is_walled_in_is_not_seen() -> None:
    """A wall as large as the thing leaves nothing."""
    thing = (Cuboid(0, 0, 0, 100, 100, 100),)
    assert seen_share(thing, (Cuboid(-9, -50, -9, 109, -40, 109),), FAR) == 0


def test_a_thing_does_not_hide_itself() -> None:
    """A post behind a wall of the same thing is no loss."""
    thing = (Cuboid(0, 0, 0, 100, 10, 100), Cuboid(40, 50, 0, 60, 60, 90))
    assert seen_share(thing, (Cuboid(0, 80, 0, 100, 90, 100),), FAR) == 1


@pytest.mark.parametrize("seed", range(20))
def test_shares_are_those_of_the_drawing(seed: int) -> None:
    """The painted polygons leave as much of a thing as the rays find, within 4 per cent.

    Both sample: 1,024 rays over the thing, and pixels of the whole drawing.
    """
    rng = random.Random(seed)
    solids: list[Cuboid] = []
    while len(solids) < 12:
        low = [rng.randrange(0, 800) for _ in range(3)]
        one = Cuboid(*low, *(at + rng.randrange(100, 400) for at in low))
        if not overlap([one], solids):
            solids.append(one)
    box = bounds(solids)
    camera = Camera.looking_at(box, azimuth=rng.uniform(-180, 180), elevation=rng.uniform(5, 75))
    thing, around = tuple(solids[:2]), tuple(solids[2:])
    share = seen_share(thing, around, camera)
    assert share == pytest.approx(painted_share(thing, around, camera, box), abs=0.04)
