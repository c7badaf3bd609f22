"""Small invented workspaces, by hand and at random."""

import random
from collections.abc import Sequence
from dataclasses import replace

from packdown.geometry import (
    Cuboid,
    Direction,
    Solid,
    WayUp,
    direction_of,
    rotate_vector,
    rotated,
    translate,
)
from packdown.model import (
    Build,
    Container,
    Effort,
    Grade,
    JointKind,
    Lining,
    Part,
    Piece,
    Settings,
    Slot,
    Workspace,
    find_joints,
    loose_piece,
)

MM = 1_000
SQUARE = 30 * MM

SETTINGS = Settings(
    effort=Effort(
        split_ms=dict.fromkeys(JointKind, 1_361),
        remake_ms=dict.fromkeys(JointKind, 2_120),
        place_ms=2_700,
    ),
    holds_g={
        JointKind.KEYED: 1_200,
        JointKind.PRESS_FIT: 800,
        JointKind.MAGNETIC: 300,
        JointKind.STACKED: 0,
        JointKind.GLUED: 0,
    },
)


def box(length: int, width: int, height: int) -> Solid:
    """A solid of one cuboid at the origin, in millimetres."""
    return (Cuboid(0, 0, 0, length * MM, width * MM, height * MM),)


def side_slots(length: int, width: int, height: int) -> tuple[Slot, ...]:
    """A keyed slot in the middle of each of the four sides, at a height; in millimetres."""
    x, y, z = length * MM // 2, width * MM // 2, height * MM
    return (
        Slot(at_um=(0, y, z), normal=Direction.LEFT),
        Slot(at_um=(2 * x, y, z), normal=Direction.RIGHT),
        Slot(at_um=(x, 0, z), normal=Direction.FRONT),
        Slot(at_um=(x, 2 * y, z), normal=Direction.BACK),
    )


def tile(name: str = "tile", size: int = 60, weight_g: int = 30) -> Part:
    """A square floor tile 8 mm thick, with a slot in each side."""
    solid = box(size, size, 8)
    return Part(
        id=name,
        name=name.capitalize(),
        cover_um=solid,
        core_um=solid,
        weight_g=weight_g,
        slots=side_slots(size, size, 4),
    )


def wall(name: str = "wall", length: int = 60, height: int = 50, weight_g: int = 25) -> Part:
    """A wall 8 mm thick on a foot, with slots in its ends and faces at the tiles' height."""
    solid = box(length, 8, height)
    return Part(
        id=name,
        name=name.capitalize(),
        cover_um=solid,
        core_um=solid,
        weight_g=weight_g,
        slots=side_slots(length, 8, 4),
        carry_limit_g=2_000,
    )


Spot = tuple[Part, tuple[int, int, int], int]
"""A part, its lower corner in millimetres, and its turn in degrees."""


def build_of(
    name: str, spots: Sequence[Spot], settings: Settings = SETTINGS, **more: object
) -> Build:
    """A build of placed parts, its joints found from their slots."""
    pieces, slots = [], []
    for index, (part, at, turn) in enumerate(spots):
        spot = (at[0] * MM, at[1] * MM, at[2] * MM)
        cover, shift = rotated(part.cover_um, WayUp.UPRIGHT, turn, spot)
        core = rotated(part.core_um, WayUp.UPRIGHT, turn, spot)[0]
        pieces.append(
            Piece(
                id=f"{name}/p{index}",
                part=part.id,
                name=f"{part.name} {index}",
                build=name,
                weight_g=part.weight_g,
                cuboids_um=cover,
                core_um=core,
                ways_up=part.ways_up,
                carry_limit_g=part.carry_limit_g,
                magnets=part.magnets,
            )
        )
        slots.append([_turned(slot, turn, shift) for slot in part.slots])
    return Build(
        id=name,
        name=name.capitalize(),
        grade=Grade.PLACED,
        pieces=tuple(pieces),
        joints=find_joints(name, pieces, slots, settings),
        **more,  # type: ignore[arg-type]
    )


def _turned(slot: Slot, turn: int, shift: tuple[int, int, int]) -> Slot:
    at = rotate_vector(slot.at_um, WayUp.UPRIGHT, turn)
    return Slot(
        at_um=(at[0] + shift[0], at[1] + shift[1], at[2] + shift[2]),
        normal=direction_of(rotate_vector(slot.normal.vector, WayUp.UPRIGHT, turn)),
        kind=slot.kind,
    )


