"""Meshes of known shapes, made with libraries that know nothing of ours."""

import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import manifold3d
import numpy as np
import trimesh
from numpy.typing import NDArray

from packdown.geometry import Cuboid, Solid
from packdown.measuring import How, find_material
from packdown.measuring.reading import read_mesh

__all__ = [
    "CUBOID_SHAPES",
    "Shape",
    "Triangles",
    "generated",
    "how",
    "outside",
    "read_again",
    "scaled_how",
    "spilt_um3",
    "write_stl",
]

Triangles = NDArray[np.float64]
NEAR_UM = 0.05
"""Files in STL hold 24 bits: near 100 mm their lengths are this exact."""


@dataclass(frozen=True, eq=False)
class Shape:
    """A named mesh; its triangles are n x 3 x 3, in millimetres."""

    name: str
    triangles: Triangles


CUBOID_SHAPES: dict[str, tuple[tuple[int, ...], ...]] = {
    "box": ((0, 0, 0, 50, 30, 20),),
    "plate": ((0, 0, 0, 64, 64, 8),),
    "l-shape": ((0, 0, 0, 48, 16, 32), (0, 16, 0, 16, 48, 32)),
    "t-shape": ((0, 16, 0, 48, 32, 20), (16, 0, 0, 32, 16, 20)),
    "u-shape": ((0, 0, 0, 40, 30, 10), (0, 0, 10, 10, 30, 30), (30, 0, 10, 40, 30, 30)),
    "arch": ((0, 0, 0, 16, 16, 40), (48, 0, 0, 64, 16, 40), (0, 0, 40, 64, 16, 60)),
    "ring": (
        (0, 0, 0, 60, 10, 20), (0, 50, 0, 60, 60, 20), (0, 10, 0, 10, 50, 20),
        (50, 10, 0, 60, 50, 20),
    ),
    "window": (
        (0, 0, 0, 64, 16, 24), (0, 0, 24, 22, 16, 48), (42, 0, 24, 64, 16, 48),
        (0, 0, 48, 64, 16, 64),
    ),
    "stairs": (
        (0, 0, 0, 64, 32, 18), (16, 0, 18, 64, 32, 36), (32, 0, 36, 64, 32, 54),
        (48, 0, 54, 64, 32, 72),
    ),
    "table": (
        (0, 0, 40, 60, 40, 44), (0, 0, 0, 4, 4, 40), (56, 0, 0, 60, 4, 40),
        (0, 36, 0, 4, 40, 40), (56, 36, 0, 60, 40, 40),
    ),
    "tray": (
        (0, 0, 0, 96, 64, 4), (0, 0, 4, 96, 8, 16), (0, 56, 4, 96, 64, 16), (0, 8, 4, 8, 56, 16),
        (88, 8, 4, 96, 56, 16),
    ),
}  # fmt: skip
"""Cuboids in millimetres; all their planes are multiples of 2 mm."""


def how(resolution_um: int = 2_000, most: int = 200, unit: str | None = "mm") -> How:
    """Measure as plain PLA."""
    return How(
        resolution_um=resolution_um,
        most_cuboids=most,
        unit=unit,
        up="z",
        material=find_material("PLA"),
        infill_percent=None,
    )


def generated() -> Iterator[Shape]:
    """Yield more than forty shapes."""
    for name, cuboids in CUBOID_SHAPES.items():
        yield Shape(name, _of_manifold(union_of(cuboids)))
        if name in {"box", "l-shape", "arch", "ring"}:
            turned = union_of(cuboids).rotate((20, 30, 40))
            yield Shape(f"{name} turned", _of_manifold(turned))
    for name, body in _primitives().items():
        yield Shape(name, np.asarray(body.triangles))
        if name in {"cylinder", "cone", "torus"}:
            body = body.copy()  # noqa: PLW2901 - the turned copy of the same name
            body.apply_transform(trimesh.transformations.rotation_matrix(0.7, (1, 2, 3)))
            yield Shape(f"{name} turned", np.asarray(body.triangles))
    for name, solid in _carved().items():
        yield Shape(name, _of_manifold(solid))
    for seed in range(6):
        points = np.random.default_rng(seed).normal(size=(20 + 10 * seed, 3)) * (20, 12, 9)
        yield Shape(f"hull {seed}", np.asarray(trimesh.convex.convex_hull(points).triangles))


def _primitives() -> dict[str, Any]:
    make = trimesh.creation
    far = make.icosphere(subdivisions=2, radius=8)
    far.apply_translation((900, -700, 300))
    two = trimesh.util.concatenate([make.box((20, 20, 20)), make.box((20, 12, 40))])
    return {
        "cylinder": make.cylinder(20, 40, sections=40),
        "prism": make.cylinder(15, 12, sections=6),
        "needle": make.cylinder(0.6, 70, sections=12),
        "cone": make.cone(18, 36, sections=48),
        "capsule": make.capsule(20, 8),
        "ball": make.icosphere(subdivisions=3, radius=25),
        "ball of rings": make.uv_sphere(radius=14),
        "torus": make.torus(25, 8),
        "thin torus": make.torus(30, 1.5),
        "tube": make.annulus(18, 22, 50),
        "tall tube": make.annulus(4, 6, 90),
        "pill of a plate": make.box((70, 50, 0.8)),
        "far away": far,
        "two that overlap": two,
        "tetrahedron": trimesh.Trimesh(
            np.array([[0, 0, 0], [30, 0, 0], [0, 40, 0], [0, 0, 50.0]]),
            np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]]),
        ),
        "odd sizes": make.box((25.4 * 1.0625, 25.4 * 0.40625, 17.3331)),
    }


