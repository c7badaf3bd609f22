"""The builds of the example stand as real ones do, and travel only as real ones can."""

from itertools import combinations, permutations

import networkx as nx
import pytest

from packdown.geometry import (
    Cuboid,
    Direction,
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
from packdown.model import Build, JointKind, Part, Piece, Workspace
from packdown.teardown import assemble
from support.saltworks import build_of, placed, solid_of

MM = 1_000
LARGE_ROOM = (1_100 * MM, 800 * MM, 600 * MM)


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


def test_every_build_holds_in_transit_whole(works: Workspace) -> None:
    """With all its joints kept, each build is one item that may be carried as it stands."""
    for build in works.builds:
        pieces = [piece.id for piece in build.pieces]
        item = assemble(build, pieces, works.settings, works.key_weight_g)
        assert item is not None, build.id
        assert WayUp.UPRIGHT in item.allowed_ways_up, build.id


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
