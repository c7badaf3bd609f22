"""A chapter for each container: the whole of it, then layer by layer pictures and contents."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from packdown.model import Item, ItemKind, PackedContainer
from packdown.report import words
from packdown.report.cautions import short_cautions
from packdown.report.lookup import Lookup
from packdown.report.pictures import (
    LayerPictures,
    container_picture,
    container_tones,
    layer_pictures,
)
from packdown.report.printing.cells import (
    SMALL,
    Cell,
    Shown,
    Stack,
    Swatch,
    Tick,
    Words,
)
from packdown.report.printing.flow import Flow
from packdown.report.printing.picture import read_picture
from packdown.report.step_words import runs
from packdown.units import format_length, format_size, format_weight

__all__ = ["Entry", "add_container", "contents"]

ALL_IN = "All that goes in: numbers give the order of loading, hatching tells builds apart"
ROW = (4.0, 22.0, 4.0, 0.55, 0.45)
"""Shares of the columns: tick, numbers, hatching, what it is, how it lies."""


class Entry(NamedTuple):
    """Things in a layer that are alike and lie alike.

    Parameters
    ----------
    numbers
        Their numbers in loading order.
    what, detail
        How many of what; the pieces within a part of a build.
    lying, origin
        How they lie, and what they belong to.
    tone
        Their hatching.
    """

    numbers: tuple[int, ...]
    what: str
    detail: str
    lying: str
    origin: str
    tone: int


def add_container(flow: Flow, lookup: Lookup, container: PackedContainer) -> None:
    """Add the chapter of a container."""
    flow.title(container.name)
    flow.say(", ".join(_facts(lookup, container)))
    for warning in short_cautions(lookup, container):
        flow.say(warning, bold=True)
    layers = layer_pictures(container)
    whole = Shown(read_picture(container_picture(lookup, container)), ALL_IN, 85)
    if len(layers) > 1:
        flow.row([whole], [1.0])
    for drawn in layers:
        _add_layer(flow, lookup, container, drawn, whole if len(layers) == 1 else None)


def _facts(lookup: Lookup, container: PackedContainer) -> Iterator[str]:
    yield f"Inside {format_size(container.inner_um)}"
    yield words.lining(container.lining)
    if container.sheet_um:
        yield f"sheets of {format_length(container.sheet_um)} on what carries"
    yield f"{format_weight(lookup.gross_g(container))} gross"
    yield f"{round(100 * lookup.fill_share(container))} % full"
    yield words.counted(len(container.fill), "item")


def _add_layer(
    flow: Flow,
    lookup: Lookup,
    container: PackedContainer,
    drawn: LayerPictures,
    whole: Shown | None,
) -> None:
    above = Shown(read_picture(drawn.above), "From above", 75)
    inside = whole or Shown(
        read_picture(drawn.perspective), "How it looks when this layer is in", 75
    )
    pair = flow.height([above, inside], [0.5, 0.5])
    where = ", on the floor" if drawn.layer == 1 else ""
    flow.title(f"Layer {drawn.layer}{where}", 1, pair + 8)
    flow.row([above, inside], [0.5, 0.5])
    for entry in contents(lookup, container, drawn.layer):
        flow.row(_cells(entry), ROW, ruled=True)


def _cells(entry: Entry) -> Sequence[Cell]:
    lines: list[Cell] = [Words(entry.what, bold=True)]
    if entry.detail:
        lines.append(Words(entry.detail, SMALL))
    return [
        Tick(),
        Words(f"no. {runs(entry.numbers)}"),
        Swatch(entry.tone) if entry.tone else Words(""),
        Stack(lines),
        Words("; ".join(told for told in (entry.lying, entry.origin) if told), SMALL),
    ]


def contents(lookup: Lookup, container: PackedContainer, layer: int) -> tuple[Entry, ...]:
    """Return what lies in a layer; loose pieces that are alike and lie alike are one entry."""
    tones = container_tones(lookup)
    groups: dict[Entry, list[int]] = {}
    for number, placement in enumerate(container.fill, 1):
        if placement.layer == layer:
            item = lookup.items[placement.item]
            is_loose = item.kind is ItemKind.LOOSE
            is_part = item.kind is ItemKind.SUB_ASSEMBLY
            alike = Entry(
                numbers=() if is_loose else (number,),
                what=item.name,
                detail=words.piece_names(lookup, item.pieces) if is_part else "",
                lying=words.lying(placement.way_up, placement.turn) if item.pieces else "",
                origin=_origin(lookup, item),
                tone=tones.get(item.build or "", 0),
            )
            groups.setdefault(alike, []).append(number)
    return tuple(
        alike._replace(
            numbers=tuple(numbers),
            what=alike.what if alike.numbers else f"{len(numbers)} x {alike.what}",
        )
        for alike, numbers in groups.items()
    )


def _origin(lookup: Lookup, item: Item) -> str:
    parts = lookup.parts_within(item.build, item.pieces)
    if not parts:
        return words.counted(item.keys, "key") if item.keys else ""
    build = lookup.builds[item.build or ""]
    return f"{build.name}, part {runs(parts)} of {len(build.sub_assemblies)}"
