"""Grown builds as placed pieces of parts, to be drawn."""

from packdown.files.place import Place
from packdown.files.spots import Spot
from packdown.geometry import TURNS, Solid, WayUp, bounds, rotated, translate
from packdown.model import Build, Part, Piece

__all__ = ["as_spots"]


def as_spots(build: Build) -> list[Spot]:
    """Return where the pieces of a build stand; what is a turn of another is of its part."""
    parts: list[Part] = []
    return [_spot(piece, parts) for piece in build.pieces]


def _spot(piece: Piece, parts: list[Part]) -> Spot:
    low = bounds(piece.cuboids_um)
    cover, core = (
        translate(solid, -low.x0, -low.y0, -low.z0) for solid in (piece.cuboids_um, piece.core_um)
    )
    found = next(
        (
            (part, turn)
            for part in parts
            for turn in TURNS
            if set(rotated(part.cover_um, WayUp.UPRIGHT, turn)[0]) == set(cover)
        ),
        None,
    )
    part, turn = found or (_new(piece, cover, core, len(parts)), 0)
    if not found:
        parts.append(part)
    return Spot(
        id=piece.id.partition("/")[2],
        part=part,
        x_um=low.x0,
        y_um=low.y0,
        z_um=low.z0,
        way_up=WayUp.UPRIGHT,
        turn=turn,
        place=Place("", []),
    )


def _new(piece: Piece, cover: Solid, core: Solid, number: int) -> Part:
    name = f"{piece.part}-{number}"
    return Part(id=name, name=name, cover_um=cover, core_um=core, weight_g=piece.weight_g)
