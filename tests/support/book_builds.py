"""Three invented builds: a house of rooms, a tower of storeys and a bridge of spans."""

from collections.abc import Iterator, Sequence
from itertools import combinations, product

from packdown.geometry import Cuboid, Direction, face_contact, volume
from packdown.model import Joint, JointKind, JointState, Piece, PlanBuild

__all__ = ["bridge", "build_of", "house", "piece", "tower"]

MM = 1_000
SIZES = {
    "floor": (64, 64, 8),
    "wall-x": (64, 8, 56),
    "wall-y": (8, 64, 56),
    "post": (16, 16, 64),
    "deck": (96, 64, 10),
    "rail": (96, 6, 24),
    "banner": (24, 24, 80),
}
NAMES = {
    "floor": "Flagstone floor",
    "wall-x": "Plank wall",
    "wall-y": "Plank wall, cross",
    "post": "Corner post",
    "deck": "Bridge deck",
    "rail": "Rope rail",
    "banner": "Banner pole",
}


def piece(build: str | None, name: str, part: str, at: tuple[int, int, int]) -> Piece:
    length, width, height = SIZES[part]
    x, y, z = (value * MM for value in at)
    solid = (Cuboid(x, y, z, x + length * MM, y + width * MM, z + height * MM),)
    return Piece(
        id=f"{build}/{name}" if build else name,
        part=part,
        name=NAMES[part],
        build=build,
        weight_g=max(20, volume(solid) * 9 // 10**13),
        cuboids_um=solid,
        core_um=solid,
        magnets=2 if part == "banner" else 0,
    )


def _room(build: str, name: str, x: int, y: int, z: int, squares: int) -> Iterator[Piece]:
    """A room of floors with walls on all sides but a gap in front."""
    for i, j in product(range(squares), range(2)):
        yield piece(build, f"{name}-floor-{i}{j}", "floor", (x + 64 * i, y + 64 * j, z))
    for i in range(squares):
        yield piece(build, f"{name}-back-{i}", "wall-x", (x + 64 * i, y + 120, z + 8))
        if i:
            yield piece(build, f"{name}-front-{i}", "wall-x", (x + 64 * i, y, z + 8))
    yield piece(build, f"{name}-left", "wall-y", (x, y + 56, z + 8))
    yield piece(build, f"{name}-right", "wall-y", (x + 64 * squares - 8, y + 8, z + 8))


def house() -> list[list[Piece]]:
    rooms = [("hall", 0, 0, 3), ("store", 192, 0, 2), ("kitchen", 0, 128, 2), ("loft", 128, 128, 3)]
    return [list(_room("lantern-house", name, x, y, 0, n)) for name, x, y, n in rooms]


def tower() -> list[list[Piece]]:
    return [list(_room("stair-tower", f"storey-{n}", 0, 0, 64 * n, 2)) for n in range(4)]


def bridge() -> list[list[Piece]]:
    spans = []
    for n in range(3):
        span = [piece("rope-bridge", f"deck-{n}", "deck", (96 * n, 0, 64))]
        span += [
            piece("rope-bridge", f"rail-{n}{side}", "rail", (96 * n, y, 74))
            for side, y in (("a", 0), ("b", 58))
        ]
        spans.append(span)
    posts = [
        [piece("rope-bridge", f"post-{n}", "post", (x, y, 0))]
        for n, (x, y) in enumerate(product((0, 272), (0, 48)))
    ]
    return spans + posts


def _joints(build: str, groups: Sequence[Sequence[Piece]]) -> tuple[Joint, ...]:
    owner = {piece.id: n for n, group in enumerate(groups) for piece in group}
    pieces = [piece for group in groups for piece in group]
    joints: list[Joint] = []
    for a, b in combinations(pieces, 2):
        for side in face_contact(a.cuboids_um, b.cuboids_um):
            stacked = side.axis == 2
            under, over = (a, b) if side is not Direction.DOWN else (b, a)
            joints.append(
                Joint(
                    id=f"{build}/j{len(joints)}",
                    kind=JointKind.STACKED if stacked else JointKind.KEYED,
                    pieces=(under.id, over.id),
                    axis=side.axis,
                    connections=1,
                    keys=0 if stacked else 1,
                    holds_g=1200,
                    effort_s=6,
                    state=(JointState.SPLIT if owner[a.id] != owner[b.id] else JointState.KEPT),
                )
            )
    return tuple(joints)


def build_of(build: str, name: str, groups: Sequence[Sequence[Piece]]) -> PlanBuild:
    joints = _joints(build, groups)
    effort = sum(j.effort_s for j in joints if j.state is JointState.SPLIT) + 20 * len(groups)
    return PlanBuild(
        id=build,
        name=name,
        joints=joints,
        sub_assemblies=tuple(tuple(piece.id for piece in group) for group in groups),
        effort_s=effort,
        effort_bound_s=effort - (60 if build == "lantern-house" else 0),
        proved=build != "lantern-house",
    )