def row(name: str, count: int, part: Part | None = None) -> Build:
    """A row of equal tiles along x."""
    part = part or tile()
    step = part.cover_um[0].x1 // MM
    return build_of(name, [(part, (index * step, 0, 0), 0) for index in range(count)])


def with_fixed(build: Build, joint: str) -> Build:
    """Return the build with one joint that must never be split."""
    joints = tuple(replace(j, fixed=True) if j.id == joint else j for j in build.joints)
    return replace(build, joints=joints)


def room(name: str, length: int = 2, width: int = 2) -> Build:
    """A floor of tiles with walls along its four sides, open at the top."""
    floor, side = tile(), wall()
    spots: list[Spot] = [
        (floor, (60 * x, 60 * y, 0), 0) for y in range(width) for x in range(length)
    ]
    for x in range(length):
        spots += [(side, (60 * x, -8, 0), 0), (side, (60 * x, 60 * width, 0), 0)]
    for y in range(width):
        spots += [(side, (-8, 60 * y, 0), 90), (side, (60 * length, 60 * y, 0), 90)]
    return build_of(name, spots)


def loose(part: Part, count: int) -> tuple[Piece, ...]:
    """Loose copies of a part."""
    return tuple(loose_piece(part, number) for number in range(1, count + 1))


def crate(name: str, length: int, width: int, height: int, **more: object) -> Container:
    """A container with an inside in millimetres, 4 mm of wall and a payload of 10 kg."""
    return Container(
        id=name,
        name=name.capitalize(),
        type="crate",
        inner_um=(length * MM, width * MM, height * MM),
        outer_um=((length + 8) * MM, (width + 8) * MM, (height + 8) * MM),
        **{"tare_g": 500, "payload_g": 10_000, **more},  # type: ignore[arg-type]
    )


def workspace(
    builds: Sequence[Build],
    pieces: Sequence[Piece],
    containers: Sequence[Container],
    **more: object,
) -> Workspace:
    """A workspace of given things."""
    return Workspace(
        name="Small",
        settings=SETTINGS,
        parts=(tile(), wall()),
        loose=tuple(pieces),
        builds=tuple(builds),
        containers=tuple(containers),
        **more,  # type: ignore[arg-type]
    )


def random_workspace(seed: int) -> Workspace:
    """A small workspace drawn at random: rows, rooms, odd loose parts and mixed containers."""
    rng = random.Random(seed)
    builds = []
    for index in range(rng.randint(1, 3)):
        name = f"build{index}"
        if rng.random() < 0.5:
            builds.append(row(name, rng.randint(2, 7)))
        else:
            builds.append(room(name, rng.randint(1, 3), rng.randint(1, 2)))
    pieces: list[Piece] = []
    for index in range(rng.randint(1, 5)):
        pieces.extend(loose(_odd_part(rng, f"odd{index}"), rng.randint(1, 6)))
    containers = [
        crate(
            f"crate{index}",
            rng.randint(150, 420),
            rng.randint(120, 300),
            rng.randint(40, 260),
            lining=rng.choice(tuple(Lining)),
            sheet_um=rng.choice((0, 0, 3 * MM)),
            payload_g=rng.choice((700, 3_000, 10_000)),
        )
        for index in range(rng.randint(1, 4))
    ]
    return workspace(builds, pieces, containers)


def _odd_part(rng: random.Random, name: str) -> Part:
    """A part of one to three stacked or stepped cuboids with odd rules."""
    length, width, height = (rng.randint(15, 90) for _ in range(3))
    cuboids = list(box(length, width, height))
    if rng.random() < 0.5:
        top = box(max(5, length // 3), width, rng.randint(5, 60))
        cuboids += translate(top, 0, 0, height * MM)
    ways = rng.choice(((WayUp.UPRIGHT,), (WayUp.UPRIGHT, WayUp.UPSIDE_DOWN), tuple(WayUp)))
    return Part(
        id=name,
        name=name.capitalize(),
        cover_um=tuple(cuboids),
        core_um=tuple(cuboids),
        weight_g=rng.randint(5, 400),
        ways_up=ways,
        carry_limit_g=rng.choice((None, None, 0, 50, 500)),
        magnets=rng.choice((0, 0, 2)),
    )
