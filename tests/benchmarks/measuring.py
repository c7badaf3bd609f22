"""Measuring mesh files: 300 of 50,000 triangles, and how much air covers hold.

``python -m benchmarks.measuring many`` makes the files and measures them by two processes.
``python -m benchmarks.measuring air`` measures generated meshes at several resolutions.
``python -m benchmarks.measuring packaged WHEEL...`` measures the meshes inside packages, which
are read there and not unpacked into this repository.
"""

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from zipfile import ZipFile

import numpy as np

from packdown.errors import InputError, Problem
from packdown.geometry import volume
from packdown.measuring import measure_file, measure_files
from support.meshes import (
    Shape,
    Triangles,
    generated,
    how,
    outside,
    read_again,
    scaled_how,
    write_stl,
)

FILES = 300
TRIANGLES = 50_000
RESOLUTIONS_UM = (4_000, 2_000, 1_000)
SUFFIXES = (".stl", ".obj", ".ply", ".glb", ".3mf")


def many() -> None:
    """Measure many large files as the command does; show the time of two processes and of one."""
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / f"piece-{number:03}.stl" for number in range(FILES)]
        for number, path in enumerate(paths):
            write_stl(_bumpy(number), path)
        say(f"{FILES} files of {TRIANGLES:,} triangles, {paths[0].stat().st_size / 2**20:.1f} MiB")
        for jobs in (2, 1):
            part = paths if jobs == 2 else paths[:30]
            start = time.perf_counter()
            outcomes = [one for _, one in measure_files(part, how(2_000, 40), jobs=jobs)]
            took = time.perf_counter() - start
            wrong = [one for one in outcomes if isinstance(one, Problem)]
            say(f"{len(part)} files, {jobs} processes: {took:.1f} s, {len(wrong)} refused")


def _bumpy(seed: int) -> Triangles:
    """Return the triangles of a bumpy ball or ring with a flat bottom, in millimetres."""
    rng = np.random.default_rng(seed)
    rows, columns = 250, TRIANGLES // 500
    u, v = np.meshgrid(
        np.linspace(0, 2 * np.pi, rows, endpoint=False),
        np.linspace(0, 2 * np.pi, columns, endpoint=False),
        indexing="ij",
    )
    waves = rng.integers(2, 12, 2)
    bump = 1 + 0.1 * np.sin(waves[0] * u) * np.cos(waves[1] * v)
    wide, thick = rng.uniform(15, 45), rng.uniform(5, 14)
    x = (wide + thick * bump * np.cos(v)) * np.cos(u)
    y = (wide + thick * bump * np.cos(v)) * np.sin(u)
    z = np.maximum(thick * bump * np.sin(v), -0.6 * thick)
    points = np.stack([x, y, z], axis=2)
    across, along = np.roll(points, -1, axis=0), np.roll(points, -1, axis=1)
    both = np.roll(across, -1, axis=1)
    one = np.stack([points, across, both], axis=2).reshape(-1, 3, 3)
    two = np.stack([points, both, along], axis=2).reshape(-1, 3, 3)
    return np.concatenate([one, two])


def air() -> None:
    """Show how much air covers of generated meshes hold."""
    with tempfile.TemporaryDirectory() as folder:
        shapes = list(generated())
        say("| shape | " + " | ".join(f"{um / 1000:g} mm" for um in RESOLUTIONS_UM) + " |")
        for shape in shapes:
            path = Path(folder) / f"{shape.name}.stl"
            write_stl(shape.triangles, path)
            say(f"| {shape.name} | " + " | ".join(_cells(path, shape)) + " |")


def _cells(path: Path, shape: Shape) -> Iterator[str]:
    for resolution_um in RESOLUTIONS_UM:
        one = measure_file(path, how(resolution_um, 200))
        few = measure_file(path, how(resolution_um, 40))
        gone = outside(shape.triangles, one.cover_um, seed=1) + outside(
            shape.triangles, few.cover_um, seed=2
        )
        yield (
            f"{one.fine_um3 / one.volume_um3:.2f}, {len(one.cover_um)}: "
            f"{one.cover_um3 / one.volume_um3:.2f}, {len(few.cover_um)}: "
            f"{few.cover_um3 / few.volume_um3:.2f}, {gone} outside"
        )


def packaged(wheels: list[str]) -> None:
    """Measure the meshes in packages, at 1/100 of their longest side."""
    with tempfile.TemporaryDirectory() as folder:
        for wheel in wheels:
            with ZipFile(wheel) as archive:
                for name in archive.namelist():
                    if name.lower().endswith(SUFFIXES):
                        path = Path(archive.extract(name, folder))
                        say(f"{Path(wheel).name.split('-')[0]} {name}: {_packaged(path)}")


def _packaged(path: Path) -> str:
    try:
        settings = scaled_how(path)
        one = measure_file(path, settings)
        gone = outside(read_again(path, settings), one.cover_um, seed=3)
    except (InputError, ValueError) as error:
        return f"refused, {error}"
    return (
        f"{one.triangles} triangles, cells / true {one.fine_um3 / one.volume_um3:.2f}, "
        f"{len(one.cover_um)} cuboids / true {volume(one.cover_um) / one.volume_um3:.2f}, "
        f"{gone} of 20,000 points outside; {'; '.join(one.notes)}"
    )


def say(line: str) -> None:
    """Print a line."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    chosen = sys.argv[1] if len(sys.argv) > 1 else ""
    if chosen == "packaged":
        packaged(sys.argv[2:])
    elif chosen == "air":
        air()
    else:
        many()
