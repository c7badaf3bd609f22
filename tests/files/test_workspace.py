"""What a workspace is read as."""

from pathlib import Path

import pytest

from packdown.errors import InputError
from packdown.files import read_defaults, read_workspace
from packdown.geometry import ON_SIDE, Cuboid, Direction, WayUp, bounds, volume
from packdown.model import Build, Grade, Joint, JointKind, Lining, Piece, Workspace
from support.workspaces import FILES, altered, write


@pytest.fixture(name="quarry")
def quarry_workspace(tmp_path: Path) -> Workspace:
    """Return the workspace of the quarry."""
    return read_workspace(write(tmp_path))


def build_of(workspace: Workspace, name: str) -> Build:
    """Return a build by its id."""
    return next(build for build in workspace.builds if build.id == name)


def piece_of(build: Build, name: str) -> Piece:
    """Return a piece by its id in the build."""
    return next(piece for piece in build.pieces if piece.id == f"{build.id}/{name}")


def joint_of(build: Build, *names: str) -> Joint:
    """Return the joint of two pieces, in this order."""
    ids = tuple(f"{build.id}/{name}" for name in names)
    return next(joint for joint in build.joints if joint.pieces == ids)


def test_settings_are_read_over_the_defaults(quarry: Workspace) -> None:
    """What packdown.toml says holds; what it leaves out comes from the defaults."""
    usual = read_defaults().settings
    assert quarry.name == "Quarry"
    assert quarry.settings.shock_factor == 1
    assert quarry.settings.weight_limit_g == 12_000
    assert quarry.settings.support_percent == usual.support_percent
    assert quarry.settings.holds_g == usual.holds_g | {JointKind.KEYED: 1_000}
    assert quarry.settings.bends_mnm == usual.bends_mnm
    assert quarry.settings.effort == usual.effort
    assert (quarry.key_weight_g, quarry.key_size_um) == (2, (12_000, 8_000, 3_000))


def test_moments_are_read_in_newton_metres(tmp_path: Path) -> None:
    """0.05 N m of one key are 50 mN m; the two keys between two slabs bear 100 mN m."""
    files = altered("packdown.toml", "[key]", "[bends]\nkeyed = 0.05\n[key]")
    found = read_workspace(write(tmp_path, files))
    usual = read_defaults().settings.bends_mnm
    assert found.settings.bends_mnm == usual | {JointKind.KEYED: 50}
    face = next(build for build in found.builds if build.id == "face")
    assert joint_of(face, "s-1", "s-2").bends_mnm == 100


def test_wishes_are_read(tmp_path: Path) -> None:
    """A group is kept, or rather kept, at every joint within; pieces or whole parts go alone."""
    row = "repeat = { count = [2, 1], step = [2, 2] }"
    face = FILES["builds/face.toml"].replace(row, row.replace("2, 1", "3, 1"))
    face = face.replace('keep = [["s-1", "s-2"]]', 'rather_keep = [["s-1", "s-2", "s-3"]]')
    files = altered("parts.toml", "[parts.fence]\n", "[parts.fence]\nalone = true\n")
    files["packdown.toml"] = files["packdown.toml"].replace(
        "[holds]", "rather_keep_s = 90\n[holds]"
    )
    files["builds/face.toml"] = face.replace('glued = [["f", "s-1"]]\n', "")
    files["builds/rest.toml"] = files["builds/rest.toml"].replace("joints", 'alone = ["r"]\njoints')
    found = read_workspace(write(tmp_path, files))
    face_build, hut = (
        next(build for build in found.builds if build.id == name) for name in ("face", "hut")
    )
    spared = {joint.pieces: joint.spare_s for joint in face_build.joints if joint.spare_s}
    assert spared == {("face/s-1", "face/s-2"): 90, ("face/s-2", "face/s-3"): 90}
    assert {piece.name for piece in face_build.pieces if piece.alone} == {"Fence"}
    assert [piece.id for piece in hut.pieces if piece.alone] == ["hut/r"]


def test_loose_pieces_are_what_no_build_uses(quarry: Workspace) -> None:
    """6 slabs less 2 placed and 1 in the cart, 4 fences less 2, and 3 lamps are loose."""
    assert [piece.id for piece in quarry.loose] == [
        "slab#1", "slab#2", "slab#3", "fence#1", "fence#2", "lamp#1", "lamp#2", "lamp#3",
    ]  # fmt: skip
    assert {piece.build for piece in quarry.loose} == {None}


def test_a_part_that_is_not_counted_is_owned_as_often_as_used(tmp_path: Path) -> None:
    """Without counts nothing is loose, and builds may use what they like."""
    files = altered("packdown.toml", 'pieces = ["lamp#1", "hut/e"]', 'builds = ["face"]')
    files = {name: text for name, text in files.items() if name != "counts.csv"}
    assert read_workspace(write(tmp_path, files)).loose == ()


