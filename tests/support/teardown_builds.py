"""Small builds for the tests of taking apart, and random ones of any size."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import isqrt
from random import Random

from packdown.geometry import Cuboid, Solid, Vector, WayUp, face_contact
from packdown.model import (
    Build,
    Container,
    Effort,
    Grade,
    Joint,
    JointKind,
    Piece,
    Rules,
    Settings,
)

KINDS = tuple(JointKind)
#: Work and strength in round figures: a keyed connection takes 7 s and holds 1,200 g.
SETTINGS = Settings(
    effort=Effort(
        split_ms=dict.fromkeys(KINDS, 3_000),
        remake_ms=dict.fromkeys(KINDS, 4_000),
        place_ms=5_000,
        usual=1.0,
    ),
    holds_g={
        JointKind.KEYED: 1_200,
        JointKind.PRESS_FIT: 600,
        JointKind.MAGNETIC: 400,
        JointKind.STACKED: 0,
    },
)
RULES = Rules(
    support_percent=80,
    shock_factor=3,
    joint_tolerance_um=200,
    weight_limit_g=15_000,
    place_s=5,
    effort_low=0.5,
    effort_high=1.5,
    key_weight_g=1,
)
SQUARE = 30_000
KEY_G = 1


def mm(*values: int) -> Cuboid:
    """Return a cuboid from its two corners in millimetres."""
    return Cuboid(*(value * 1_000 for value in values))


def piece(name: str, *cuboids: Cuboid, weight_g: int = 40, **more: object) -> Piece:
    """Return a piece of build b; its core is its cover unless told otherwise."""
    given: dict[str, object] = {"cuboids_um": cuboids, "core_um": cuboids, **more}
    return Piece(
        id=f"b/{name}",
        part="p",
        name=name,
        build="b",
        weight_g=weight_g,
        **given,  # type: ignore[arg-type]
    )


def joint(
    one: str,
    two: str,
    axis: int = 0,
    *,
    kind: JointKind = JointKind.KEYED,
    holds_g: int | None = 1_200,
    effort_s: int = 7,
    fixed: bool = False,
) -> Joint:
    """Return a joint of one connection between two pieces of build b."""
    return Joint(
        id=f"b/{one}+{two}",
        kind=kind,
        pieces=(f"b/{one}", f"b/{two}"),
        axis=axis,
        connections=1,
        keys=1 if kind is JointKind.KEYED else 0,
        holds_g=holds_g,
        effort_s=effort_s,
        fixed=fixed,
    )


def build_of(pieces: Iterable[Piece], joints: Iterable[Joint] = ()) -> Build:
    """Return build b."""
    return Build(
        id="b", name="Test hall", grade=Grade.PLACED, pieces=tuple(pieces), joints=tuple(joints)
    )


def box(name: str, *inner_mm: int, payload_g: int = 10_000, clearance_um: int = 0) -> Container:
    """Return a container of an inner size in millimetres."""
    x, y, z = inner_mm
    inner: Vector = (x * 1_000, y * 1_000, z * 1_000)
    return Container(
        id=name,
        name=name,
        type="box",
        inner_um=inner,
        outer_um=inner,
        tare_g=0,
        payload_g=payload_g,
        clearance_um=clearance_um,
    )


def random_boxes(random: Random) -> list[Container]:
    """Return one or two boxes of a size at which random builds must be split."""
    return [
        box(
            f"c{i}",
            *(random.choice([45, 65, 95, 125]) for _ in range(3)),
            payload_g=random.choice([300, 600, 10_000]),
            clearance_um=random.choice([0, 1_000]),
        )
        for i in range(random.choice([1, 2]))
    ]


def row(count: int) -> Build:
    """Return a row of tiles of 30 x 30 x 6 mm, each keyed to the next."""
    tiles = [piece(f"t{i}", mm(30 * i, 0, 0, 30 * i + 30, 30, 6)) for i in range(count)]
    return build_of(tiles, [joint(f"t{i}", f"t{i + 1}") for i in range(count - 1)])


def touching(pieces: Sequence[Piece], kinds: dict[int, JointKind]) -> list[Joint]:
    """Return a joint wherever two pieces touch, of the kind given for the axis."""
    joints = []
    for i, one in enumerate(pieces):
        for two in pieces[i + 1 :]:
            sides = face_contact(one.cuboids_um, two.cuboids_um)
            for axis in sorted({side.axis for side in sides})[:1]:
                if min(c[axis] for c in two.cuboids_um) < min(c[axis] for c in one.cuboids_um):
                    low, high = two, one
                else:
                    low, high = one, two
                kind = kinds[axis]
                joints.append(
                    joint(
                        low.name,
                        high.name,
                        axis,
                        kind=kind,
                        holds_g=SETTINGS.holds_g[kind],
                        effort_s=2 if kind is JointKind.STACKED else 7,
                    )
                )
    return joints


def hall(columns: int, rows: int, storeys: int = 1) -> Build:
    """Return keyed floors of 2 x 2 squares with walls along the outer edges of each storey.

    Walls stand on the edge of their floor tile, are keyed to each other in a row and stacked on
    the floor; upper floors lie on the walls.
    """
    pieces = []
    for level in range(storeys):
        z = 70 * level
        for c in range(columns):
            for r in range(rows):
                x, y = 60 * c, 60 * r
                pieces.append(
                    piece(f"f{level}-{c}-{r}", mm(x, y, z, x + 60, y + 60, z + 10), weight_g=45)
                )
        top = z + 10
        for c in range(columns):
            for side, y in (("s", 0), ("n", 60 * rows - 10)):
                cover = mm(60 * c, y, top, 60 * c + 60, y + 10, top + 60)
                pieces.append(piece(f"w{level}{side}{c}", cover, weight_g=50))
        for r in range(rows):
            low, high = (10 if r == 0 else 0), (50 if r == rows - 1 else 60)
            for side, x in (("w", 0), ("e", 60 * columns - 10)):
                cover = mm(x, 60 * r + low, top, x + 10, 60 * r + high, top + 60)
                pieces.append(piece(f"w{level}{side}{r}", cover, weight_g=45))
    kinds = {0: JointKind.KEYED, 1: JointKind.KEYED, 2: JointKind.STACKED}
    return build_of(pieces, touching(pieces, kinds))


def undermined(random: Random) -> Build:
    """Return a random build with weak joints, of which some pieces were taken away."""
    build = random_build(random, 14)
    left = random.sample(build.pieces, 9)
    names = {piece.id for piece in left}
    joints = tuple(
        replace(
            each,
            bends_mnm=random.randrange(0, 400),
            holds_g=0 if each.kind is JointKind.STACKED else random.randrange(50, 1_500),
        )
        for each in build.joints
        if names.issuperset(each.pieces)
    )
    return replace(build, pieces=tuple(left), joints=joints)


def random_build(random: Random, count: int) -> Build:
    """Return `count` random pieces dropped near each other, joined where they touch."""
    pieces: list[Piece] = []
    taken: list[Cuboid] = []
    side = max(4, isqrt(2 * count))
    while len(pieces) < count:
        x, y = random.randrange(side), random.randrange(side)
        dx, dy, dz = random.choice([(1, 1, 1), (2, 1, 1), (1, 2, 1), (2, 2, 1), (1, 1, 2)])
        plan = Cuboid(x, y, 0, x + dx, y + dy, 1)
        z = max((c.z1 for c in taken if c.moved(0, 0, -c.z0).overlaps(plan)), default=0)
        if z > 3:
            continue
        cell = Cuboid(x, y, z, x + dx, y + dy, z + dz)
        taken.append(cell)
        cover: Solid = (Cuboid(*(value * SQUARE for value in cell)),)
        ways = tuple(WayUp) if random.random() < 0.8 else (WayUp.UPRIGHT,)
        pieces.append(
            piece(f"p{len(pieces)}", *cover, weight_g=random.randrange(20, 200), ways_up=ways)
        )
    kinds = {
        axis: random.choice([JointKind.KEYED, JointKind.PRESS_FIT, JointKind.MAGNETIC])
        for axis in (0, 1)
    }
    kinds[2] = random.choice([JointKind.KEYED, JointKind.STACKED])
    joints = touching(pieces, kinds)
    return build_of(pieces, joints)
