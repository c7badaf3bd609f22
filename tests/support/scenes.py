"""Random scenes of disjoint cuboids in a cube of 1,000, each of a kind that is hard to paint."""

import random
from collections.abc import Callable, Sequence
from itertools import product

from packdown.geometry import TURNS, Cuboid, Solid, WayUp, bounds, overlap, rotate_cuboid, rotated

__all__ = ["SCENE", "SCENES"]

SCENE = Cuboid(0, 0, 0, 1_000, 1_000, 1_000)
TRIES = 60
HOOK = (Cuboid(0, 0, 0, 300, 100, 100), Cuboid(200, 0, 100, 300, 100, 300))
"""An L that stands on its long leg."""


def scattered(rng: random.Random) -> list[Cuboid]:
    """Chunks of space, rods through it, and some that touch."""
    grid = rng.choice((1, 50, 250))
    found: list[Cuboid] = []
    for _ in range(TRIES):
        low = [rng.randrange(0, 900 // grid + 1) * grid for _ in range(3)]
        longest = rng.choice((200, 400, 900))
        size = [max(grid, rng.randrange(20, longest) // grid * grid) for _ in range(3)]
        high = [min(a + b, 1_000) for a, b in zip(low, size, strict=True)]
        one = Cuboid(*low, *high)
        if min(one.size) > 0 and not overlap([one], found):
            found.append(one)
    return found


def overhanging(rng: random.Random) -> list[Cuboid]:
    """A container, open above, with mushrooms, tables and brackets that reach over each other."""
    wall = 20
    inner = Cuboid(wall, wall, wall, 1_000 - wall, 1_000 - wall, 1_000)
    found = [
        Cuboid(0, 0, 0, 1_000, 1_000, wall),
        Cuboid(0, 0, wall, wall, 1_000, 700),
        Cuboid(1_000 - wall, 0, wall, 1_000, 1_000, 700),
        Cuboid(wall, 0, wall, 1_000 - wall, wall, 700),
        Cuboid(wall, 1_000 - wall, wall, 1_000 - wall, 1_000, 700),
    ]
    for _ in range(TRIES):
        placed = _placed(_overhang(rng), rng, inner)
        if placed and not overlap(placed, found):
            found += placed
    return found


def _overhang(rng: random.Random) -> Solid:
    """A slab on one foot that it overhangs on all sides or on some; or on several feet."""
    length, width, height = (rng.randrange(10, 31) * 10 for _ in range(3))
    slab = Cuboid(0, 0, height - 30, length, width, height)
    feet: list[Cuboid] = []
    for _ in range(rng.randint(1, 4)):
        x, y = rng.randrange(0, length - 39, 10), rng.randrange(0, width - 39, 10)
        foot = Cuboid(x, y, 0, x + 40, y + 40, height - 30)
        if not overlap([foot], feet):
            feet.append(foot)
    return (slab, *feet)


def hooked(rng: random.Random) -> list[Cuboid]:
    """Pairs of L shapes, each with its short leg in the corner of the other, in any turn."""
    gap = rng.choice((0, 0, 5, 40))
    other = tuple(Cuboid(300 - c.x1, c.y0, 300 - c.z1, 300 - c.x0, c.y1, 300 - c.z0) for c in HOOK)
    along = rng.choice((0, 50, 100))
    pair = (*HOOK, *(c.moved(along, 0, 100 + gap) for c in other))
    found: list[Cuboid] = []
    for _ in range(TRIES):
        placed = _placed(pair, rng, SCENE)
        if placed and not overlap(placed, found):
            found += placed
    return found


def touching(rng: random.Random) -> list[Cuboid]:
    """A block without gaps, cut into pinwheels and halves; some cuboids are taken out of it."""
    todo = [SCENE]
    whole: list[Cuboid] = []
    while todo:
        one = todo.pop()
        if len(todo) + len(whole) > 40 or min(one.size) < 90:
            whole.append(one)
        else:
            todo += _pinwheel(one, rng) if rng.random() < 0.5 else _halves(one, rng)
    keep = rng.uniform(0.4, 1.0)
    return [one for one in whole if rng.random() < keep] or whole


def _halves(one: Cuboid, rng: random.Random) -> list[Cuboid]:
    axis = rng.randrange(3)
    cut = rng.randrange(one[axis] + 30, one[axis + 3] - 30, 10)
    low, high = list(one), list(one)
    low[axis + 3] = high[axis] = cut
    return [Cuboid(*low), Cuboid(*high)]


def _pinwheel(one: Cuboid, rng: random.Random) -> list[Cuboid]:
    """Four cuboids round a fifth, so that no plane parts them."""
    x, y, z = (one.size[axis] // 3 for axis in range(3))
    a, b = one.x0 + x, one.y0 + y
    c, d = one.x1 - x, one.y1 - y
    flat = [
        (one.x0, one.y0, c, b),
        (c, one.y0, one.x1, d),
        (a, d, one.x1, one.y1),
        (one.x0, b, a, one.y1),
        (a, b, c, d),
    ]
    level = one.z0 + z if rng.random() < 0.5 else one.z1
    ends = [(one.z0, level)] + ([(level, one.z1)] if level < one.z1 else [])
    return [Cuboid(p[0], p[1], e[0], p[2], p[3], e[1]) for p, e in product(flat, ends)]


def turned(rng: random.Random) -> list[Cuboid]:
    """Any of the other scenes, stood on any of its sides."""
    scene = rng.choice((scattered, overhanging, hooked, touching))(rng)
    way_up, turn = rng.choice(list(WayUp)), rng.choice(TURNS)
    shift = rotated([SCENE], way_up, turn)[1]
    return [rotate_cuboid(cuboid, way_up, turn).moved(*shift) for cuboid in scene]


def _placed(solid: Sequence[Cuboid], rng: random.Random, within: Cuboid) -> Solid:
    """Return a solid in a random pose at a random place; empty where it is too large."""
    lying, _ = rotated(solid, rng.choice(list(WayUp)), rng.choice(TURNS))
    slack = [a - b for a, b in zip(within.size, bounds(lying).size, strict=True)]
    if min(slack) < 0:
        return ()
    dx, dy, dz = (within[axis] + rng.randrange(0, slack[axis] + 1, 10) for axis in range(3))
    return tuple(cuboid.moved(dx, dy, dz) for cuboid in lying)


SCENES: tuple[Callable[[random.Random], list[Cuboid]], ...] = (
    scattered,
    overhanging,
    hooked,
    touching,
    turned,
)
