"""The example workspace reads without a problem, and shows everything a collection can hold."""

from collections import Counter
from collections.abc import Iterator
from itertools import combinations, permutations

import networkx as nx
import pytest

from packdown.data import data_folder
from packdown.files import read_workspace
from packdown.geometry import (
    Cuboid,
    Direction,
    Solid,
    WayUp,
    blocks,
    bounds,
    difference,
    lowest_faces,
    overlap,
    rests_on,
    size,
    volume,
)
from packdown.model import (
    Build,
    Grade,
    JointKind,
    Lining,
    Part,
    Piece,
    Workspace,
)
from packdown.units import parse_length

MM = 1_000
SQUARE = 32 * MM
LARGE_ROOM = (1_100 * MM, 800 * MM, 600 * MM)


@pytest.fixture(scope="module")
def works() -> Workspace:
    """Read the example workspace."""
    return read_workspace(data_folder("examples") / "saltworks")


def solid_of(build: Build) -> Solid:
    """Return the covers of all pieces of a build."""
    return tuple(cuboid for piece in build.pieces for cuboid in piece.cuboids_um)


def build_of(works: Workspace, name: str) -> Build:
    """Return the build of that id."""
    return next(build for build in works.builds if build.id == name)


def placed(works: Workspace) -> Iterator[Build]:
    """Yield the builds of which every piece is placed."""
    return (build for build in works.builds if build.grade is Grade.PLACED)


def counted(build: Build) -> int:
    """Return how many pieces a build is made of, those counted in measured units too."""
    return sum(sum(n for _, n in piece.contains) or 1 for piece in build.pieces)


def fits(inner: tuple[int, int, int], extent: tuple[int, int, int]) -> bool:
    """Whether something of that extent goes into a room in any of the six axis-parallel poses."""
    return any(
        all(side <= room for side, room in zip(pose, inner, strict=True))
        for pose in permutations(extent)
    )


def over_nothing(piece: Piece, build: Build) -> int:
    """Return the area of a piece's underside beneath which there is nothing down to the table."""
    under = bounds(piece.cuboids_um).z0
    flat = [Cuboid(c.x0, c.y0, 0, c.x1, c.y1, 1) for c in solid_of(build) if c.z1 <= under]
    own = [Cuboid(r.x0, r.y0, 0, r.x1, r.y1, 1) for r in lowest_faces(piece.cuboids_um)]
    return volume(difference(own, flat))


def supported_percent(piece: Piece, build: Build) -> float:
    """Return the share of a piece's underside that lies on other pieces of its build."""
    area = sum(rect.area for rect in lowest_faces(piece.cuboids_um))
    return 100 * sum(rect.area for rect in rests_on(piece.cuboids_um, solid_of(build))) / area


# --- What there is ---


def test_numbers(works: Workspace) -> None:
    """It is a collection of realistic size: parts, loose pieces, builds and containers."""
    assert len(works.parts) >= 24
    assert len(works.loose) >= 260
    assert len(works.builds) == 8
    assert len(works.containers) >= 9
    assert len({container.type for container in works.containers}) >= 5


def test_loose_pieces_are_of_many_kinds(works: Workspace) -> None:
    """No kind makes up more than a fifth of what is loose, and most kinds are there."""
    kinds = Counter(piece.part for piece in works.loose)
    assert len(kinds) >= 24
    assert kinds.most_common(1)[0][1] * 5 < len(works.loose)


def test_grid_is_not_the_usual_inch(works: Workspace) -> None:
    """Floors are made for squares of 32 mm."""
    sides = {
        side for part in works.parts if "floor" in part.tags for side in size(part.cover_um)[:2]
    }
    assert {side % SQUARE for side in sides} == {0}
    assert all(side % parse_length("1 in") for side in sides)


