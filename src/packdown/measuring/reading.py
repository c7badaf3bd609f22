"""Mesh files in: bytes to triangles, by trimesh, with nothing else of the disk in reach."""

import logging
import warnings
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import Any

import numpy as np

from packdown.archives import read_limited
from packdown.measuring import guards
from packdown.measuring.mesh import Indices, Points

__all__ = ["KINDS", "Raw", "read_mesh"]

KINDS = ("stl", "3mf", "obj", "ply", "glb", "gltf")
_UNITS = {
    "micron": "um", "millimeter": "mm", "centimeter": "cm", "inch": "in", "foot": "ft",
    "meter": "m",
}  # fmt: skip
_GLTF_TURN = np.array([[1.0, 0, 0], [0, 0, -1.0], [0, 1.0, 0]])


@dataclass(frozen=True, eq=False, kw_only=True)
class Raw:
    """What a file holds, in its own unit.

    Parameters
    ----------
    points, faces
        Corners, n x 3, and triangles as indices of them, m x 3.
    unit
        The unit of length, if the file or its format says.
    bodies
        How many objects it places.
    """

    points: Points
    faces: Indices
    unit: str | None
    bodies: int


def read_mesh(path: Path) -> Raw:
    """Read a file of triangles; glTF is turned so that its up is up here.

    Raises
    ------
    ValueError
        If it cannot be used; the message says why.
    """
    kind = path.suffix.lower().removeprefix(".")
    if kind not in KINDS:
        raise ValueError(f"is of no known kind; known are {', '.join(KINDS)}")
    data = read_limited(path)
    guards.check(data, kind)
    points, faces, bodies, unit = _gather(_load(data, kind, path.parent))
    guards.count_limited(len(faces))
    if not len(faces):
        raise ValueError("holds no triangles")
    if not np.isfinite(points).all():
        raise ValueError("has corners that are no numbers")
    if faces.min() < 0 or faces.max() >= len(points):
        raise ValueError("has triangles with corners that are not there")
    if kind in {"glb", "gltf"}:
        return Raw(points=points @ _GLTF_TURN.T, faces=faces, unit="m", bodies=bodies)
    said = unit if kind == "3mf" else None
    return Raw(points=points, faces=faces, unit=said, bodies=bodies)


def _load(data: bytes, kind: str, folder: Path) -> Any:  # noqa: ANN401 - trimesh is untyped
    import trimesh  # noqa: PLC0415 - takes a while

    logging.getLogger("trimesh").setLevel(logging.CRITICAL)
    options: dict[str, Any] = {} if kind in {"stl", "3mf"} else {"skip_materials": True}
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return trimesh.load_scene(
                BytesIO(data),
                file_type=kind,
                resolver=_beside(folder) if kind == "gltf" else None,
                process=False,
                **options,
            )
    except MemoryError as error:
        raise ValueError("needs more memory than there is") from error
    except Exception as error:
        raise ValueError(
            f"cannot be read as {kind.upper()}: {type(error).__name__}: {_short(error)}"
        ) from error


def _short(error: Exception) -> str:
    text = " ".join(str(error).split())
    return text if len(text) <= 80 else f"{text[:77]}..."


def _beside(folder: Path) -> Any:  # noqa: ANN401 - trimesh is untyped
    """Return what lets a file read others in its own folder, and nothing else."""
    from trimesh.resolvers import Resolver  # noqa: PLC0415 - takes a while

    class Beside(Resolver):  # type: ignore[misc]
        def __init__(self) -> None:
            pass

        def get(self, key: str) -> bytes:
            inside = PurePosixPath(str(key).replace("\\", "/"))
            path = folder / inside
            climbs = inside.is_absolute() or ".." in inside.parts or ":" in str(key)
            if climbs or not path.resolve().is_relative_to(folder.resolve()):
                raise ValueError(f"it names a file outside its folder: {str(key)[:40]!r}")
            return read_limited(path)

        def write(self, name: str, data: object) -> None:
            raise NotImplementedError

        def namespaced(self, namespace: str) -> object:
            raise NotImplementedError

        def keys(self) -> tuple[str, ...]:
            return ()

    return Beside()


def _gather(scene: Any) -> tuple[Points, Indices, int, str | None]:  # noqa: ANN401
    """Return the triangles of all placed objects, how many those are, and the unit said."""
    points: list[Points] = [np.zeros((0, 3))]
    faces: list[Indices] = [np.zeros((0, 3), np.int64)]
    start, total, unit = 0, 0, None
    for node in sorted(scene.graph.nodes_geometry, key=str):
        turn, name = scene.graph[node]
        geometry = scene.geometry[name]
        if not hasattr(geometry, "faces"):
            continue
        corners = np.asarray(geometry.vertices, np.float64)
        triangles = np.asarray(geometry.faces, np.int64)
        total += len(triangles)
        guards.count_limited(total)
        if np.linalg.det(turn[:3, :3]) < 0:
            triangles = triangles[:, ::-1]
        if (turn != np.eye(4)).any():
            corners = corners @ turn[:3, :3].T + turn[:3, 3]
        points.append(corners)
        faces.append(triangles + start)
        start += len(corners)
        unit = unit or geometry.metadata.get("units")
    known = _UNITS.get(str(unit).removesuffix("s")) if unit else None
    return np.vstack(points), np.vstack(faces), len(faces) - 1, known
