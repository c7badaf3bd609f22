"""What a container holds, grouped by part: the rows of its packing list."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packdown.model import Item, ItemKind, PackedContainer, Placement
from packdown.report import words
from packdown.report.lookup import Lookup

__all__ = ["Group", "Row", "grouped_contents"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Items of one kind in one container.

    Parameters
    ----------
    count, name
        How many of what.
    detail
        The pieces within, by part; empty for single pieces.
    layers
        In which layers they lie, in order.
    weight_g
        Of all of them.
    """

    count: int
    name: str
    detail: str
    layers: tuple[int, ...]
    weight_g: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Rows under one heading."""

    title: str
    rows: tuple[Row, ...]

    @property
    def count(self) -> int:
        """Number of items in all rows."""
        return sum(row.count for row in self.rows)


_TITLES = {
    ItemKind.SUB_ASSEMBLY: "Parts of builds",
    ItemKind.LOOSE: "Loose pieces",
    ItemKind.BAG: "Bags",
}


def grouped_contents(lookup: Lookup, container: PackedContainer) -> tuple[Group, ...]:
    """Group what a container holds.

    Parts of builds come one by one in loading order, with their pieces counted by part; loose
    pieces are counted by part, and bags by name, most of one kind first.
    """
    groups = []
    for kind, title in _TITLES.items():
        pairs = [
            (lookup.items[placement.item], placement)
            for placement in container.fill
            if lookup.items[placement.item].kind is kind
        ]
        if pairs:
            groups.append(Group(title=title, rows=_rows(lookup, pairs)))
    return tuple(groups)


def _rows(lookup: Lookup, pairs: Sequence[tuple[Item, Placement]]) -> tuple[Row, ...]:
    alike: dict[str, list[tuple[Item, Placement]]] = {}
    for item, placement in pairs:
        alike.setdefault(_kind(lookup, item), []).append((item, placement))
    rows = [_row(lookup, found) for found in alike.values()]
    if pairs[0][0].kind is ItemKind.SUB_ASSEMBLY:
        return tuple(rows)
    return tuple(sorted(rows, key=lambda row: (-row.count, row.name)))


def _kind(lookup: Lookup, item: Item) -> str:
    """Return what items of one row have in common."""
    if item.kind is ItemKind.SUB_ASSEMBLY:
        return item.id
    if item.kind is ItemKind.LOOSE and item.pieces:
        return lookup.pieces[item.pieces[0]].part
    return item.name


def _row(lookup: Lookup, found: Iterable[tuple[Item, Placement]]) -> Row:
    items, placements = zip(*found, strict=True)
    first = items[0]
    is_whole = first.kind is ItemKind.SUB_ASSEMBLY and len(first.pieces) > 1
    return Row(
        count=len(items),
        name=first.name,
        detail=words.piece_names(lookup, first.pieces) if is_whole else "",
        layers=tuple(sorted(Counter(placement.layer for placement in placements))),
        weight_g=sum(item.weight_g for item in items),
    )
