"""The last chapter: every piece by name, and where it is."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import NamedTuple

from packdown.model import Piece
from packdown.report.lookup import Lookup
from packdown.report.printing.cells import (
    SMALL,
    Cell,
    Find,
    PageNumber,
    Stack,
    Words,
)
from packdown.report.printing.flow import Flow
from packdown.report.step_words import runs
from packdown.report.words import counted

__all__ = ["Line", "add_index", "lines"]

ROW = (0.4, 0.6, 10.0)
"""Shares of the columns: pieces, where they are, page."""


class Line(NamedTuple):
    """Pieces of one name and one build that are in one container, or in none.

    Parameters
    ----------
    pieces
        The pieces.
    home
        Id of the container; empty if they found no place.
    numbers
        Numbers of their items in it.
    """

    pieces: tuple[Piece, ...]
    home: str
    numbers: tuple[int, ...]


def add_index(flow: Flow, lookup: Lookup, find: Find) -> None:
    """Add the list of all pieces.

    Parameters
    ----------
    flow
        Where to.
    lookup
        The plan.
    find
        Tells the page of a container, once it is known.
    """
    flow.title("Every piece")
    total = counted(len(lookup.plan.pieces), "piece")
    flow.say(f"{total}, by name; each is in one line.")
    for line in lines(lookup):
        flow.row(_cells(lookup, line, find), ROW, ruled=True)


def _cells(lookup: Lookup, line: Line, find: Find) -> Sequence[Cell]:
    first = line.pieces[0]
    build = lookup.builds.get(first.build or "")
    told: list[Cell] = [Words(f"{len(line.pieces)} x {first.name}")]
    holds = ", ".join(f"{number} x {part}" for part, number in first.contains)
    told += [Words(text, SMALL) for text in (build.name if build else "", holds) if text]
    home = lookup.containers.get(line.home)
    where = f"{home.name}, no. {runs(line.numbers)}" if home else "not packed"
    return [Stack(told), Words(where), PageNumber(partial(find, line.home))]


def lines(lookup: Lookup) -> Iterator[Line]:
    """Yield the lines of the index, by name; every piece of the plan is in exactly one."""
    groups: dict[tuple[str, str | None, object, str], list[Piece]] = {}
    for piece in sorted(lookup.plan.pieces, key=lambda piece: (piece.name, piece.id)):
        alike = (piece.name, piece.build, piece.contains, _home(lookup, piece))
        groups.setdefault(alike, []).append(piece)
    for (_, _, _, home), pieces in groups.items():
        numbers = {_number(lookup, piece) for piece in pieces} if home else set()
        yield Line(tuple(pieces), home, tuple(sorted(numbers)))


def _home(lookup: Lookup, piece: Piece) -> str:
    place = lookup.places.get(lookup.item_of_piece[piece.id].id)
    return place.container.id if place else ""


def _number(lookup: Lookup, piece: Piece) -> int:
    return lookup.places[lookup.item_of_piece[piece.id].id].number
