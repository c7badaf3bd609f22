"""One mesh file, measured."""

from dataclasses import dataclass
from math import ceil
from pathlib import Path

import numpy as np

from packdown.errors import InputError, Problem
from packdown.geometry import Solid, Vector, volume
from packdown.measuring.cover import Covered, cover
from packdown.measuring.grid import count_cells, planes
from packdown.measuring.mesh import Indices, Mesh, Points, tidy
from packdown.measuring.reading import Raw, read_mesh
from packdown.measuring.repair import closed
from packdown.measuring.scale import guess_unit, um_by_unit
from packdown.measuring.weighing import Material, estimate

__all__ = ["MAX_CELLS", "How", "Measured", "measure_file"]

MAX_CELLS = 8_000_000
MAX_LENGTH_UM = 10_000_000
_UPRIGHT = {"z": (0, 1, 2), "y": (2, 0, 1), "x": (1, 2, 0)}
"""Which axes of the file become x, y and z when this one points up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """How files are measured.

    Parameters
    ----------
    resolution_um
        No cell of the grid is wider.
    most_cuboids
        A cover has no more of them.
    unit
        The unit of all files; None for what they say, or a guess.
    up
        The axis of the files that points up.
    material, infill_percent
        What the pieces are made of, and how much of their inside is filled.
    """

    resolution_um: int
    most_cuboids: int
    unit: str | None
    up: str
    material: Material
    infill_percent: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What is known of the piece in a file.

    Parameters
    ----------
    file
        The file, as the user named it.
    unit, guessed
        Its unit, and whether that is a guess.
    triangles
        How many it has.
    size_um
        Length, width and height, rounded up.
    cover_um, core_um
        Disjoint cuboids that contain the shape; some that lie inside it.
    volume_um3, fine_um3
        Volume of the shape, and of all cells that it meets.
    weight_g
        Low, usual and high estimate.
    base_um2
        Area of its flat faces at the bottom.
    centre_um
        Centre of gravity of the solid, from the lower corner of the cover.
    notes
        What else the user should know.
    """

    file: str
    unit: str
    guessed: bool
    triangles: int
    size_um: Vector
    cover_um: Solid
    core_um: Solid
    volume_um3: int
    fine_um3: int
    weight_g: tuple[int, int, int]
    base_um2: int
    centre_um: Vector
    notes: tuple[str, ...]

    @property
    def cover_um3(self) -> int:
        """Volume of the cover."""
        return volume(self.cover_um)

    @property
    def air_percent(self) -> float:
        """How much larger the cover is than the shape, in percent of the shape."""
        return 100 * (self.cover_um3 - self.volume_um3) / self.volume_um3


def measure_file(path: Path, how: How) -> Measured:
    """Measure the piece in a mesh file.

    Raises
    ------
    InputError
        If the file cannot be used; it says why.
    """
    try:
        return _measure(read_mesh(path), str(path), how)
    except MemoryError:
        reason = "needs more memory than there is"
    except ValueError as error:
        reason = str(error)
    raise InputError([Problem(file=str(path), entry="", message=reason)])


def _measure(raw: Raw, file: str, how: How) -> Measured:
    turned = raw.points if how.up == "z" else raw.points[:, _UPRIGHT[how.up]]
    longest = _longest(turned, raw.faces)
    unit = how.unit or raw.unit or guess_unit(longest)
    scale = um_by_unit(unit)
    if longest * scale > MAX_LENGTH_UM:
        raise ValueError(
            f"is longer than 10 m if its unit is {unit}; give the right one with --units"
        )
    mesh = tidy(turned * scale, raw.faces)
    if not len(mesh.faces):
        raise ValueError(f"none of its {len(raw.faces):,} triangles has an area")
    mesh, mended = closed(mesh)
    lines = planes(mesh, how.resolution_um)
    if count_cells(lines) > MAX_CELLS:
        raise ValueError(
            f"takes {count_cells(lines):,} cells at this resolution, more than {MAX_CELLS:,}; "
            "give a coarser one with --resolution"
        )
    covered = cover(mesh, lines, how.most_cuboids)
    volume_um3, centre, rough = _whole(mesh, covered)
    surface = float(mesh.areas_um2.sum())
    return Measured(
        file=file,
        unit=unit,
        guessed=how.unit is None and raw.unit is None,
        triangles=len(raw.faces),
        size_um=_vector(np.ceil(mesh.size_um)),
        cover_um=covered.cover_um,
        core_um=covered.core_um,
        volume_um3=max(1, round(volume_um3)),
        fine_um3=covered.fine_um3,
        weight_g=estimate(volume_um3, surface, how.material, how.infill_percent),
        base_um2=round(_base(mesh)),
        centre_um=_vector(np.rint(centre)),
        notes=(*mended, *rough, *_bodies(raw), *_hollow(covered)),
    )


def _longest(points: Points, faces: Indices) -> float:
    """Return the longest side of all corners that are used."""
    sides = []
    for axis in range(3):
        used = points[faces, axis]
        sides.append(float(used.max() - used.min()))
    return max(sides)


def _whole(mesh: Mesh, covered: Covered) -> tuple[float, Points, tuple[str, ...]]:
    """Return volume and centre; from the grid where bodies overlap."""
    if covered.plain:
        return mesh.volume_um3, mesh.centre_um, ()
    middle = (covered.core_um3 + covered.fine_um3) / 2
    boxes = np.array(covered.cover_um, np.float64)
    sizes = np.prod(boxes[:, 3:] - boxes[:, :3], axis=1)
    centre = sizes @ (boxes[:, 3:] + boxes[:, :3]) / 2 / sizes.sum()
    return middle, centre, ("has bodies that overlap, so its volume is estimated from the grid",)


def _bodies(raw: Raw) -> tuple[str, ...]:
    if raw.bodies < 2:
        return ()
    return (f"holds {raw.bodies} objects, which were measured as one piece",)


def _hollow(covered: Covered) -> tuple[str, ...]:
    return ("has a hollow that nothing can reach, which its cover fills",) * covered.sealed


def _base(mesh: Mesh) -> float:
    """Return the area of flat faces at the very bottom that look down."""
    flat = (mesh.triangles[:, :, 2].max(axis=1) <= 0.5) & (mesh.normals[:, 2] < 0)
    return float(mesh.areas_um2[flat].sum())


def _vector(values: Points) -> Vector:
    x, y, z = (ceil(value) for value in values)
    return (x, y, z)
