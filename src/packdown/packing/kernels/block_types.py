"""The bundles of arrays that the loops of the block engine work on."""

from typing import Any, NamedTuple

from numba import types

from packdown.packing.kernels.compiled import F1, I1, I2, Ints, Reals

__all__ = ["Pool", "PoolType", "Scene", "SceneType", "Task", "TaskType", "Work", "WorkType"]


class Task(NamedTuple):
    """What stays the same for one container; the columns are those of `blocks.layout`.

    Parameters
    ----------
    box
        The container and the mode.
    lies
        The ways in which kinds of boxes may lie.
    sides
        Sides of kinds along each axis.
    weights
        How a block is scored.
    """

    box: Ints
    lies: Ints
    sides: Ints
    weights: Reals


class Pool(NamedTuple):
    """The blocks, the one with the highest worth first.

    Parameters
    ----------
    blocks
        Size, top, volume and number of boxes.
    worth
        Volume times few boxes: no block scores more.
    first_need, needs
        First row of what each block needs, and one more; the rows.
    first_foot, feet
        The same for the rectangles on which each block stands.
    """

    blocks: Ints
    worth: Reals
    first_need: Ints
    needs: Ints
    first_foot: Ints
    feet: Ints


class Scene(NamedTuple):
    """What lies in the container so far; only the first rows of each array are in use.

    Parameters
    ----------
    spaces, placed
        Maximal free spaces, and blocks with their places.
    left
        How many boxes there are still of each kind.
    used
        Rows in use, and the volume placed.
    """

    spaces: Ints
    placed: Ints
    left: Ints
    used: Ints


class Work(NamedTuple):
    """Work space of one thread.

    Parameters
    ----------
    reach
        Greatest sum of sides within each length, a row an axis, in units.
    bits
        The sums as bits, 32 in a word.
    faces, first_face
        What touches each face of a space: rectangles, and the first row of each face.
    best, scores
        Blocks with the highest scores, in order.
    """

    reach: Ints
    bits: Ints
    faces: Ints
    first_face: Ints
    best: Ints
    scores: Reals


_bundle: Any = types.NamedTuple
TaskType = _bundle((I1, I2, I2, F1), Task)
PoolType = _bundle((I2, F1, I1, I2, I1, I2), Pool)
SceneType = _bundle((I2, I2, I1, I1), Scene)
WorkType = _bundle((I2, I1, I2, I1, I1, F1), Work)
