"""Containers and builds as glTF 2.0, for any viewer of solids."""

from packdown.report.gltf.scenes import build_glb, container_glb

__all__ = ["build_glb", "container_glb"]
