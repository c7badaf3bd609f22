"""The decorator of the compiled loops, the types of their arrays, and how cells are found.

Lines are the places of the planes of a grid along one axis, in micrometres. Cells are indexed
[x, y, z]; cell i lies between lines i and i + 1.
"""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numpy as np
from numba import float64, int16, int64, njit, uint8
from numpy.typing import NDArray

__all__ = [
    "BoxType",
    "BoxesType",
    "Cells",
    "CellsType",
    "CornersType",
    "Floats",
    "Ints",
    "LineType",
    "TrianglesType",
    "TurnsType",
    "compiled",
    "first_cell",
    "last_cell",
]

Function = TypeVar("Function", bound=Callable[..., object])
Cells = NDArray[np.uint8]
Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_options: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy"}
CornersType: Any = float64[:, ::1]
TrianglesType: Any = float64[:, :, ::1]
LineType: Any = float64[::1]
CellsType: Any = uint8[:, :, ::1]
TurnsType: Any = int16[:, :, ::1]
BoxesType: Any = int64[:, ::1]
BoxType: Any = int64[::1]


def compiled(signature: object) -> Callable[[Function], Function]:
    """Compile a function once for one signature and keep it on disk."""
    return cast("Callable[[Function], Function]", njit(signature, **_options))


@compiled(int64(LineType, float64))
def last_cell(line: Floats, at: float) -> int:
    """Return the last cell that begins below a place; -1 where none does."""
    low, high = 0, len(line)
    while low < high:
        middle = (low + high) // 2
        if line[middle] < at:
            low = middle + 1
        else:
            high = middle
    return low - 1


@compiled(int64(LineType, float64, float64))
def first_cell(line: Floats, low: float, high: float) -> int:
    """Return the first cell whose inside an extent meets; the last before it if that is flat."""
    cell = last_cell(line, low)
    if cell + 1 < len(line) - 1 and line[cell + 1] <= low < high:
        cell += 1
    return max(0, cell)
