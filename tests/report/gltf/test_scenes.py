"""Exported containers and builds: read by trimesh, and by the letter of the specification."""

from collections import Counter
from io import BytesIO
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import trimesh

from packdown.geometry import Solid, bounds, rotated, volume
from packdown.model import ItemKind, PackedContainer, PlanBuild, StepKind
from packdown.report.gltf import build_glb, container_glb
from packdown.report.gltf.document import Document, Look, _linear
from packdown.report.lookup import look_up
from support.book_plan import book_plan
from support.glb import Read, accessed, read_glb, walked
from support.saltworks import build_of, example
from support.single_pieces import in_single_pieces

PLAN = book_plan()
LOOKUP = look_up(PLAN)
USED = LOOKUP.used
UM = 1e-6
NEAR = 1e-6
"""A micrometre: numbers of four bytes hold seven digits, and nothing here is longer than 1 m."""


def _metres(solid: Solid) -> np.ndarray:
    """Return the bounds of a solid as glTF has them: y up, the front towards z (3.4)."""
    x0, y0, z0, x1, y1, z1 = bounds(solid)
    return np.array([[x0, z0, -y1], [x1, z1, -y0]]) * UM


def _loaded(file: bytes) -> Any:  # noqa: ANN401 - trimesh has no types
    return trimesh.load(BytesIO(file), file_type="glb")


def _instances(scene: Any) -> list[Any]:  # noqa: ANN401 - trimesh has no types
    """Return a mesh for each node that has one, where it stands."""
    found = []
    for node in scene.graph.nodes_geometry:
        matrix, geometry = scene.graph[node]
        found.append(scene.geometry[geometry].copy().apply_transform(matrix))
    return found


def _sorted(boxes: list[np.ndarray]) -> np.ndarray:
    return np.array(sorted(tuple(np.round(box, 5).ravel()) for box in boxes))


def _same_places(scene: Any, solids: list[Solid]) -> None:  # noqa: ANN401 - trimesh has no types
    """Insist that a scene has these solids: their number, their places, all closed."""
    instances = _instances(scene)
    assert len(instances) == len(solids)
    for mesh in instances:
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.is_volume
    found, expected = _sorted([m.bounds for m in instances]), _sorted([*map(_metres, solids)])
    np.testing.assert_allclose(found, expected, atol=2e-5)
    total = sum(volume(solid) for solid in solids) * UM**3
    assert sum(mesh.volume for mesh in instances) == pytest.approx(total, rel=1e-4)


@pytest.mark.parametrize("build", PLAN.builds, ids=lambda build: str(build.id))
def test_a_build_has_all_its_pieces_where_they_stand(build: PlanBuild) -> None:
    """Bounding boxes, volumes and counts are those of the plan."""
    pieces = [LOOKUP.pieces[name] for part in build.sub_assemblies for name in part]
    scene = _loaded(build_glb(LOOKUP, build))
    _same_places(scene, [piece.cuboids_um for piece in pieces])
    whole = tuple(cuboid for piece in pieces for cuboid in piece.cuboids_um)
    np.testing.assert_allclose(scene.bounds, _metres(whole), atol=NEAR)


def test_stepped_and_pierced_pieces_survive() -> None:
    """The example's boiling house: 54 pieces, among them walls with doors and windows."""
    plan = in_single_pieces(build_of(example(), "boiling-house"))
    scene = _loaded(build_glb(look_up(plan), plan.builds[0]))
    _same_places(scene, [piece.cuboids_um for piece in plan.pieces])


def _things(container: PackedContainer, layer: int) -> int:
    """Count the pieces and bags up to a layer."""
    items = [LOOKUP.items[p.item] for p in container.fill if p.layer <= layer]
    return sum(1 if item.kind is ItemKind.BAG else len(item.pieces) for item in items)


@pytest.mark.parametrize("container", USED, ids=lambda container: str(container.id))
def test_a_container_has_what_lies_in_it_layer_by_layer(container: PackedContainer) -> None:
    """One solid a piece or bag, one for the shell, up to any layer."""
    last = max(placement.layer for placement in container.fill)
    assert container_glb(LOOKUP, container, last) == container_glb(LOOKUP, container)
    for layer in range(1, last + 1):
        instances = _instances(_loaded(container_glb(LOOKUP, container, layer)))
        assert len(instances) == 1 + _things(container, layer)
        assert all(mesh.is_watertight and mesh.is_volume for mesh in instances)


@pytest.mark.parametrize("container", USED, ids=lambda container: str(container.id))
def test_pieces_lie_where_the_plan_puts_their_item(container: PackedContainer) -> None:
    """Each item's pieces fill its place up to what its joints may stand open."""
    read = read_glb(container_glb(LOOKUP, container))
    boxes = _boxes(read)
    for placement in container.fill:
        item = LOOKUP.items[placement.item]
        names = (item.id,) if item.kind is ItemKind.BAG else item.pieces
        own = np.array([boxes[name] for name in names])
        found = np.array([own[:, 0].min(axis=0), own[:, 1].max(axis=0)])
        place = _metres(placement.cuboids_um)
        assert (found[0] >= place[0] - NEAR).all()
        assert (found[1] <= place[1] + NEAR).all()
        open_um = PLAN.rules.joint_tolerance_um * (len(item.pieces) - 1 if item.pieces else 0)
        assert np.abs(found - place).max() <= open_um * UM + NEAR