def _carved() -> dict[str, Any]:
    solid = manifold3d.Manifold
    block = solid.cube((64, 16, 60))
    round_arch = solid.cylinder(40, 16, 16, 48).rotate((90, 0, 0)).translate((32, 30, 20))
    door = solid.cube((32, 40, 20)).translate((16, -10, 0))
    bored = solid.cube((40, 40, 40)) - solid.cylinder(60, 12, 12, 40).translate((20, 20, -5))
    shell = solid.sphere(24, 32) - solid.sphere(20, 32)
    bowl = shell - solid.cube((60, 60, 40)).translate((-30, -30, 4))
    tower = solid.cylinder(80, 30, 24, 32) - solid.cylinder(90, 20, 20, 32).translate((0, 0, 4))
    return {
        "round arch": block - round_arch - door,
        "bored block": bored,
        "hollow ball": shell,
        "bowl": bowl,
        "tower": tower - door.translate((-32, 0, 10)),
    }


def union_of(cuboids: Iterable[Iterable[float]]) -> Any:  # noqa: ANN401 - untyped
    """Return the union of cuboids as a solid of an outside library."""
    bodies = []
    for x0, y0, z0, x1, y1, z1 in cuboids:
        body = manifold3d.Manifold.cube((x1 - x0, y1 - y0, z1 - z0))
        bodies.append(body.translate((x0, y0, z0)))
    return manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Add)


def _of_manifold(solid: Any) -> Triangles:  # noqa: ANN401 - untyped
    mesh = solid.to_mesh()
    points = np.asarray(mesh.vert_properties, np.float64)[:, :3]
    triangles: Triangles = points[np.asarray(mesh.tri_verts, np.int64)]
    return triangles


def write_stl(triangles: Triangles, path: Path) -> None:
    """Write triangles as binary STL, by the format's own description."""
    rows = np.zeros(len(triangles), np.dtype([("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")]))
    rows["v"] = triangles
    path.write_bytes(b" " * 80 + struct.pack("<I", len(rows)) + rows.tobytes())


def read_again(path: Path, settings: How) -> Triangles:
    """Return the triangles of a file in millimetres, as they were measured."""
    raw = read_mesh(path)
    triangles: Triangles = (
        raw.points[raw.faces] * {"mm": 1.0, "in": 25.4, "m": 1_000.0}[settings.unit or "mm"]
    )
    return triangles


def scaled_how(path: Path) -> How:
    """Take any mesh for one in millimetres, and measure at 1/100 of its longest side."""
    raw = read_mesh(path)
    used = raw.points[raw.faces.reshape(-1)]
    longest = float((used.max(axis=0) - used.min(axis=0)).max())
    unit = "mm" if longest > 2 else "in" if longest > 0.4 else "m"
    scale = {"mm": 1_000, "in": 25_400, "m": 1_000_000}[unit]
    return how(max(1, round(longest * scale / 100)), 200, unit)


def outside(triangles: Triangles, cover: Solid, seed: int, count: int = 20_000) -> int:
    """Sample points of a surface; return how many of them lie outside a cover."""
    rng = np.random.default_rng(seed)
    low = triangles.min(axis=(0, 1))
    cross = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    areas = np.linalg.norm(cross, axis=1)
    chosen = triangles[rng.choice(len(triangles), count, p=areas / areas.sum())]
    shares = np.sort(rng.random((count, 2)), axis=1)
    weights = np.stack([shares[:, 0], shares[:, 1] - shares[:, 0], 1 - shares[:, 1]], axis=1)
    points = np.einsum("ij,ijk->ik", weights, chosen)
    points = np.concatenate([points, triangles.reshape(-1, 3)[: 2 * count]])
    points = (points - low) * 1_000
    near = max(NEAR_UM, float(np.abs(triangles).max()) * 1_000 * 2.0**-21)
    inside = np.zeros(len(points), bool)
    for cuboid in cover:
        box = np.array(cuboid, np.float64)
        inside |= ((points >= box[:3] - near) & (points <= box[3:] + near)).all(axis=1)
    return int((~inside).sum())


def spilt_um3(triangles: Triangles, cover: Solid) -> float:
    """Return the volume of a closed shape that lies outside a cover, by an outside library."""
    body = trimesh.Trimesh(**trimesh.triangles.to_kwargs((triangles - triangles.min((0, 1))) * 1e3))
    body.merge_vertices()
    mesh = manifold3d.Mesh(np.asarray(body.vertices, np.float32), np.asarray(body.faces, np.uint32))
    around = union_of(Cuboid(*cuboid) for cuboid in cover)
    return float((manifold3d.Manifold(mesh) - around).volume())
