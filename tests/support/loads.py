"""Small load spaces and cargo whose figures can be checked by hand."""

from dataclasses import replace
from random import Random

from packdown.geometry import Cuboid
from packdown.model import Cargo, LoadSpace, Opening, OpeningSide

__all__ = ["box", "random_load", "vehicle"]


def vehicle() -> LoadSpace:
    """Return a floor of 1,000 x 800 mm, 700 mm high, open at the back, seat back at 500 mm."""
    return LoadSpace(
        id="car",
        name="Car",
        size_um=(1_000_000, 800_000, 700_000),
        opening=Opening(side=OpeningSide.BACK, low_um=(0, 0), size_um=(1_000_000, 700_000)),
        payload_g=150_000,
        seat_back_um=500_000,
        friction=0.3,
        lashing_points=4,
        sill_um=650_000,
    )


def box(name: str, gross_g: int, size_mm: tuple[int, int, int] = (400, 300, 200)) -> Cargo:
    """Return a container whose centre of gravity is in its middle."""
    x, y, z = (side * 1_000 for side in size_mm)
    return Cargo(
        id=name,
        name=name.upper(),
        size_um=(x, y, z),
        gross_g=gross_g,
        centre_um=(x // 2, y // 2, z // 2),
    )


SIZES_MM = (
    (400, 300, 147),
    (400, 300, 220),
    (400, 300, 320),
    (600, 400, 120),
    (600, 400, 170),
    (300, 200, 120),
)


def random_load(
    seed: int, *, number: int | None = None, any_side: bool = False
) -> tuple[LoadSpace, tuple[Cargo, ...]]:
    """Return a load space and 5 to 14 containers: arches, rims, limits and order at random."""
    draw = Random(seed)
    cargo = tuple(_random_box(f"b{n}", draw) for n in range(number or draw.randint(5, 14)))
    side = draw.choice(list(OpeningSide)) if any_side else OpeningSide.BACK
    space = vehicle()
    width, length = draw.randrange(900, 1_201, 20), draw.randrange(600, 901, 20)
    size_um = (width * 1_000, length * 1_000, 700_000)
    edge = draw.choice((0, 40_000))
    whole = [extent for axis, extent in enumerate(size_um) if axis != side.axis]
    opening = Opening(
        side=side, low_um=(edge, edge), size_um=(whole[0] - 2 * edge, whole[1] - 2 * edge)
    )
    arch = draw.choice((0, 60_000, 100_000))
    ends = (length * 250, length * 750, 260_000)
    arches = (
        Cuboid(0, ends[0], 0, arch, ends[1], ends[2]),
        Cuboid(size_um[0] - arch, ends[0], 0, size_um[0], ends[1], ends[2]),
    )
    seat_back = draw.randrange(360, 561, 20) * 1_000
    return replace(
        space,
        size_um=size_um,
        opening=opening,
        blocked_um=arches if arch else (),
        seat_back_um=seat_back,
        payload_g=draw.choice((40_000, 80_000, 150_000)),
    ), cargo


def _random_box(name: str, draw: Random) -> Cargo:
    size = draw.choice(SIZES_MM)
    return replace(
        box(name, draw.randrange(1_500, 9_001, 100), size),
        nest_um=15_000 if size[2] == 147 else 0,
        needed=draw.choice((None, None, 1, 2)),
        stack_limit_g=draw.choice((None, 6_000, 12_000, 20_000)),
    )
