"""What is read of a file: kinds, units, volume, weight, base, centre of gravity."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh

from packdown.errors import InputError, UsageError
from packdown.measuring import (
    Measured,
    find_files,
    find_material,
    measure_file,
    measure_files,
    read_materials,
)
from packdown.measuring.scale import guess_unit
from packdown.measuring.weighing import estimate
from support.meshes import CUBOID_SHAPES, generated, how, union_of, write_stl

SHAPES = {shape.name: shape for shape in generated()}
ANY = how(unit=None)


def tile() -> trimesh.Trimesh:
    """A tile of 50.8 x 50.8 x 8 mm."""
    return trimesh.creation.box((50.8, 50.8, 8))


def saved(body: trimesh.Trimesh, folder: Path, name: str, scale: float = 1.0) -> Path:
    """Write a body to a file of the kind that its name says."""
    path = folder / name
    scaled = body.copy()
    scaled.apply_scale(scale)
    scaled.export(path)
    return path


@pytest.mark.parametrize("kind", ["stl", "3mf", "obj", "ply", "glb"])
def test_every_kind_of_file_gives_the_same_piece(kind: str, tmp_path: Path) -> None:
    """A wall read from each kind of file has its size; glTF is in metres and its up is y."""
    body = trimesh.creation.box((64, 16, 60))
    if kind == "glb":
        body.apply_transform(trimesh.transformations.rotation_matrix(-np.pi / 2, (1, 0, 0)))
    path = saved(body, tmp_path, f"wall.{kind}", 0.001 if kind == "glb" else 1)
    one = measure_file(path, ANY)
    assert one.size_um == (64_000, 16_000, 60_000)
    assert (one.unit, one.guessed) == {
        "glb": ("m", False), "3mf": ("mm", False),
    }.get(kind, ("mm", True))  # fmt: skip
    assert len(one.cover_um) == 1


def test_a_text_gltf_reads_its_buffer_beside_it(tmp_path: Path) -> None:
    """GlTF in text names a second file, which is read from the same folder."""
    for name, data in trimesh.exchange.gltf.export_gltf(trimesh.Scene(tile())).items():
        (tmp_path / name).write_bytes(data)
    assert measure_file(tmp_path / "model.gltf", how()).size_um == (50_800, 8_000, 50_800)


def test_text_stl_is_read(tmp_path: Path) -> None:
    """STL is text as well."""
    path = tmp_path / "tile.stl"
    path.write_text(trimesh.exchange.stl.export_stl_ascii(tile()), encoding="ascii")
    assert measure_file(path, ANY).size_um == (50_800, 50_800, 8_000)


@pytest.mark.parametrize(
    ("scale", "unit"), [(1, "mm"), (1 / 25.4, "in"), (0.001, "m")], ids=["mm", "in", "m"]
)
def test_units_are_guessed(scale: float, unit: str, tmp_path: Path) -> None:
    """A tile of 2 inches is recognised in millimetres, inches and metres."""
    one = measure_file(saved(tile(), tmp_path, "tile.stl", scale), ANY)
    assert (one.unit, one.guessed) == (unit, True)
    assert one.size_um == (50_800, 50_800, 8_000)


def test_a_unit_that_is_said_is_taken(tmp_path: Path) -> None:
    """The user knows better than any guess."""
    one = measure_file(saved(tile(), tmp_path, "tile.stl", 0.1), how(unit="cm"))
    assert (one.unit, one.guessed) == ("cm", False)
    assert one.size_um == (50_800, 50_800, 8_000)
    assert [guess_unit(longest) for longest in (4.99, 5, 0.4, 0.39)] == ["in", "mm", "in", "m"]


@pytest.mark.parametrize("up", ["x", "y", "z"])
def test_what_points_up_can_be_said(up: str, tmp_path: Path) -> None:
    """Turning keeps the handedness and puts the axis that is named upright."""
    sizes = {"x": (60, 20, 10), "y": (10, 60, 20), "z": (20, 10, 60)}[up]
    path = saved(trimesh.creation.box(sizes), tmp_path, "post.stl")
    one = measure_file(path, replace(how(), up=up))
    assert one.size_um == (20_000, 10_000, 60_000)


@pytest.mark.parametrize("name", ["ball", "round arch", "tower", "hull 1", "cone turned"])
def test_volume_and_centre_agree_with_an_outside_library(name: str, tmp_path: Path) -> None:
    """Volume and centre of mass are those that trimesh finds for the same triangles."""
    triangles = SHAPES[name].triangles.astype(np.float32).astype(np.float64)
    body = trimesh.Trimesh(**trimesh.triangles.to_kwargs(triangles))
    path = tmp_path / "shape.stl"
    write_stl(triangles, path)
    one = measure_file(path, how())
    assert one.volume_um3 == pytest.approx(body.volume * 1e9, rel=1e-6)
    centre = (body.center_mass - body.bounds[0]) * 1_000
    assert one.centre_um == pytest.approx(tuple(centre), abs=2)


def test_the_base_is_what_touches_the_table(tmp_path: Path) -> None:
    """A table stands on four legs of 4 x 4 mm; a ball has no flat base."""
    path = tmp_path / "shape.stl"
    write_stl(SHAPES["table"].triangles, path)
    assert measure_file(path, how()).base_um2 == 4 * 4_000**2
    write_stl(SHAPES["ball"].triangles, path)
    assert measure_file(path, how()).base_um2 == 0


def test_weights_of_tiles_are_those_published() -> None:
    """A solid tile of 50.8 x 50.8 x 8 mm: 28.49 g of PVC, 25.60 g of PLA, 22.30 g of PU resin.

    Densities: Scientific Reports 2022, s41598-022-22520-6 (PLA), tables of plastics; the sums are
    arithmetic, 50.8 x 50.8 x 8 mm = 20.645 cm3.
    """
    solid = 50_800 * 50_800 * 8_000
    for name, grams in (("PVC", 28.49), ("PLA", 25.60), ("PU-resin", 22.30)):
        material = find_material(name)
        assert material.densities[1] * solid / 10**12 == pytest.approx(grams, rel=1e-3)
        low, usual, high = estimate(solid, 1.0, material, 100)
        assert usual - 1 < grams <= usual
        assert low <= usual <= high


def test_infill_makes_it_lighter() -> None:
    """At 15 % infill a thick part weighs 0.30 to 0.45 of a solid one (common practice)."""
    block = 100_000**3  # 1 litre, walls of 1.2 mm take 7 %
    pla = find_material("PLA")
    low, usual, high = estimate(block, 6 * 100_000**2, pla, 15)
    assert low == pytest.approx(0.30 * 1_220, rel=0.02)
    assert high == pytest.approx(0.45 * 1_260, rel=0.02)
    assert low < usual < high
    assert (low, usual, high) == estimate(block, 6 * 100_000**2, pla, None)
    assert estimate(block, 6 * 100_000**2, pla, 100)[1] == 1_240
    thin = estimate(64_000 * 64_000 * 1_000, 2 * 64_000**2, pla, 15)
    assert thin[2] == 6  # 4.096 cm3 of all walls, 1.26 g/cm3


def test_an_unknown_material_names_the_nearest() -> None:
    """A misspelt material is answered with a known one."""
    assert all(material.source for material in read_materials()[0].values())
    with pytest.raises(UsageError) as caught:
        find_material("PLAA")
    assert "PLA" in caught.value.hint


def test_overlapping_bodies_are_estimated_from_the_grid(tmp_path: Path) -> None:
    """Two boxes through each other count once, and the user is told."""
    boxes = [trimesh.creation.box((20, 20, 20)), trimesh.creation.box((20, 12, 40))]
    path = saved(trimesh.util.concatenate(boxes), tmp_path, "cross.stl")
    one = measure_file(path, how())
    assert one.volume_um3 == (20 * 20 * 20 + 20 * 12 * 20) * 10**9
    assert any("overlap" in note for note in one.notes)


def test_a_sealed_hollow_is_filled_and_told(tmp_path: Path) -> None:
    """Nothing can be put into a closed hollow; it counts as air, not as weight."""
    path = tmp_path / "shell.stl"
    outer = trimesh.creation.box((30, 30, 30))
    inner = trimesh.creation.box((20, 20, 20))
    inner.invert()
    write_stl(np.concatenate([outer.triangles, inner.triangles]), path)
    one = measure_file(path, how())
    assert one.volume_um3 == 30_000**3 - 20_000**3
    assert len(one.cover_um) == 1
    assert any("hollow" in note for note in one.notes)


def test_a_shape_inside_out_is_turned(tmp_path: Path) -> None:
    """Triangles that all look inward are turned."""
    body = tile()
    body.invert()
    one = measure_file(saved(body, tmp_path, "tile.stl"), how())
    assert one.volume_um3 == 50_800 * 50_800 * 8_000
    assert any("inside out" in note for note in one.notes)


def test_single_triangles_that_look_wrong_are_turned(tmp_path: Path) -> None:
    """Where neighbours disagree, they are made to agree."""
    body = trimesh.creation.icosphere(subdivisions=2, radius=20)
    before = body.volume
    body.faces[::7] = body.faces[::7, ::-1]
    path = tmp_path / "ball.stl"
    write_stl(np.asarray(body.vertices[body.faces]), path)
    one = measure_file(path, how())
    assert one.volume_um3 == pytest.approx(before * 1e9, rel=1e-5)
    assert any("wrong way" in note for note in one.notes)


def test_a_hole_is_closed(tmp_path: Path) -> None:
    """A box without its bottom is closed, and the user is told."""
    body = trimesh.creation.box((30, 30, 30))
    keep = body.triangles_center[:, 2] > -14
    path = tmp_path / "box.stl"
    write_stl(np.asarray(body.triangles)[keep], path)
    one = measure_file(path, how())
    assert one.volume_um3 == 30_000**3
    assert any("closed" in note for note in one.notes)


def test_a_sheet_is_refused(tmp_path: Path) -> None:
    """A single sheet encloses nothing; the error names the file and where it is open."""
    path = tmp_path / "sheet.stl"
    write_stl(np.array([[(0, 0, 0), (10, 0, 0), (0, 10, 0)]], np.float64), path)
    with pytest.raises(InputError) as caught:
        measure_file(path, how())
    assert "open along 3 edges" in str(caught.value)
    assert "sheet.stl" in str(caught.value)


def test_a_grid_that_is_too_fine_is_refused(tmp_path: Path) -> None:
    """Too many cells are refused before memory is asked for."""
    path = saved(trimesh.creation.box((900, 900, 900)), tmp_path, "huge.stl")
    with pytest.raises(InputError, match="--resolution"):
        measure_file(path, how(1_000))
    with pytest.raises(InputError, match="--units"):
        measure_file(path, how(unit="m"))


def test_one_object_of_several_places(tmp_path: Path) -> None:
    """Objects that a file places are measured together where they are placed."""
    scene = trimesh.Scene()
    block = trimesh.creation.box((10, 10, 10))
    for x in (0, 30):
        scene.add_geometry(block, transform=trimesh.transformations.translation_matrix((x, 0, 0)))
    scene.export(tmp_path / "two.3mf")
    one = measure_file(tmp_path / "two.3mf", how())
    assert one.size_um == (40_000, 10_000, 10_000)
    assert len(one.cover_um) == 2
    assert any("2 objects" in note for note in one.notes)


def test_folders_are_searched_and_several_processes_agree(tmp_path: Path) -> None:
    """All files of a folder are measured, by one process or by two, with the same results."""
    for name in ("box", "arch", "ring"):
        path = tmp_path / "deep" / f"{name}.STL"
        path.parent.mkdir(exist_ok=True)
        write_stl(SHAPES[name].triangles, path)
    (tmp_path / "broken.obj").write_text("nothing\n", encoding="ascii")
    (tmp_path / "read me.txt").write_text("no mesh\n", encoding="ascii")
    files = find_files([tmp_path, tmp_path / "broken.obj"])
    assert [path.name for path in files] == ["broken.obj", "arch.STL", "box.STL", "ring.STL"]
    alone = dict(measure_files(files, how()))
    assert dict(measure_files(files, how(), jobs=2)) == alone
    assert [isinstance(alone[number], Measured) for number in range(4)] == [False, *[True] * 3]
    assert not list(measure_files(files, how(), stop=lambda: True))


def test_union_of_the_cuboids_is_what_was_meant() -> None:
    """The outside library agrees with the sums of the cuboids that shapes are made of."""
    for name, cuboids in CUBOID_SHAPES.items():
        total = sum(np.prod(np.subtract(c[3:], c[:3])) for c in cuboids)
        assert union_of(cuboids).volume() == pytest.approx(total), name