def test_parts_of_both_files(quarry: Workspace) -> None:
    """Rows of parts.csv give the same as tables of parts.toml."""
    slab, fence, heap, lamp = quarry.parts
    assert (slab.id, slab.name, slab.weight_g, slab.tags) == ("slab", "Slab", 60, ("stone",))
    assert heap.name == "heap"
    assert fence.ways_up == (WayUp.UPRIGHT, *ON_SIDE)
    assert (lamp.weight_g, lamp.carry_limit_g, lamp.magnets) == (5, 0, 1)
    assert (lamp.bagged, lamp.tags) == (True, ("light", "spare"))
    assert lamp.ways_up == (WayUp.UPRIGHT, *ON_SIDE)
    assert lamp.cover_um == (Cuboid(0, 0, 0, 10_000, 10_000, 40_000),)


def test_lengths_of_parts_round_up_and_insides_down(tmp_path: Path) -> None:
    """1/3 in is 8466.67 um: 8467 for a part, 8466 for the inside of a container."""
    files = altered("parts.csv", "10 mm,10 mm,40 mm", "1/3 in,1/3 in,1/3 in")
    files |= {
        "containers.toml": FILES["containers.toml"]
        .replace('["300 mm", "200 mm", "100 mm"]', '["300 mm", "200 mm", "10 1/3 in"]')
        .replace('"110 mm"]', '"270 mm"]')
    }
    workspace = read_workspace(write(tmp_path, files))
    assert workspace.parts[-1].cover_um[0].size == (8_467, 8_467, 8_467)
    assert workspace.containers[0].inner_um[2] == 262_466


def test_triangles_have_a_cover_and_a_smaller_core(quarry: Workspace) -> None:
    """The prism of 32 x 32 / 2 x 24 mm lies between its core and its cover."""
    heap = quarry.parts[2]
    true_volume = 32_000 * 32_000 * 24_000 // 2
    assert volume(heap.core_um) < true_volume < volume(heap.cover_um)
    assert bounds(heap.cover_um).size == (32_000, 32_000, 24_000)


def test_slots_stand_in_the_middle_of_each_square(quarry: Workspace) -> None:
    """A slab of 2 x 2 squares has two slots on each of four sides."""
    slots = quarry.parts[0].slots
    assert len(slots) == 8
    left = [slot.at_um for slot in slots if slot.normal is Direction.LEFT]
    assert left == [(0, 16_000, 4_000), (0, 48_000, 4_000)]


def test_a_slot_lies_on_the_face_one_meets_first(tmp_path: Path) -> None:
    """On a stepped part the top at the back is lower than the top at the front."""
    files = FILES | {
        "parts.toml": FILES["parts.toml"]
        + """
[parts.step]
weight = "20 g"
cuboids = [
    { from = ["0 mm", "0 mm", "0 mm"], to = ["20 mm", "10 mm", "30 mm"] },
    { from = ["0 mm", "10 mm", "0 mm"], to = ["20 mm", "20 mm", "6 mm"] },
]
slots = [
    { side = "top", at = ["10 mm", "5 mm"] },
    { side = "top", at = ["10 mm", "15 mm"] },
    { side = "back", at = ["10 mm", "20 mm"] },
]
"""
    }
    slots = read_workspace(write(tmp_path, files)).parts[3].slots
    assert [slot.at_um for slot in slots] == [
        (10_000, 5_000, 30_000),
        (10_000, 15_000, 6_000),
        (10_000, 10_000, 20_000),
    ]


def test_containers_take_their_type_and_override_it(quarry: Workspace) -> None:
    """Both crates share a type; one has a lining of its own and stands on the other."""
    low, high = quarry.containers
    assert (low.type, low.name, low.lining) == ("crate", "low", Lining.NONE)
    assert (low.inner_um, low.clearance_um) == ((300_000, 200_000, 100_000), 2_000)
    assert (low.stack_limit_g, low.stacked_on) == (10_000, None)
    assert (high.stack_limit_g, high.stacked_on, high.lining) == (None, "low", Lining.STEEL)


def test_pieces_come_down_on_those_before_them(quarry: Workspace) -> None:
    """Fences placed without a height stand on the slabs, 8 mm up; rows count from 1."""
    face = build_of(quarry, "face")
    assert face.grade is Grade.PLACED
    assert bounds(piece_of(face, "s-2").cuboids_um)[:3] == (64_000, 0, 0)
    assert bounds(piece_of(face, "f").cuboids_um) == (0, 0, 8_000, 64_000, 10_000, 58_000)


def test_joints_are_found_and_said_by_hand(quarry: Workspace) -> None:
    """Slabs are keyed and kept, a fence is glued, the other stands, and two magnets meet."""
    face = build_of(quarry, "face")
    keyed = joint_of(face, "s-1", "s-2")
    assert (keyed.kind, keyed.keys, keyed.fixed) == (JointKind.KEYED, 2, True)
    glued = joint_of(face, "s-1", "f")
    assert (glued.kind, glued.fixed, glued.holds_g) == (JointKind.GLUED, True, None)
    assert joint_of(face, "s-2", "g").kind is JointKind.STACKED
    # g is turned by 180 degrees: its left slot looks right, away from f, so nothing meets.
    assert len(face.joints) == 3


