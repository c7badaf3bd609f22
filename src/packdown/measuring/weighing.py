"""What a piece weighs, estimated from its volume, its surface, a material and its infill."""

from dataclasses import dataclass
from functools import cache
from math import ceil, floor

from packdown.data import data_folder
from packdown.errors import InputError, Problem, UsageError, nearest
from packdown.files.place import Place
from packdown.files.table import Table, read_toml
from packdown.files.values import flag, length, list_of, number, text
from packdown.units import Rounding

__all__ = ["Material", "Shell", "estimate", "find_material", "read_materials"]

UM3_BY_CM3 = 10**12
_DENSITY = list_of(number(0.001, 25), 3, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What a piece is made of.

    Parameters
    ----------
    name
        As the user names it.
    densities
        Least, usual and most, in g/cm3.
    printed
        Whether pieces of it have a shell around infill unless told otherwise.
    source
        Where the densities were read.
    """

    name: str
    densities: tuple[float, float, float]
    printed: bool
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shell:
    """What is solid in a printed piece.

    Parameters
    ----------
    low, high
        Least and most share of the volume.
    wall_um
        Thickness of walls; on thin pieces they take up a larger share.
    infill_percent
        How much of the rest is filled unless told otherwise.
    """

    low: float
    high: float
    wall_um: int
    infill_percent: float


@cache
def read_materials() -> tuple[dict[str, Material], Shell]:
    """Read the materials that the program knows, by their names in small letters.

    Raises
    ------
    InputError
        If the program's own file was changed so that it cannot be used.
    """
    found: list[Problem] = []
    path = data_folder("shared") / "materials.toml"
    place = Place(path.name, found)
    root = read_toml(path, place) or Table({}, place)
    materials = {}
    for name, table in root.table("materials").entries():
        low, usual, high = table.need("density", _DENSITY) or (1.0, 1.0, 1.0)
        printed = table.get("printed", flag, False)
        materials[name.casefold()] = Material(
            name=name,
            densities=(low, usual, high),
            printed=printed,
            source=table.need("source", text),
        )
        table.done()
    table = root.table("shell")
    share = table.need("share", list_of(number(0, 1), 2, 2)) or (0.0, 1.0)
    shell = Shell(
        low=share[0],
        high=share[1],
        wall_um=table.need("wall", length(Rounding.NEAREST)),
        infill_percent=table.need("infill_percent", number(0, 100)),
    )
    table.done()
    root.done()
    if found:
        raise InputError(found)
    return materials, shell


def find_material(name: str) -> Material:
    """Return the material that the user names.

    Raises
    ------
    UsageError
        If there is none of that name.
    """
    materials, _ = read_materials()
    found = materials.get(name.casefold())
    if found is None:
        known = {material.name for material in materials.values()}
        raise UsageError(f'unknown material "{name}"', hint=nearest(name, known))
    return found


def estimate(
    volume_um3: float, surface_um2: float, material: Material, infill_percent: float | None
) -> tuple[int, int, int]:
    """Estimate a weight.

    Parameters
    ----------
    volume_um3, surface_um2
        Of the piece as if solid.
    material
        What it is made of.
    infill_percent
        How much of the inside is filled; None for what is usual with the material.

    Returns
    -------
    low, usual, high
        In whole grams, at least 1.
    """
    _, shell = read_materials()
    infill = infill_percent
    if infill is None:
        infill = shell.infill_percent if material.printed else 100.0
    walls = min(1.0, surface_um2 * shell.wall_um / volume_um3)
    shares = [share + (1 - share) * infill / 100 for share in (shell.low, max(shell.high, walls))]
    least, usual, most = (density * volume_um3 / UM3_BY_CM3 for density in material.densities)
    low, high = least * shares[0], most * shares[1]
    middle = usual * (shares[0] + shares[1]) / 2
    return max(1, floor(low)), max(1, ceil(middle)), max(1, ceil(high))
