"""Straight cuts of a build."""

from dataclasses import dataclass

__all__ = ["Straight"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Straight:
    """Why a build is split along straight cuts, right through one part after another.

    Parameters
    ----------
    least_s
        Seconds of the split of least effort that was found.
    keys_in_place, least_keys_in_place
        Keys that are pulled while both parts stand in place: with straight cuts, and without.
    """

    least_s: int
    keys_in_place: int
    least_keys_in_place: int
