"""What hands must hold while a build is taken down or rebuilt.

After each move, what stays stands where it stood; what was moved stands on the table, unless it is
a sub-assembly, which goes from hand to container. Of what would give way under its own weight, few
pieces are found that keep all of it up as long as they are held.
"""

from collections.abc import Collection, Sequence
from dataclasses import replace

from packdown.geometry import WayUp
from packdown.model import Build
from packdown.teardown.collapse import SLACK, collapse
from packdown.teardown.graph import BuildGraph, bits, graph_of
from packdown.teardown.order import Move

__all__ = ["with_holds"]


def with_holds(
    build: Build, moves: Sequence[Move], sub_assemblies: Collection[Sequence[str]]
) -> tuple[Move, ...]:
    """Return moves that name the pieces to be held, and the hands for that.

    Parameters
    ----------
    build
        The build.
    moves
        Its order of work.
    sub_assemblies
        Piece ids of each.
    """
    graph = graph_of(build)
    whole = {frozenset(sub) for sub in sub_assemblies}
    found = []
    for move in moves:
        moving, staying = graph.mask(move.moving), graph.mask(move.staying)
        held = to_hold(graph, staying, moving)
        if frozenset(move.moving) not in whole:
            held |= to_hold(graph, moving)
        hands = 2 if held else move.hands
        found.append(replace(move, holds=graph.ids(held), hands=hands))
    return tuple(found)


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

    def gives_way(pieces: Sequence[int]) -> int:
        hands = sum(1 << i for i in pieces)
        found = collapse(graph, mask, WayUp.UPRIGHT, 1, held=hands, beside=beside)
        if found.load >= 1 - SLACK:
            return 0
        return (found.fall.moving if found.fall else mask) & ~hands

    while moving := gives_way(held):
        held.append(max(bits(moving), key=lambda i: (graph.build.pieces[i].weight_g, -i)))
    for piece in held[:-1]:
        rest = [other for other in held if other != piece]
        if not gives_way(rest):
            held = rest
    return sum(1 << i for i in held)
