"""One piece of advice."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Advice", "AdviceKind"]


class AdviceKind(StrEnum):
    """What the matter is."""

    ALMOST_MEET = "slots almost meet"
    HANGS = "hangs in the air"
    TIPS = "rests on too little"
    HEAVY = "heavier than any container may hold"


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """Something about a build that can be read, but is hardly meant.

    Parameters
    ----------
    kind
        What the matter is.
    file, entry
        Where it is said.
    message, hint
        What is the case, and what to do.
    figures
        The figures in it, each with its unit in its name.
    """

    kind: AdviceKind
    file: str
    entry: str
    message: str
    hint: str
    figures: Mapping[str, int]
