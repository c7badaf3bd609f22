"""Builds of which every piece is placed: drawn, made of blocks, or listed, or all of these."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packdown.files.blocks import Block, read_block, read_uses
from packdown.files.drawn import Symbol, read_drawn, read_symbols
from packdown.files.parts import Parts
from packdown.files.placing import MAX_PIECES, distance, read_spots
from packdown.files.spots import Spot
from packdown.files.standing import check_detail
from packdown.files.table import Table

__all__ = ["Site", "read_placed", "read_site"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """What the builds of one file share.

    Parameters
    ----------
    parts
        The parts they are made of.
    square_um
        Square of the grid, in micrometres; None where there is none.
    symbols
        Symbols that all drawings of the file may use.
    blocks
        Groups of pieces that are put together once and used as often as wanted; None stands for
        one that cannot be used.
    """

    parts: Parts
    square_um: int | None
    symbols: Mapping[str, Symbol]
    blocks: Mapping[str, Block | None]


def read_site(file: Table, parts: Parts, square_um: int | None) -> Site:
    """Read the symbols and the blocks of a file of builds."""
    symbols: dict[str, Symbol] = {}
    if "symbols" in file:
        symbols = read_symbols(file.table("symbols"), parts, distance(square_um))
    bare = Site(parts=parts, square_um=square_um, symbols=symbols, blocks={})
    blocks = {}
    for name, table in file.table("blocks").entries():
        before = len(table.place.found)
        spots = read_placed(table, bare)
        usable = all(spot.part for spot in spots) and check_detail(table.place, spots)
        sound = table.done() and len(table.place.found) == before
        blocks[name] = read_block(spots) if sound and usable else None
    return Site(parts=parts, square_um=square_um, symbols=symbols, blocks=blocks)


def read_placed(table: Table, site: Site) -> tuple[Spot, ...]:
    """Read all pieces of a build or a block: its drawing, then its blocks, then its list."""
    before = len(table.place.found)
    spots: list[Spot] = []
    if "plan" in table:
        spots += read_drawn(table, site.symbols, site.parts, site.square_um)
    if "blocks" in table:
        spots += read_uses(table, site.blocks, site.parts, distance(site.square_um))
    spots += read_spots(table, site.parts, site.square_um)
    _check_names(spots)
    if len(spots) > MAX_PIECES:
        table.place.report(f"expected at most {MAX_PIECES:,} pieces in a build")
        return ()
    described = "plan" in table or "blocks" in table
    if not spots and not described and len(table.place.found) == before:
        table.place.at("place").report("expected at least one piece")
    return tuple(spots)


def _check_names(spots: Sequence[Spot]) -> None:
    seen: set[str] = set()
    for spot in spots:
        if spot.id in seen:
            spot.place.at("id").report(f'the piece "{spot.id}" is there twice')
        seen.add(spot.id)
