"""The compiled loops over triangles and cells; importing this package compiles or loads them."""

from packdown.measuring.kernels.filling import count_windings, fill_voids, take_boxes
from packdown.measuring.kernels.marking import mark_faces, mark_triangles

__all__ = ["count_windings", "fill_voids", "mark_faces", "mark_triangles", "take_boxes"]
