"""Meshes that others made: samples inside packages, read where they are installed."""

from importlib.metadata import PackageNotFoundError, files
from pathlib import Path

import pytest

from packdown.errors import InputError
from packdown.measuring import measure_file
from support.meshes import outside, read_again, scaled_how

CLOSED = {
    "compas": ("boxes.obj", "cone.stl", "cube_ascii.stl", "cube_binary.stl", "cube_binary_2.stl"),
    "pymeshfix": ("StanfordBunny.ply",),
}
OPEN = {"compas": ("faces.obj", "hypar.obj", "tubemesh.ply"), "pymeshfix": ("planar_mesh.ply",)}


def find(package: str, name: str) -> Path:
    """Return a file of an installed package."""
    try:
        found = next(one for one in files(package) or () if one.name == name)
    except (PackageNotFoundError, StopIteration):
        pytest.skip(f"{package} with {name} is not installed")
    return Path(str(found.locate()))


@pytest.mark.parametrize(("package", "name"), [(p, n) for p, ns in CLOSED.items() for n in ns])
def test_meshes_of_packages_are_covered(package: str, name: str) -> None:
    """No sampled point of the surface lies outside the cover."""
    path = find(package, name)
    settings = scaled_how(path)
    one = measure_file(path, settings)
    assert outside(read_again(path, settings), one.cover_um, seed=1) == 0


@pytest.mark.parametrize(("package", "name"), [(p, n) for p, ns in OPEN.items() for n in ns])
def test_sheets_of_packages_are_refused(package: str, name: str) -> None:
    """Open sheets are refused, and it is said why."""
    path = find(package, name)
    with pytest.raises(InputError, match="surface is open"):
        measure_file(path, scaled_how(path))