def test_all_grades_of_builds(works: Workspace) -> None:
    """One build was only measured, one is known in units, all others are placed."""
    grades = Counter(build.grade for build in works.builds)
    assert grades == {Grade.PLACED: 6, Grade.UNITS: 1, Grade.MEASURED: 1}


def test_builds_are_of_6_to_60_pieces(works: Workspace) -> None:
    """The smallest is done in a minute, the two largest are a job."""
    counts = sorted(counted(build) for build in works.builds)
    assert counts[0] >= 6
    assert counts[-1] < 120
    sizes = sorted(len(build.pieces) for build in placed(works))
    assert sizes[0] >= 6
    assert sizes[-1] <= 60
    assert sum(size >= 54 for size in sizes) == 2


def test_units_hold_counted_pieces(works: Workspace) -> None:
    """The measured build and every measured unit say what was counted in them."""
    for build in works.builds:
        for piece in build.pieces:
            assert bool(piece.contains) == (build.grade is not Grade.PLACED)


def test_measured_weights_are_near_what_the_counted_pieces_weigh(works: Workspace) -> None:
    """Glue and paint come on top, but never more than a fifth."""
    grams = {part.id: part.weight_g for part in works.parts}
    for build in works.builds:
        for piece in build.pieces:
            if piece.contains:
                counted_g = sum(grams[part] * number for part, number in piece.contains)
                assert counted_g <= piece.weight_g <= 1.2 * counted_g


def test_every_kind_of_joint(works: Workspace) -> None:
    """Keyed, press-fit, magnetic, stacked and glued joints all occur among placed pieces."""
    kinds = Counter(joint.kind for build in placed(works) for joint in build.joints)
    assert set(kinds) == set(JointKind)
    assert kinds[JointKind.GLUED] >= 2
    assert kinds[JointKind.MAGNETIC] >= 2
    assert kinds[JointKind.KEYED] > sum(kinds.values()) / 2


def test_every_kind_of_part(works: Workspace) -> None:
    """Fragile, upright-only, magnetic, bagged, stepped, hollow and big awkward parts occur."""

    def having(wanted: list[bool]) -> int:
        return sum(wanted)

    parts = works.parts
    assert having([part.carry_limit_g == 0 for part in parts]) >= 5
    assert having([part.ways_up == (WayUp.UPRIGHT,) for part in parts]) >= 5
    assert having([part.magnets > 0 for part in parts]) >= 2
    assert having([part.bagged for part in parts]) >= 3
    assert having([part.cover_um != part.core_um for part in parts]) >= 3
    assert having([len(part.cover_um) >= 4 and part.weight_g >= 250 for part in parts]) >= 2
    loose = {piece.part for piece in works.loose}
    assert having([part.carry_limit_g == 0 and part.id in loose for part in parts]) >= 4
    assert having([part.magnets > 0 and part.id in loose for part in parts]) >= 2


def test_a_triangle_is_built_in(works: Workspace) -> None:
    """A triangular floor is keyed to a build."""
    tip = next(p for p in build_of(works, "causeway").pieces if p.part == "floor-triangle")
    assert volume(tip.core_um) < volume(tip.cuboids_um)
    joints = build_of(works, "causeway").joints
    held = [joint.kind for joint in joints if tip.id in joint.pieces]
    assert held == [JointKind.KEYED, JointKind.KEYED]