def test_slots_turn_with_their_piece(tmp_path: Path) -> None:
    """The left slots of two fences back to back meet: they are held by magnets."""
    files = altered(
        "builds/face.toml",
        'part = "fence", at = [0, 0] }',
        'part = "fence", at = [0, 0], turn = 180 }',
    )
    files["builds/face.toml"] = files["builds/face.toml"].replace(
        'at = ["64 mm", "0 mm"], turn = 180', 'at = ["64 mm", "0 mm"]'
    )
    face = build_of(read_workspace(write(tmp_path, files)), "face")
    assert joint_of(face, "f", "g").kind is JointKind.MAGNETIC


@pytest.mark.parametrize(
    ("keys", "kinds"),
    [
        ('"all"', {JointKind.KEYED, JointKind.STACKED, JointKind.GLUED}),
        ('"none"', {JointKind.STACKED, JointKind.GLUED}),
        ('[["s-2", "s-1"]]', {JointKind.KEYED, JointKind.STACKED, JointKind.GLUED}),
    ],
)
def test_keys_are_where_they_are_said_to_be(
    tmp_path: Path, keys: str, kinds: set[JointKind]
) -> None:
    """Without its keys a keyed pair is no joint."""
    files = altered("builds/face.toml", 'keep = [["s-1", "s-2"]]', f"keys = {keys}")
    face = build_of(read_workspace(write(tmp_path, files)), "face")
    assert {joint.kind for joint in face.joints} == kinds


def test_tipped_pieces_say_their_ways_up_in_the_frame_of_the_build(tmp_path: Path) -> None:
    """A fence that lies on its back may go on lying so, or stand as its part may."""
    files = altered(
        "builds/face.toml", 'at = ["64 mm", "0 mm"], turn = 180', 'at = [2, 0], way_up = "on-back"'
    )
    workspace = read_workspace(write(tmp_path, files))
    lying = piece_of(build_of(workspace, "face"), "g")
    assert bounds(lying.cuboids_um).size == (64_000, 50_000, 10_000)
    # Upright the part's base was down; now it looks forward or back, and its top cannot be down.
    assert len(lying.ways_up) == 5
    assert WayUp.UPRIGHT in lying.ways_up
    assert lying.magnets == 0
    assert piece_of(build_of(workspace, "face"), "f").magnets == 2


def test_units_stand_on_each_other(quarry: Workspace) -> None:
    """The roof of the hut comes down on its walls and is the upper piece of their joint."""
    hut = build_of(quarry, "hut")
    assert hut.grade is Grade.UNITS
    assert bounds(piece_of(hut, "r").cuboids_um).z0 == 40_000
    joint = joint_of(hut, "e", "r")
    assert (joint.kind, joint.axis, joint.connections) == (JointKind.PRESS_FIT, 2, 2)


def test_a_measured_build_is_one_piece(quarry: Workspace) -> None:
    """It says what it contains, and may be larger than every container."""
    cart = build_of(quarry, "cart")
    assert (cart.grade, cart.needed) == (Grade.MEASURED, 1)
    assert [piece.id for piece in cart.pieces] == ["cart/whole"]
    assert (cart.pieces[0].part, cart.pieces[0].contains) == ("cart", (("slab", 1),))


def test_groups_name_builds_and_pieces(quarry: Workspace) -> None:
    """Groups become ids of pieces."""
    assert quarry.keep_together == (("hut/e", "hut/r"),)
    assert quarry.keep_apart == (("lamp#1", "hut/e"),)


@pytest.mark.parametrize(
    ("said", "ids"),
    [
        ('parts = ["fence"]', {"fence#1", "fence#2", "face/f", "face/g"}),
        ('tags = ["light"]', {"lamp#1", "lamp#2", "lamp#3"}),
    ],
)
def test_groups_name_parts_and_tags(tmp_path: Path, said: str, ids: set[str]) -> None:
    """Pieces in builds and loose pieces of a part both belong to its group."""
    files = altered("packdown.toml", 'pieces = ["lamp#1", "hut/e"]', said)
    assert {*read_workspace(write(tmp_path, files)).keep_apart[0]} == ids


def test_a_byte_order_mark_is_no_problem(tmp_path: Path) -> None:
    """Files saved with one are read like all others."""
    folder = write(tmp_path)
    for path in folder.rglob("*.*"):
        if path.is_file():
            path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert read_workspace(folder).name == "Quarry"


def test_without_a_folder(tmp_path: Path) -> None:
    """A folder that is not there is named."""
    with pytest.raises(InputError, match="no such folder") as caught:
        read_workspace(tmp_path / "nowhere")
    assert "nowhere" in str(caught.value)
