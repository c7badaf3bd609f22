"""The decorator of the compiled loops, and the bundles of arrays they work on."""

from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar, cast

import numpy as np
from numba import boolean, float64, int64, njit, types
from numpy.typing import NDArray

__all__ = [
    "F1",
    "I1",
    "I2",
    "Flag",
    "Ints",
    "Real",
    "Reals",
    "Setup",
    "SetupType",
    "State",
    "StateType",
    "Whole",
    "compiled",
]

OPTIONS: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy", "_nrt": False}
Function = TypeVar("Function", bound=Callable[..., object])

Whole: Any = int64
Real: Any = float64
Flag: Any = boolean
I1, I2, F1, F2 = int64[::1], int64[:, ::1], float64[::1], float64[:, ::1]

Ints = NDArray[np.int64]
Reals = NDArray[np.float64]


class Setup(NamedTuple):
    """What stays the same during a construction; the columns are those of `layout`.

    Parameters
    ----------
    kinds, poses, cuboids, anchors
        Kinds of items, their poses, the cuboids of each pose, and the rectangles of a pose that
        are laid against the corners of free spaces.
    conflicts
        1 where two kinds must not share a container.
    box
        The container.
    """

    kinds: Ints
    poses: Ints
    cuboids: Ints
    anchors: Ints
    conflicts: Ints
    box: Ints


class State(NamedTuple):
    """What lies in the container so far; only the first rows of each array are in use.

    Parameters
    ----------
    items, placed, contacts
        Placed items in loading order, their cuboids, and what each rests on.
    loads
        Load on each item and its moments about y and x, in grams and micrometre grams.
    extra
        Work space: what one more item would add to `loads`.
    spaces
        Free spaces.
    used
        Rows in use of `items`, `placed`, `contacts` and `spaces`, and the weight of all items.
    """

    items: Ints
    placed: Ints
    contacts: Ints
    loads: Reals
    extra: Reals
    spaces: Ints
    used: Ints


_bundle: Any = types.NamedTuple
SetupType = _bundle((I2, I2, I2, I2, I2, I1), Setup)
StateType = _bundle((I2, I2, I2, F2, F2, I2, I1), State)


def compiled(signature: object) -> Callable[[Function], Function]:
    """Compile a function once for one signature and keep it on disk.

    The signature is always given, so that a changed argument type fails instead of compiling
    anew in silence. Counting references to arrays would take most of the time, so compiled
    functions do without it, and may therefore not make arrays.
    """
    return cast(
        "Callable[[Function], Function]",
        njit(signature, **OPTIONS),
    )
