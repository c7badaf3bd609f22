"""Surfaces with holes and triangles that look the wrong way: mended, or refused with a reason."""

import numpy as np

from packdown.measuring.mesh import Indices, Mesh

__all__ = ["closed"]

MAX_TO_MEND = 200_000
MAX_OPEN_EDGES = 20_000
MAX_CLOSED = 0.9
"""Share of the surface that triangles which close holes may have; more makes it a sheet."""


def closed(mesh: Mesh) -> tuple[Mesh, tuple[str, ...]]:
    """Return a closed mesh that looks outward, and what was done to it.

    Raises
    ------
    ValueError
        If it cannot be closed; the message says where it is open.
    """
    done: list[str] = []
    if len(mesh.open_edges()):
        mesh, done = _mended(mesh)
    if mesh.volume_um3 < 0:
        mesh = mesh.turned_inside_out()
        done.append("was inside out, so it was turned")
    if mesh.volume_um3 < 1:
        raise ValueError("encloses no volume: it is a sheet, or it overlaps itself")
    return mesh, tuple(done)


def _mended(mesh: Mesh) -> tuple[Mesh, list[str]]:
    """Try repairs one after the other until the surface is closed."""
    done = []
    faces = _once(mesh.faces)
    if len(faces) < len(mesh.faces):
        done.append("has triangles twice, which were left out")
    mesh = Mesh(mesh.points, faces)
    if _disagree(faces) and len(faces) <= MAX_TO_MEND:
        faces = _wound(mesh)
        if (faces != mesh.faces).any():
            done.append("has triangles that look the wrong way, which were turned")
        mesh = Mesh(mesh.points, faces)
    odd = mesh.open_edges()
    if not len(odd):
        return mesh, done
    caps = Mesh(mesh.points, _caps(odd)) if len(odd) <= MAX_OPEN_EDGES else None
    if caps is None or caps.areas_um2.sum() > MAX_CLOSED * mesh.areas_um2.sum():
        x, y, z = mesh.points[odd[0]].mean(axis=0) / 1_000
        raise ValueError(
            f"its surface is open along {len(odd):,} edges, the first near "
            f"{x:.1f}, {y:.1f}, {z:.1f} mm from its lower corner; close it in a mesh editor"
        )
    done.append(f"is open along {len(odd):,} edges, which were closed with flat triangles")
    return Mesh(mesh.points, np.vstack([mesh.faces, caps.faces])), done


def _once(faces: Indices) -> Indices:
    """Leave out triangles with the same corners as an earlier one, seen from the same side."""
    least = faces.argmin(axis=1)
    rows = np.arange(len(faces))
    turned = np.stack([faces[rows, (least + step) % 3] for step in range(3)], axis=1)
    _, first = np.unique(turned, axis=0, return_index=True)
    return np.ascontiguousarray(faces[np.sort(first)])


def _disagree(faces: Indices) -> bool:
    """Whether two triangles run along an edge the same way, so that one must look wrong."""
    edges = faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    keys = np.sort(edges[:, 0] * (int(faces.max(initial=0)) + 1) + edges[:, 1])
    return bool((keys[1:] == keys[:-1]).any())


def _wound(mesh: Mesh) -> Indices:
    """Turn triangles until neighbours look the same way."""
    import trimesh  # noqa: PLC0415 - takes a while

    body = trimesh.Trimesh(mesh.points, mesh.faces, process=False)
    trimesh.repair.fix_winding(body)
    return np.ascontiguousarray(np.asarray(body.faces, np.int64))


def _caps(odd: Indices) -> Indices:
    """Close loops of open edges, each with a fan of triangles from one of its corners.

    As many open edges end in every corner as begin there, so that every walk comes back to where
    it began.
    """
    ways: dict[int, list[int]] = {}
    for start, end in odd[::-1].tolist():
        ways.setdefault(start, []).append(end)
    caps: list[tuple[int, int, int]] = []
    for start in sorted(ways):
        while ways[start]:
            here = ways[start].pop()
            while here != start:
                there = ways[here].pop()
                if there != start:
                    caps.append((start, there, here))
                here = there
    return np.array(caps, np.int64).reshape(-1, 3)
