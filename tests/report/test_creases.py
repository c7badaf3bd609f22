"""Creases against the edges of an exact boolean union."""

import manifold3d
import numpy as np
import pytest
import trimesh

from packdown.geometry import Cuboid, Solid, disjoint_union
from packdown.report.creases import as_array, creases, touched

ROOM = disjoint_union(
    [
        Cuboid(0, 0, 0, 60, 40, 5),
        Cuboid(0, 35, 0, 60, 40, 30),
        Cuboid(0, 0, 0, 5, 40, 30),
        Cuboid(55, 0, 0, 60, 20, 30),
    ]
)
STAIRS = disjoint_union([Cuboid(0, 10 * n, 0, 30, 40, 8 * (n + 1)) for n in range(4)])


def _total(solid: Solid) -> int:
    edges = {(edge.start, edge.end) for own in creases(solid) for edge in own}
    return sum(sum(e - s for s, e in zip(start, end, strict=True)) for start, end in edges)


def _total_of_union(solid: Solid) -> float:
    """Length of all edges at which the faces of the exact union are not in one plane."""
    union = manifold3d.Manifold.batch_boolean(
        [manifold3d.Manifold.cube(c.size).translate(c[:3]) for c in solid],
        manifold3d.OpType.Add,
    )
    mesh = union.to_mesh()
    shape = trimesh.Trimesh(mesh.vert_properties[:, :3], mesh.tri_verts)
    bent = shape.face_adjacency_edges[shape.face_adjacency_angles > 0.01]
    ends = shape.vertices[bent]
    return float(np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1).sum())


@pytest.mark.parametrize("solid", [ROOM, STAIRS, (Cuboid(0, 0, 0, 3, 4, 5),)])
def test_creases_are_the_edges_of_the_exact_union(solid: Solid) -> None:
    """Seams between the cuboids of one solid do not show (manifold3d as the reference)."""
    assert _total(solid) == pytest.approx(_total_of_union(solid), rel=1e-4)


def test_two_cuboids_in_line_have_the_edges_of_one() -> None:
    """A bar cut in two shows no seam."""
    whole = (Cuboid(0, 0, 0, 20, 5, 5),)
    halves = (Cuboid(0, 0, 0, 10, 5, 5), Cuboid(10, 0, 0, 20, 5, 5))
    assert _total(halves) == _total(whole) == 4 * (20 + 5 + 5)


def test_a_crease_is_cut_where_another_solid_touches_it() -> None:
    """The stretch along which a neighbour lies is told from the rest."""
    top_front = next(
        edge
        for edge in creases((Cuboid(0, 0, 0, 20, 5, 5),))[0]
        if edge.start == (0, 0, 5) and edge.end == (20, 0, 5)
    )
    free, shared = touched(top_front, as_array([Cuboid(5, -5, 0, 12, 0, 5)]))
    assert [(edge.start[0], edge.end[0]) for edge in free] == [(0, 5), (12, 20)]
    assert [(edge.start[0], edge.end[0]) for edge in shared] == [(5, 12)]
    assert touched(top_front, as_array([])) == ([top_front], [])