def test_containers_differ(works: Workspace) -> None:
    """There is a steel-lined, a shallow foam, a tall and a sheeted one, and a stack of two."""
    boxes = {box.id: box for box in works.containers}
    assert any(box.lining is Lining.STEEL for box in boxes.values())
    foam = [box for box in boxes.values() if box.lining is Lining.FOAM]
    assert foam
    assert foam[0].inner_um[2] < 60 * MM
    assert any(box.inner_um[2] >= max(box.inner_um[:2]) for box in boxes.values())
    assert any(box.sheet_um > 0 for box in boxes.values())
    on_top = [box for box in boxes.values() if box.stacked_on]
    assert len(on_top) == 1
    limit = boxes[str(on_top[0].stacked_on)].stack_limit_g
    assert limit is not None
    assert limit >= works.settings.weight_limit_g
    plans = Counter((box.outer_um[0] + MM * 6) // (100 * MM) for box in boxes.values())
    assert plans[6] >= 3
    assert plans[4] >= 3


def test_groups_and_ranks(works: Workspace) -> None:
    """One group stays together, others never share a container, some builds are needed first."""
    assert len(works.keep_together) >= 1
    assert len(works.keep_apart) >= 1
    known = {piece.id for piece in works.loose}
    known |= {piece.id for build in works.builds for piece in build.pieces}
    for group in works.keep_together + works.keep_apart:
        assert len(group) >= 2
        assert known.issuperset(group)
    ranks = {build.needed for build in works.builds}
    assert {1, 2, 3, None} <= ranks


# --- How the builds stand ---


def test_no_two_pieces_share_space(works: Workspace) -> None:
    """What is certainly solid never overlaps."""
    for build in works.builds:
        for one, two in combinations(build.pieces, 2):
            assert not overlap(one.core_um, two.core_um), (one.id, two.id)


def test_no_piece_floats(works: Workspace) -> None:
    """Every piece stands on the table or on a piece, or hangs on a joint that holds sideways."""
    for build in works.builds:
        holding = {
            piece
            for joint in build.joints
            if joint.kind is not JointKind.STACKED
            for piece in joint.pieces
        }
        for piece in build.pieces:
            on_table = bounds(piece.cuboids_um).z0 == 0
            assert on_table or supported_percent(piece, build) > 0 or piece.id in holding


def test_every_build_is_one(works: Workspace) -> None:
    """Its joints connect all its pieces."""
    for build in works.builds:
        graph = nx.Graph(joint.pieces for joint in build.joints)
        graph.add_nodes_from(piece.id for piece in build.pieces)
        assert nx.is_connected(graph), build.id


def test_walls_are_keyed_to_the_floor_beneath(works: Workspace) -> None:
    """Every wall, corner and kerb has a key in the floor that it stands on."""
    tags = {part.id: part.tags for part in works.parts}
    walls = 0
    for build in placed(works):
        parts = {piece.id: piece.part for piece in build.pieces}
        keyed = {
            joint.pieces[1]
            for joint in build.joints
            if joint.kind is JointKind.KEYED
            and joint.axis == 2
            and "floor" in tags[parts[joint.pieces[0]]]
        }
        own = {piece for piece, part in parts.items() if "wall" in tags[part]}
        assert own <= keyed, build.id
        walls += len(own)
    assert walls >= 60


@pytest.mark.parametrize(
    ("name", "cube_mm"),
    [
        ("boiling-house", (96, 48, 92, 152, 88, 132)),
        ("boiling-house", (200, 40, 106, 280, 150, 132)),
        ("salt-store", (32, 32, 110, 220, 96, 140)),
        ("brine-pans", (110, 40, 10, 150, 216, 20)),
    ],
)
def test_rooms_are_hollow_and_open_at_the_top(
    works: Workspace, name: str, cube_mm: tuple[int, int, int, int, int, int]
) -> None:
    """What is put into a room can leave it only by the top."""
    solid = solid_of(build_of(works, name))
    contents = (Cuboid(*(side * MM for side in cube_mm)),)
    assert not overlap(contents, solid)
    free = [way for way in Direction if not blocks(contents, solid, way)]
    assert free == [Direction.UP]


def test_two_storeys(works: Workspace) -> None:
    """The salt store has rooms on a floor on top of rooms on a floor."""
    build = build_of(works, "salt-store")
    tags = {part.id: part.tags for part in works.parts}

    def heights(tag: str) -> set[int]:
        return {bounds(p.cuboids_um).z0 // MM for p in build.pieces if tag in tags[p.part]}

    assert heights("floor") == {0, 72}
    assert heights("wall") == {8, 80}


@pytest.mark.parametrize(
    ("build", "piece"),
    [("salt-store", "deck-2"), ("salt-store", "deck-4"), ("beacon", "gallery-1")],
)
def test_overhangs(works: Workspace, build: str, piece: str) -> None:
    """Decks of which more than two fifths have nothing beneath them down to the table."""
    whole = build_of(works, build)
    deck = next(own for own in whole.pieces if own.id == f"{build}/{piece}")
    area = sum(rect.area for rect in lowest_faces(deck.cuboids_um))
    assert over_nothing(deck, whole) > 0.4 * area or supported_percent(deck, whole) < 60


def test_no_container_holds_the_tower_or_the_causeway_whole(works: Workspace) -> None:
    """The beacon is taller, the causeway longer than any container in any pose."""
    longest = max(max(box.inner_um) for box in works.containers)
    assert size(solid_of(build_of(works, "beacon")))[2] > longest
    assert size(solid_of(build_of(works, "causeway")))[0] > longest


def test_much_larger_containers_would_hold_every_build_whole(works: Workspace) -> None:
    """No build is larger than 1.1 x 0.8 x 0.6 m."""
    for build in works.builds:
        extent = size(solid_of(build))
        assert all(side <= room for side, room in zip(extent, LARGE_ROOM, strict=True)), build.id


# --- Whether it can be packed ---


def test_weights_are_those_of_printed_shells(works: Workspace) -> None:
    """Large floors weigh 25 to 40 g a module, builds up to 2 kg, nothing is heavier than PLA.

    Density of PLA: 1.24 g/cm3 (Scientific Reports 12, 2022, table 1).
    """
    by_id = {part.id: part for part in works.parts}
    assert 25 <= by_id["floor-2x2"].weight_g <= 40

    def density(part: Part) -> float:
        return part.weight_g / (volume(part.cover_um) / 10**12)

    for part in works.parts:
        assert density(part) <= 1.24, part.id
    for build in works.builds:
        assert 200 <= sum(piece.weight_g for piece in build.pieces) <= 2_000, build.id


def test_each_piece_fits_a_container(works: Workspace) -> None:
    """With its clearance, in some way up, every single piece goes into three containers or more."""
    loose = {piece.part: piece for piece in works.loose}.values()
    for piece in (*loose, *(piece for build in works.builds for piece in build.pieces)):
        x, y, z = size(piece.cuboids_um)
        upright = piece.ways_up == (WayUp.UPRIGHT,)
        homes = 0
        for box in works.containers:
            gap = 2 * box.clearance_um
            length, width, height = box.inner_um
            room = (length - gap, width - gap, height)
            turned = [(x, y, z), (y, x, z)]
            homes += (
                any(all(a <= b for a, b in zip(pose, room, strict=True)) for pose in turned)
                if upright
                else fits(room, (x, y, z))
            )
        assert homes >= 3, piece.id


def test_at_least_four_containers_are_needed(works: Workspace) -> None:
    """No three containers may carry the weight of everything; all together carry twice as much."""
    total = sum(piece.weight_g for piece in works.loose)
    total += sum(piece.weight_g for build in works.builds for piece in build.pieces)
    limit = works.settings.weight_limit_g
    payloads = sorted(min(box.payload_g, limit - box.tare_g) for box in works.containers)
    assert total > sum(payloads[-3:])
    assert total < sum(payloads) / 2


def test_there_is_room_to_spare_but_not_much(works: Workspace) -> None:
    """Solids take a fifth to a third of the containers; boxed in, hollows and all, about half."""
    things = [piece.cuboids_um for piece in works.loose]
    things += [solid_of(build) for build in works.builds]
    room = sum(box.volume_um3 for box in works.containers)
    assert 0.2 < sum(volume(thing) for thing in things) / room < 0.35
    assert 0.45 < sum(bounds(thing).volume for thing in things) / room < 0.6
