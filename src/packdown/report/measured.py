"""Measured mesh files as text, as data and as parts."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.table import Table

from packdown.geometry import size

if TYPE_CHECKING:
    from packdown.measuring import Measured

__all__ = ["measured_data", "print_measured", "remarks"]

UM3_BY_CM3 = 10**12
UM2_BY_CM2 = 10**8


def print_measured(measured: Iterable[tuple[str, "Measured"]], console: Console) -> None:
    """Print a line for every piece, and below it what else is to be known.

    ``base`` is what touches the table, ``balance`` the centre of gravity from the lower corner.
    """
    table = Table(box=None, pad_edge=False)
    for heading in ("part", "size, mm", "unit", "cuboids", "air", "weight, g", "base", "balance"):
        table.add_column(heading, overflow="fold", min_width=min(8, len(heading)))
    notes: list[str] = []
    for part, one in measured:
        table.add_row(
            part,
            _lengths(one.size_um, " x "),
            f"{one.unit}?" if one.guessed else one.unit,
            f"{len(one.cover_um)}",
            f"{one.air_percent:.0f} %",
            "{1} ({0}-{2})".format(*one.weight_g),
            f"{one.base_um2 / UM2_BY_CM2:.1f} cm2",
            _lengths(one.centre_um, ", "),
        )
        notes.extend(f"{part}: {note}." for note in one.notes)
        if one.base_um2 == 0:
            notes.append(f"{part}: has no flat base; is it the right way up? See --up.")
    console.print(table)
    for note in notes:
        console.print(note, markup=False)


def remarks(one: "Measured") -> dict[str, str]:
    """Return what to say beside the keys of a part that was measured."""
    low, _, high = one.weight_g
    words = {"weight": f"estimate, {low} to {high} g: weigh one"}
    unit = f"unit guessed: {one.unit}; " if one.guessed else ""
    key = "cuboids" if len(one.cover_um) > 1 else "size"
    if unit or key == "size":
        words[key] = f"{unit}{one.air_percent:.0f} % air"
    return words


def measured_data(measured: Sequence[tuple[str, "Measured"]]) -> list[dict[str, Any]]:
    """Return the same as data for other programs."""
    return [
        {
            "part": part,
            "file": one.file,
            "unit": one.unit,
            "unit_guessed": one.guessed,
            "triangles": one.triangles,
            "size_um": list(one.size_um),
            "cover_size_um": list(size(one.cover_um)),
            "cover_um": [list(cuboid) for cuboid in one.cover_um],
            "core_um": [list(cuboid) for cuboid in one.core_um],
            "volume_cm3": round(one.volume_um3 / UM3_BY_CM3, 3),
            "cover_cm3": round(one.cover_um3 / UM3_BY_CM3, 3),
            "air_percent": round(one.air_percent, 1),
            "weight_g": dict(zip(("low", "usual", "high"), one.weight_g, strict=True)),
            "base_cm2": round(one.base_um2 / UM2_BY_CM2, 2),
            "centre_of_gravity_um": list(one.centre_um),
            "notes": list(one.notes),
        }
        for part, one in measured
    ]


def _lengths(um: tuple[int, int, int], between: str) -> str:
    """Show lengths to a tenth of a millimetre."""
    return between.join(f"{at / 1_000:.1f}".removesuffix(".0") for at in um)
