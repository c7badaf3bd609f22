"""The example workspace, and what the tests of it ask again and again."""

from collections.abc import Iterator
from functools import cache

from packdown.data import data_folder
from packdown.files import read_workspace
from packdown.geometry import Solid
from packdown.model import Build, Grade, Workspace

__all__ = ["build_of", "example", "placed", "solid_of"]


@cache
def example() -> Workspace:
    """Read the example workspace."""
    return read_workspace(data_folder("examples") / "saltworks")


def solid_of(build: Build) -> Solid:
    """Return the covers of all pieces of a build."""
    return tuple(cuboid for piece in build.pieces for cuboid in piece.cuboids_um)


def build_of(works: Workspace, name: str) -> Build:
    """Return the build of that id."""
    return next(build for build in works.builds if build.id == name)


def placed(works: Workspace) -> Iterator[Build]:
    """Yield the builds of which every piece is placed."""
    return (build for build in works.builds if build.grade is Grade.PLACED)
