"""Seeded builds of floors, walls and posts on a square grid, of 12 to 150 pieces."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations, count
from random import Random

from packdown.geometry import Cuboid, Direction, Solid, bounds, cover_triangle, face_contact, volume
from packdown.model import Build, Grade, Joint, JointKind, Piece, Settings, make_joint

__all__ = ["SHAPES", "grown_build"]

MM = 1_000
SQUARE = 32 * MM
TILE = 2 * SQUARE
THICK = 8 * MM  # of floors and walls
STOREY = 64 * MM
STEP = 4 * MM  # of covers of slanted sides
BAND = 12 * MM  # width of a diagonal wall along the axes
GRAMS_BY_CM3 = 1.1
LEAST = 12

Cell = tuple[int, int]
SIDES: dict[Cell, Direction] = {
    (0, -1): Direction.FRONT,
    (0, 1): Direction.BACK,
    (-1, 0): Direction.LEFT,
    (1, 0): Direction.RIGHT,
}


def grown_build(shape: str, most: int, settings: Settings, *, seed: int) -> Build:
    """Return the largest build of a shape and a seed with at most some number of pieces.

    Parameters
    ----------
    shape
        One of `SHAPES`.
    most
        Number of pieces.
    settings
        Strength and effort of joints.
    seed
        The same seed gives the same build.
    """
    best: _Site | None = None
    for tiles in count(1):
        site = _Site(Random(f"{shape} {seed}"))
        SHAPES[shape](site, tiles)
        if best and len(site.pieces) > most:
            return best.build(f"{shape}-{seed}", settings)
        if len(site.pieces) >= LEAST:
            best = site
    raise AssertionError


@dataclass
class _Site:
    """Pieces put up so far."""

    rng: Random
    pieces: list[Piece] = field(default_factory=list)

    def put(self, what: str, cover: Solid, core: Solid | None = None) -> None:
        """Put up one piece; it weighs what its core weighs in resin."""
        core = core or cover
        self.pieces.append(
            Piece(
                id=f"b/{what}-{len(self.pieces)}",
                part=what,
                name=what,
                build="b",
                weight_g=max(1, round(volume(core) / 10**12 * GRAMS_BY_CM3)),
                cuboids_um=cover,
                core_um=core,
            )
        )

    def floor(self, cell: Cell, level: int, shift: Cell, cut: Cell | None = None) -> None:
        """Lay a tile; with a cut it is a triangle without its corner on that side."""
        x, y = cell[0] * TILE + shift[0] * SQUARE, cell[1] * TILE + shift[1] * SQUARE
        z = level * STOREY
        if cut is None:
            self.put("floor", (Cuboid(x, y, z, x + TILE, y + TILE, z + THICK),))
            return
        cover, core = cover_triangle(TILE, TILE, THICK, STEP)
        self.put("triangle", *(_mirrored(solid, cut, (x, y, z)) for solid in (cover, core)))
        wall = tuple(_mirrored(s, cut, (x, y, z + THICK)) for s in _diagonal(STOREY - THICK))
        self.put("diagonal", *wall)

    def walls(self, cell: Cell, level: int, shift: Cell, sides: Iterable[Cell]) -> None:
        """Put walls on the edges of a tile; those along x go through to the corners."""
        x, y = cell[0] * TILE + shift[0] * SQUARE, cell[1] * TILE + shift[1] * SQUARE
        low, high = level * STOREY + THICK, (level + 1) * STOREY
        sides = set(sides)
        front, back = ((0, -1) in sides) * THICK, ((0, 1) in sides) * THICK
        at = {
            (0, -1): (x, y, x + TILE, y + THICK),
            (0, 1): (x, y + TILE - THICK, x + TILE, y + TILE),
            (-1, 0): (x, y + front, x + THICK, y + TILE - back),
            (1, 0): (x + TILE - THICK, y + front, x + TILE, y + TILE - back),
        }
        for side in sorted(sides):
            x0, y0, x1, y1 = at[side]
            self.put("wall", (Cuboid(x0, y0, low, x1, y1, high),))

    def post(self, cell: Cell, level: int, shift: Cell, *, floor: int = THICK) -> None:
        """Put a post in the middle of a tile, on a floor or on the ground."""
        x, y = (cell[a] * TILE + shift[a] * SQUARE + SQUARE - THICK for a in range(2))
        low, high = level * STOREY + floor, (level + 1) * STOREY
        self.put("post", (Cuboid(x, y, low, x + 2 * THICK, y + 2 * THICK, high),))

    def storey(
        self, cells: list[Cell], level: int = 0, shift: Cell = (0, 0), *, cuts: float = 0.0
    ) -> None:
        """Lay tiles, with most walls along their outer edge, a few within, and some posts."""
        inside = set(cells)
        for cell in cells:
            outer = [s for s in SIDES if (cell[0] + s[0], cell[1] + s[1]) not in inside]
            corner = _corner(outer)
            cut = corner if corner and self.rng.random() < cuts else None
            self.floor(cell, level, shift, cut)
            if cut:
                continue
            inner = [s for s in SIDES if s not in outer and self.rng.random() < 0.08]
            self.walls(cell, level, shift, [s for s in outer if self.rng.random() < 0.85] + inner)
            if not outer and self.rng.random() < 0.7:
                self.post(cell, level, shift)

    def build(self, name: str, settings: Settings) -> Build:
        """Return the build, joined wherever two pieces touch."""
        upright = JointKind.KEYED if self.rng.random() < 0.5 else JointKind.STACKED
        kinds = (JointKind.KEYED, JointKind.KEYED, upright)
        return Build(
            id="b",
            name=name,
            grade=Grade.PLACED,
            pieces=tuple(self.pieces),
            joints=tuple(_joints(self.pieces, kinds, settings)),
        )


def _corner(outer: list[Cell]) -> Cell | None:
    """Return the outer corner of a tile with two outer sides that meet."""
    if len(outer) != 2 or outer[0][0] == -outer[1][0]:
        return None
    return (outer[0][0] + outer[1][0], outer[0][1] + outer[1][1])


def _diagonal(height: int) -> tuple[Solid, Solid]:
    """Return cover and core of a wall along the long side of a triangle tile."""
    steps = range(0, TILE, STEP)
    cover = tuple(
        Cuboid(x, max(0, TILE - x - STEP - BAND), 0, x + STEP, TILE - x, height) for x in steps
    )
    core = tuple(
        Cuboid(x, max(0, TILE - x - BAND), 0, x + STEP, TILE - x - STEP, height) for x in steps[:-1]
    )
    return cover, core


def _mirrored(solid: Solid, cut: Cell, at: tuple[int, int, int]) -> Solid:
    """Turn a triangle at the origin so that the corner on a side is missing, and move it."""
    found = []
    for c in solid:
        x0, x1 = (c.x0, c.x1) if cut[0] > 0 else (TILE - c.x1, TILE - c.x0)
        y0, y1 = (c.y0, c.y1) if cut[1] > 0 else (TILE - c.y1, TILE - c.y0)
        found.append(Cuboid(x0, y0, c.z0, x1, y1, c.z1).moved(*at))
    return tuple(found)


def _joints(
    pieces: list[Piece], kinds: tuple[JointKind, ...], settings: Settings
) -> Iterator[Joint]:
    """Yield a joint for every two pieces that touch, with a connection for each square."""
    boxes = [bounds(piece.cuboids_um) for piece in pieces]
    for (a, one), (b, two) in combinations(enumerate(pieces), 2):
        if any(boxes[a][k] > boxes[b][k + 3] or boxes[b][k] > boxes[a][k + 3] for k in range(3)):
            continue
        sides = face_contact(one.cuboids_um, two.cuboids_um)
        if sides:
            side = max(sides, key=lambda side: (side.axis < 2, sides[side]))
            low, high = (two, one) if sum(side.vector) < 0 else (one, two)
            kind = kinds[side.axis]
            met = [
                min(boxes[a][k + 3], boxes[b][k + 3]) - max(boxes[a][k], boxes[b][k])
                for k in range(3)
                if k != side.axis
            ]
            number = 1 if kind is JointKind.STACKED else max(1, max(met) // SQUARE)
            yield make_joint("b", kind, (low.id, high.id), side.axis, number, settings)


def _block(tiles: int, rng: Random) -> list[Cell]:
    """Return tiles in rows of a random length."""
    length = max(1, round((tiles * rng.uniform(0.7, 2.0)) ** 0.5))
    return [(n % length, n // length) for n in range(tiles)]


def _room(site: _Site, tiles: int) -> None:
    site.storey(_block(tiles, site.rng), cuts=0.6)


def _corridor(site: _Site, tiles: int) -> None:
    cells, (x, y), way = [(0, 0)], (0, 0), (1, 0)
    while len(cells) < tiles:
        if site.rng.random() < 0.25:
            way = (0, 1) if way == (1, 0) else (1, 0)
        x, y = x + way[0], y + way[1]
        cells.append((x, y))
    site.storey(cells, cuts=0.4)


def _two_storeys(site: _Site, tiles: int) -> None:
    lower = _block(tiles, site.rng)
    site.storey(lower)
    shift = site.rng.choice([(0, 0), (1, 0), (0, 1), (1, 1)])
    site.storey(lower[: max(1, round(tiles * site.rng.uniform(0.5, 0.9)))], 1, shift)


def _stepped(site: _Site, tiles: int) -> None:
    cells = _block(tiles, site.rng)
    steps = max(x for x, _ in cells) + 1
    for level in range(min(3, steps)):
        site.storey([cell for cell in cells if cell[0] >= level], level)


def _bridge(site: _Site, tiles: int) -> None:
    height, depth = site.rng.choice([1, 2]), site.rng.choice([1, 1, 2])
    length = max(3, -(-tiles // depth))
    ends = [(x, y) for x in (0, length - 1) for y in range(depth)]
    for level in range(height):
        site.storey(ends, level)
    for x in range(2, length - 2, 3):
        for level in range(height):
            site.post((x, 0), level, (0, 0), floor=0)
    site.storey([(x, y) for x in range(length) for y in range(depth)], height)


SHAPES: dict[str, Callable[[_Site, int], None]] = {
    "room": _room,
    "corridor": _corridor,
    "two-storey": _two_storeys,
    "stepped": _stepped,
    "bridge": _bridge,
}
