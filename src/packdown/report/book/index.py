"""Every piece and where it is; what is alike and lies in one container is one entry."""

from collections.abc import Iterator
from typing import Any

from markupsafe import Markup

from packdown.model import Piece
from packdown.report import words
from packdown.report.book.places import spots_of
from packdown.report.book.sheets import Sheets
from packdown.report.lookup import Lookup

__all__ = ["index"]


def index(sheets: Sheets) -> Markup:
    """Return the list that is searched."""
    return sheets.fill("index", rows=list(_rows(sheets.lookup)))


def _rows(lookup: Lookup) -> Iterator[dict[str, Any]]:
    groups: dict[tuple[Any, ...], list[Piece]] = {}
    for piece in sorted(lookup.plan.pieces, key=lambda piece: (piece.name, piece.id)):
        boxes = [spot.id for spot in spots_of(lookup, [piece.id])]
        alike = (piece.name, piece.build, piece.contains, *boxes)
        groups.setdefault(alike, []).append(piece)
    for pieces in groups.values():
        first = pieces[0]
        build = lookup.builds.get(first.build or "")
        yield {
            "count": len(pieces),
            "name": first.name,
            "build": build.name if build else "",
            "ids": [piece.id for piece in pieces],
            "holds": ", ".join(f"{number} x {part}" for part, number in first.contains),
            "total": words.counted(len(pieces), "piece"),
            "spots": spots_of(lookup, [piece.id for piece in pieces]),
        }
