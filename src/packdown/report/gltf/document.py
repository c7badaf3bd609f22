"""A binary glTF file: nodes with names, meshes and materials in one piece.

References
----------
The Khronos Group (2021), glTF 2.0 Specification, version 2.0.1 (ISO/IEC 12113:2022); sections in
brackets below.
"""

import json
import struct
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from packdown import __version__
from packdown.geometry import Solid, bounds, translate
from packdown.report.gltf.surface import Mesh, surface

__all__ = ["Document", "Look"]

UM_BY_M = 1_000_000
_MAGIC, _VERSION = b"glTF", 2
_FLOAT, _UNSIGNED_INT = 5126, 5125
_VERTICES, _INDICES = 34962, 34963


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A material: its name, its colour as ``#rrggbb``, and how opaque it is, from 0 to 1."""

    name: str
    colour: str
    opacity: float = 1.0


@dataclass
class Document:
    """A scene that grows node by node.

    Solids are given in micrometres with z up; the file holds metres with y up and the front of
    things towards z (3.4). Solids alike in shape and look share one mesh.
    """

    _json: dict[str, list[dict[str, Any]]] = field(
        default_factory=lambda: {
            name: [] for name in ("nodes", "meshes", "materials", "accessors", "bufferViews")
        }
    )
    _data: bytearray = field(default_factory=bytearray)
    _meshes: dict[tuple[Solid, Look], int] = field(default_factory=dict)
    _looks: dict[Look, int] = field(default_factory=dict)

    def group(self, name: str, nodes: Sequence[int], extras: Mapping[str, object]) -> int:
        """Add a node that holds others, and return its number."""
        return self._add("nodes", {"name": name, "children": list(nodes), "extras": dict(extras)})

    def thing(self, name: str, solid: Solid, look: Look, extras: Mapping[str, object]) -> int:
        """Add a node with a solid, and return its number.

        Parameters
        ----------
        name
            What it is called.
        solid
            Where it is.
        look
            Its material.
        extras
            What else is known of it.
        """
        low = bounds(solid)[:3]
        own = tuple(sorted(translate(solid, *(-at for at in low))))
        if (own, look) not in self._meshes:
            self._meshes[own, look] = self._mesh(name, surface(own), look)
        at = [float(value) for value in _turned(np.asarray([low], dtype=np.float64))[0]]
        node = {"name": name, "mesh": self._meshes[own, look], "translation": at}
        return self._add("nodes", {**node, "extras": dict(extras)})

    def finish(self, name: str, roots: Sequence[int]) -> bytes:
        """Return the file with one scene.

        Parameters
        ----------
        name
            What the scene is called.
        roots
            Its nodes that no other node holds.
        """
        told = {
            "asset": {"version": "2.0", "generator": f"Packdown {__version__}"},
            "scene": 0,
            "scenes": [{"name": name, "nodes": list(roots)}],
            **{key: entries for key, entries in self._json.items() if entries},
            "buffers": [{"byteLength": len(self._data)}],
        }
        text = json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()
        chunks = _chunk(b"JSON", text, b" ") + _chunk(b"BIN\0", bytes(self._data), b"\0")
        return _MAGIC + struct.pack("<II", _VERSION, 12 + len(chunks)) + chunks

    def _add(self, kind: str, entry: dict[str, Any]) -> int:
        self._json[kind].append({key: value for key, value in entry.items() if value != {}})
        return len(self._json[kind]) - 1

    def _mesh(self, name: str, mesh: Mesh, look: Look) -> int:
        """Add a mesh without normals: viewers then show its faces flat (3.7.2.1)."""
        points = _turned(mesh.points).astype("<f4")
        indices = mesh.triangles.astype("<u4").ravel()
        position = self._accessor(points, _VERTICES, _FLOAT, "VEC3")
        self._json["accessors"][position].update(
            min=points.min(axis=0).tolist(), max=points.max(axis=0).tolist()
        )
        primitive = {
            "attributes": {"POSITION": position},
            "indices": self._accessor(indices, _INDICES, _UNSIGNED_INT, "SCALAR"),
            "material": self._material(look),
        }
        return self._add("meshes", {"name": name, "primitives": [primitive]})

    def _accessor(self, values: np.ndarray, target: int, component: int, kind: str) -> int:
        """Add numbers of four bytes each to the buffer, so that all stay aligned (3.6.2.4)."""
        data = values.tobytes()
        place = {"buffer": 0, "byteOffset": len(self._data), "byteLength": len(data)}
        view = self._add("bufferViews", {**place, "target": target})
        self._data += data
        told = {"bufferView": view, "componentType": component, "count": len(values), "type": kind}
        return self._add("accessors", told)

    def _material(self, look: Look) -> int:
        if look not in self._looks:
            colour = [*_linear(look.colour), look.opacity]
            rough = {"baseColorFactor": colour, "metallicFactor": 0.0, "roughnessFactor": 0.9}
            blend = {"alphaMode": "BLEND"} if look.opacity < 1 else {}
            entry = {"name": look.name, "pbrMetallicRoughness": rough, **blend}
            self._looks[look] = self._add("materials", entry)
        return self._looks[look]


def _turned(points: np.ndarray) -> np.ndarray:
    """Return points in metres with y up: x stays, what was up is y, the front is towards z."""
    x, y, z = points.T / UM_BY_M
    turned: np.ndarray = np.stack([x, z, -y], axis=1) + 0.0  # no negative zeros
    return turned


def _linear(colour: str) -> list[float]:
    """Return the parts of a colour in linear light (IEC 61966-2-1), as materials ask (3.9.2).

    >>> _linear("#ff0080")
    [1.0, 0.0, 0.2159]
    """
    shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    return [
        round(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4, 4)
        for share in shares
    ]


def _chunk(kind: bytes, data: bytes, fill: bytes) -> bytes:
    """Return a chunk, filled up to a multiple of four bytes (4.4.3)."""
    padded = data + fill * (-len(data) % 4)
    return struct.pack("<I", len(padded)) + kind + padded
