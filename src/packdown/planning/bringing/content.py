"""What a choice of wishes brings: builds packed as builds, and loose pieces beside them.

Pieces that builds of different sessions share are brought once. In the order in which they are
first wanted, builds are packed as builds as long as that brings no more pieces of any part than
are needed at the same time; all others are made there, from pieces of those and of loose ones.
Where that takes too long, pieces may be brought for them too, as far as there are any.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from packdown.model import Grade, Piece, Workspace, loose_piece
from packdown.planning.bringing.demand import Demand

__all__ = ["Content", "content_of", "contents_of", "packed_workspace"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What is brought, with the ranks in which it is needed.

    Parameters
    ----------
    whole
        Builds packed as builds, as (id, rank).
    made_there
        Ids of the builds that are made there.
    extras
        Loose pieces, as (part, number, rank).
    """

    whole: tuple[tuple[str, int], ...]
    made_there: tuple[str, ...]
    extras: tuple[tuple[str, int, int], ...]


def contents_of(demand: Demand, choice: Iterable[int]) -> Iterator[Content]:
    """Yield what a choice may bring: first pieces once, then more and more builds as builds.

    Builds with most joints come first.
    """
    chosen = tuple(choice)
    last = content_of(demand, chosen)
    yield last
    also: tuple[str, ...] = ()
    for name in sorted(last.made_there, key=lambda b: -len(demand.builds[b].joints)):
        found = content_of(demand, chosen, (*also, name))
        brought = Counter[str]()
        for build, _ in found.whole:
            brought.update(demand.parts_of[build])
        if all(brought[part] <= own for part, own in demand.pool.items()):
            also = (*also, name)
            yield found


def content_of(demand: Demand, choice: Iterable[int], also: Collection[str] = ()) -> Content:
    """Return what a choice brings.

    Parameters
    ----------
    demand
        The event.
    choice
        Numbers of the wishes.
    also
        Builds that are packed as builds though their pieces are there anyway.
    """
    chosen = sorted(choice)
    needed = demand.needed(chosen)
    whole: dict[str, int] = {}
    made_there: list[str] = []
    brought: Counter[str] = Counter()
    first: dict[str, int] = {}
    for number in chosen:
        pick = demand.picks[number]
        rank, build = demand.rank[pick.session], pick.wish.build
        if build in whole or build in made_there:
            continue
        parts = demand.asks(pick.wish)
        if build is not None:
            placed = demand.builds[build].grade is Grade.PLACED
            enough = all(brought[p] + n <= needed[p] for p, n in parts.items())
            if not placed or enough or build in also:
                whole[build] = rank
                brought.update(parts)
                continue
            made_there.append(build)
        for part in parts:
            first.setdefault(part, rank)
    extras = tuple(
        (part, number - brought[part], first.get(part, 1))
        for part, number in sorted(needed.items())
        if number > brought[part]
    )
    return Content(whole=tuple(whole.items()), made_there=tuple(made_there), extras=extras)


def packed_workspace(demand: Demand, content: Content) -> Workspace:
    """Return the collection that is packed: nothing but what is brought."""
    whole = dict(content.whole)
    return replace(
        demand.workspace,
        builds=tuple(
            replace(demand.builds[name], needed=rank, stands=True) for name, rank in whole.items()
        ),
        loose=tuple(
            replace(piece, needed=rank)
            for part, number, rank in content.extras
            for piece in _some(demand, part, number, whole)
        ),
        designs=(),
    )


def _some(demand: Demand, part: str, number: int, whole: Iterable[str]) -> list[Piece]:
    """Return pieces of a part that no build packed as a build has: loose ones first."""
    found: list[Piece] = []
    for piece in _supply(demand, part, set(whole)):
        if len(found) == number:
            break
        found.append(piece)
    return found


def _supply(demand: Demand, part: str, whole: set[str]) -> Iterator[Piece]:
    """Yield loose pieces of a part, then those of other builds, then unnumbered ones."""
    own = next(known for known in demand.workspace.parts if known.id == part)
    taken = [piece for piece in demand.workspace.loose if piece.part == part]
    yield from taken
    for build in demand.workspace.builds:
        if build.grade is Grade.PLACED and build.id not in whole:
            for piece in build.pieces:
                if piece.part == part:
                    yield replace(loose_piece(own, 1), id=piece.id)
    number = len(taken)
    while True:
        number += 1
        yield loose_piece(own, number)
