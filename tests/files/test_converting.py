"""Builds described in another detail: what is known is kept, and nothing is made up."""

import doctest
import shutil
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from packdown.data import data_folder
from packdown.errors import InputError, UsageError
from packdown.files import read_workspace, toml_text
from packdown.files.converting import Detail, convert
from packdown.files.toml_text import replaced
from packdown.geometry import bounds
from packdown.model import Build, Grade, Workspace
from support.workspaces import FILES, write

EXAMPLE = data_folder("examples") / "saltworks"
PLACED = [
    "beacon", "boiling-house", "brine-pans", "causeway", "salt-store", "wind-pump"
]  # fmt: skip


def rewritten(tmp_path: Path, build: str, *details: Detail) -> tuple[Workspace, Workspace]:
    """Return the example as it is, and with one build described anew, once or more often."""
    folder = tmp_path / "saltworks"
    shutil.copytree(EXAMPLE, folder)
    head = folder / "packdown.toml"
    if Detail.DRAWN not in details:
        text = head.read_text(encoding="utf-8")
        head.write_text(text.replace('"beacon/lantern", ', ""), encoding="utf-8")
    for detail in details:
        found = convert(folder, build, detail)
        assert found.complete
        before = found.file.read_text(encoding="utf-8")
        found.file.write_text(replaced(before, "builds", build, found.text), encoding="utf-8")
    return read_workspace(EXAMPLE), read_workspace(folder)


def build_of(workspace: Workspace, name: str) -> Build:
    """Return a build by its id."""
    return next(build for build in workspace.builds if build.id == name)


def shape(build: Build) -> tuple[object, ...]:
    """Return all that a build is, but for what its pieces are called."""
    spot = {piece.id: (piece.part, piece.cuboids_um) for piece in build.pieces}
    nameless = (replace(piece, id="", build=None) for piece in build.pieces)
    joints = (
        (frozenset(spot[p] for p in j.pieces), j.kind, j.connections, j.fixed, j.spare_s)
        for j in build.joints
    )
    return (
        (build.name, build.needed, build.tags, build.grade),
        Counter(map(repr, nameless)),
        Counter(joints),
    )


@pytest.mark.parametrize("details", [(Detail.DRAWN,), (Detail.DRAWN, Detail.LISTED)])
@pytest.mark.parametrize("name", PLACED)
def test_a_drawing_says_the_same_as_a_list(
    tmp_path: Path, name: str, details: tuple[Detail, ...]
) -> None:
    """All placed builds of the example: the same pieces in the same places, the same joints."""
    old, new = rewritten(tmp_path, name, *details)
    assert shape(build_of(new, name)) == shape(build_of(old, name))
    assert len(new.loose) == len(old.loose)


@pytest.mark.parametrize("name", [*PLACED, "weigh-house"])
def test_a_measured_build_weighs_and_holds_the_same(tmp_path: Path, name: str) -> None:
    """Size, weight, contents, name, rank and tags are kept; what is loose stays loose."""
    old, new = rewritten(tmp_path, name, Detail.MEASURED)
    before, after = build_of(old, name), build_of(new, name)
    (piece,) = after.pieces
    assert after.grade is Grade.MEASURED
    assert piece.weight_g == sum(p.weight_g for p in before.pieces)
    whole = bounds(c for p in before.pieces for c in p.cuboids_um)
    assert bounds(piece.cuboids_um).size == whole.size
    assert (after.name, after.needed, after.tags) == (before.name, before.needed, before.tags)
    assert len(new.loose) == len(old.loose)


@pytest.mark.parametrize("name", PLACED)
def test_storeys_become_units(tmp_path: Path, name: str) -> None:
    """Units do not overlap, hold every piece once and weigh the same; joints between are kept."""
    old, new = rewritten(tmp_path, name, Detail.UNITS)
    before, after = build_of(old, name), build_of(new, name)
    assert after.grade is Grade.UNITS
    assert sum(u.weight_g for u in after.pieces) == sum(p.weight_g for p in before.pieces)
    assert len(new.loose) == len(old.loose)
    joined = {unit for joint in after.joints for unit in joint.pieces}
    assert len(after.pieces) == 1 or joined