def _boxes(read: Read) -> dict[str, np.ndarray]:
    """Return the bounds of each node with a mesh, by the id it carries."""
    found = {}
    for _, node in walked(read):
        if "mesh" in node and "extras" in node:
            (primitive,) = read.told["meshes"][node["mesh"]]["primitives"]
            points = accessed(read, primitive["attributes"]["POSITION"]) + node["translation"]
            found[node["extras"]["id"]] = np.array([points.min(axis=0), points.max(axis=0)])
    return found


def test_an_item_on_its_side_is_turned_as_its_solid_is() -> None:
    """A piece of a turned item lies where its own cuboids come to lie."""
    turned = 0
    for container in USED:
        boxes = _boxes(read_glb(container_glb(LOOKUP, container)))
        for place in container.fill:
            item = LOOKUP.items[place.item]
            if item.kind is ItemKind.LOOSE:
                (name,) = item.pieces
                own = LOOKUP.pieces[name].cuboids_um
                lying, _ = rotated(own, place.way_up, place.turn, place.at_um)
                np.testing.assert_allclose(boxes[name], _metres(lying), atol=NEAR)
                turned += place.turn != 0
    assert turned


def test_nodes_are_named_as_labels_name_pieces() -> None:
    """Container, layer, item and piece; ids are kept as extras (3.6.1.1 lets names repeat)."""
    for container in USED:
        paths = [path for path, node in walked(read_glb(container_glb(LOOKUP, container)))]
        expected: Counter[tuple[str, ...]] = Counter()
        for place in container.fill:
            item = LOOKUP.items[place.item]
            stem: tuple[str, ...] = (container.name, f"Layer {place.layer}")
            if item.kind is ItemKind.BAG:
                expected[*stem, item.name] += 1
            else:
                stem = (*stem, item.name) if len(item.pieces) > 1 else stem
                expected.update((*stem, LOOKUP.pieces[piece].name) for piece in item.pieces)
        assert not expected - Counter(paths)


def test_a_step_shows_what_it_joins() -> None:
    """The parts of that step put together, and nothing else of the build."""
    for build in PLAN.builds:
        joins = [s for s in PLAN.steps.rebuild if s.build == build.id and s.kind is StepKind.JOIN]
        assert joins
        for step in joins:
            boxes = _boxes(read_glb(build_glb(LOOKUP, build, step)))
            assert boxes.keys() == {*step.pieces, *step.stays}
        assert build_glb(LOOKUP, build, joins[-1]) == build_glb(LOOKUP, build)


@pytest.mark.parametrize(
    "file",
    [build_glb(LOOKUP, PLAN.builds[0]), container_glb(LOOKUP, USED[0])],
    ids=["build", "container"],
)
def test_structure_is_that_of_the_specification(file: bytes) -> None:
    """What sections 3.5 to 3.9 ask of the parts that are used."""
    read = read_glb(file)
    told = read.told
    assert told["asset"]["version"] == "2.0"
    children = [child for node in told["nodes"] for child in node.get("children", ())]
    roots = told["scenes"][told["scene"]]["nodes"]
    assert sorted([*children, *roots]) == list(range(len(told["nodes"])))  # a tree
    assert all(node["children"] for node in told["nodes"] if "children" in node)
    views = told["bufferViews"]
    ends = [(view["byteOffset"], view["byteOffset"] + view["byteLength"]) for view in views]
    assert all(one[1] <= two[0] for one, two in pairwise(ends))
    for mesh in told["meshes"]:
        (primitive,) = mesh["primitives"]
        accessor = told["accessors"][primitive["attributes"]["POSITION"]]
        points = accessed(read, primitive["attributes"]["POSITION"])
        assert accessor["min"] == points.min(axis=0).tolist()
        assert accessor["max"] == points.max(axis=0).tolist()
        indices = accessed(read, primitive["indices"])
        assert set(indices.ravel().tolist()) == set(range(len(points)))
        assert primitive["material"] < len(told["materials"])
    for material in told["materials"]:
        colour = material["pbrMetallicRoughness"]["baseColorFactor"]
        assert all(0 <= share <= 1 for share in colour)
        assert (material.get("alphaMode", "OPAQUE") == "BLEND") == (colour[3] < 1)
        assert material["pbrMetallicRoughness"]["metallicFactor"] == 0


def test_alike_solids_share_a_mesh() -> None:
    """Two cubes of one look are one mesh at two places; another look is another mesh."""
    document, cube = Document(), PLAN.pieces[0].cuboids_um
    shifted = tuple(cuboid.moved(1_000, 0, 0) for cuboid in cube)
    plain, dark = Look(name="plain", colour="#ffffff"), Look(name="dark", colour="#000000")
    nodes = [
        document.thing("one", cube, plain, {}),
        document.thing("two", shifted, plain, {}),
        document.thing("three", cube, dark, {}),
    ]
    told = read_glb(document.finish("three cubes", nodes)).told
    assert [node["mesh"] for node in told["nodes"]] == [0, 0, 1]
    moved = np.subtract(told["nodes"][1]["translation"], told["nodes"][0]["translation"])
    np.testing.assert_allclose(moved, [0.001, 0, 0], atol=1e-12)


def test_colours_are_in_linear_light() -> None:
    """Worked out from IEC 61966-2-1: 0.5 of the signal is 0.214 of the light."""
    assert _linear("#ffffff") == [1, 1, 1]
    assert _linear("#808080")[0] == pytest.approx(0.2159, abs=1e-4)
    assert _linear("#0a0a0a")[0] == pytest.approx(10 / 255 / 12.92, abs=1e-4)


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Nothing depends on the clock or on chance."""
    assert container_glb(LOOKUP, USED[0]) == container_glb(look_up(PLAN), USED[0])
