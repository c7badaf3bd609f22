"""What hands must hold while a build is taken down or rebuilt.

Of what would give way under its own weight, few pieces are found that keep all of it up as long as
they are held: first what would sink fastest, and of that the lowest, for a hand under it carries
what lies on it.
"""

from collections.abc import Sequence

from packdown.geometry import WayUp
from packdown.teardown.collapse import SLACK, collapse
from packdown.teardown.graph import BuildGraph, bits

__all__ = ["to_hold"]


def to_hold(graph: BuildGraph, mask: int, beside: int = 0) -> int:
    """Return few pieces that must be held so that all others stand upright.

    Parameters
    ----------
    graph, mask
        The build, and the pieces that are to stand.
    beside
        Pieces that stood beside them: the table is where the lowest of all is.
    """
    held: list[int] = []

    def sinks(pieces: Sequence[int]) -> int | None:
        hands = sum(1 << i for i in pieces)
        found = collapse(graph, mask, WayUp.UPRIGHT, 1, held=hands, beside=beside)
        if found.load >= 1 - SLACK:
            return None
        return found.fall.fastest if found.fall else next(bits(mask & ~hands))

    while (piece := sinks(held)) is not None:
        held.append(piece)
    for piece in held[:-1]:
        rest = [other for other in held if other != piece]
        if sinks(rest) is None:
            held = rest
    return sum(1 << i for i in held)