def test_the_salt_store_becomes_two_storeys(tmp_path: Path) -> None:
    """The upper deck begins at 72 mm; sixteen keys hold it, as they do piece by piece."""
    old, new = rewritten(tmp_path, "salt-store", Detail.UNITS)
    units = build_of(new, "salt-store")
    assert [bounds(unit.cuboids_um).z0 for unit in units.pieces] == [0, 72_000]
    (joint,) = units.joints
    pieces = {piece.id: bounds(piece.cuboids_um).z0 for piece in build_of(old, "salt-store").pieces}
    across = [
        j.keys
        for j in build_of(old, "salt-store").joints
        if len({pieces[p] >= 72_000 for p in j.pieces}) == 2
    ]
    assert joint.keys == sum(across)


def test_units_and_wholes_become_drafts() -> None:
    """Where pieces stand is not known, so it is not made up: all that is known is written down."""
    found = convert(EXAMPLE, "weigh-house", Detail.DRAWN)
    assert not found.complete
    assert "# hall: 192 x 160 x 80 mm, 560 g, at 0 mm, 0 mm, 0 mm: 6 x floor-2x2" in found.text
    assert "# office and porch: press-fit, 4 connections" in found.text
    assert 'name = "Weigh house"' in found.text
    found = convert(EXAMPLE, "tide-gate", Detail.LISTED)
    assert "12 x pile" in found.text
    assert not found.complete


def test_one_measured_build_becomes_one_unit(tmp_path: Path) -> None:
    """It can be divided from there; size, weight, contents and how it may lie are kept."""
    old, new = rewritten(tmp_path, "tide-gate", Detail.UNITS)
    (whole,), (unit,) = build_of(old, "tide-gate").pieces, build_of(new, "tide-gate").pieces
    assert unit.id == "tide-gate/whole"
    assert replace(unit, part=whole.part, name=whole.name) == whole


def test_what_cannot_be_done_is_said(tmp_path: Path) -> None:
    """The same detail again, a build that is not there, a build with mistakes, no grid."""
    with pytest.raises(UsageError, match="is measured already"):
        convert(EXAMPLE, "tide-gate", Detail.MEASURED)
    with pytest.raises(UsageError, match='no build "tide"'):
        convert(EXAMPLE, "tide", Detail.MEASURED)
    files = dict(FILES)
    face = FILES["builds/face.toml"].replace('"64 mm", "0 mm"', '"9 mm", "0 mm", "8 mm"')
    files["builds/face.toml"] = face
    with pytest.raises(InputError, match="overlap"):
        convert(write(tmp_path / "a", files), "face", Detail.DRAWN)
    files = FILES | {"packdown.toml": FILES["packdown.toml"].replace("[grid]\nsquare", "[grid]\n#")}
    place = 'place = [{ id = "s", part = "slab", at = ["0 mm", "0 mm"] }]\n'
    files["builds/face.toml"] = f"[builds.face]\n{place}"
    with pytest.raises(UsageError, match="no grid to draw on"):
        convert(write(tmp_path / "b", files), "face", Detail.DRAWN)


def test_pieces_that_are_spoken_of_keep_their_names() -> None:
    """A group in packdown.toml names the lantern; without pieces it says what to change there."""
    assert 'names = { lantern = "' in convert(EXAMPLE, "beacon", Detail.DRAWN).text
    assert "names (lantern)" in convert(EXAMPLE, "beacon", Detail.MEASURED).lost[-1]


def test_the_rest_of_a_file_stays_as_it_is() -> None:
    """Comments and other builds are kept; only one table is written anew."""
    first = "# top\n[builds.a]\nsize = 1\n[builds.a.contains]\nx = 1\n\n"
    text = f'{first}# b\n[builds."b"]\nsize = 2\n'
    after = replaced(text, "builds", "a", "[builds.a]\nsize = 3\n")
    assert after == '# top\n[builds.a]\nsize = 3\n\n[builds."b"]\nsize = 2\n'
    after = replaced(text, "builds", "b", "[builds.b]\nsize = 3\n")
    assert after == f"{first}# b\n[builds.b]\nsize = 3\n"
    with pytest.raises(UsageError, match="cannot be told from the rest"):
        replaced("builds.a.size = 1\n", "builds", "a", "[builds.a]\nsize = 3\n")
    inside = "[builds.a]\nplan = '''\n[builds.b]\n'''\n[builds.b]\nsize = 1\n"
    with pytest.raises(UsageError, match="cannot be told from the rest"):
        replaced(inside, "builds", "a", "[builds.a]\nsize = 3\n")


def test_examples() -> None:
    """The examples in the documentation are right."""
    assert not doctest.testmod(toml_text).failed
