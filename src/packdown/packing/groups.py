"""Which items must share a container, and which must not."""

from collections.abc import Iterable, Sequence

from packdown.model import Item, Rules

__all__ = ["apart_groups", "clusters"]


def apart_groups(items: Sequence[Item], rules: Rules) -> list[frozenset[int]]:
    """Return, for each item, the keep-apart groups that name any of its pieces."""
    return _groups(items, rules.keep_apart)


def clusters(items: Sequence[Item], rules: Rules) -> list[int | None]:
    """Return which items must share one container, over all keep-together groups.

    Returns
    -------
    list of int or None
        For each item the number of its cluster, or None if it is free.
    """
    leader = list(range(len(rules.keep_together)))

    def head(group: int) -> int:
        while leader[group] != group:
            group = leader[group]
        return group

    groups = _groups(items, rules.keep_together)
    for own in groups:
        heads = sorted({head(group) for group in own})
        for other in heads[1:]:
            leader[other] = heads[0]
    numbers = [head(min(own)) if own else None for own in groups]
    return [None if number is None or numbers.count(number) < 2 else number for number in numbers]


def _groups(items: Sequence[Item], named: Iterable[Iterable[str]]) -> list[frozenset[int]]:
    by_piece: dict[str, set[int]] = {}
    for number, pieces in enumerate(named):
        for piece in pieces:
            by_piece.setdefault(piece, set()).add(number)
    return [
        frozenset(group for piece in item.pieces for group in by_piece.get(piece, ()))
        for item in items
    ]
