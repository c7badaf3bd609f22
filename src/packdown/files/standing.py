"""Checks of what stands in a build: nothing overlaps, and nothing floats."""

from collections.abc import Sequence
from itertools import combinations

from packdown.files.place import Place
from packdown.files.spots import Spot, posed
from packdown.geometry import Cuboid, bounds, rests_on
from packdown.model import Joint, Piece
from packdown.units import format_length

__all__ = ["check_detail", "check_floating", "check_overlaps"]

MAX_REPORTED = 50
MAX_COMPARED = 15_000_000


def check_detail(place: Place, spots: Sequence[Spot]) -> bool:
    """Report a build in which too many cuboids lie above each other to be compared in time."""
    footprints = []
    for spot in spots:
        if spot.part:
            cover = posed(spot.part, spot.way_up, spot.turn)[0]
            x0, y0, _, x1, y1, _ = bounds(cover).moved(spot.x_um, spot.y_um, 0)
            footprints.append((x0, y0, x1, y1, len(cover)))
    footprints.sort()
    compared = 0
    for index, (_, y0, x1, y1, count) in enumerate(footprints):
        for other in footprints[index + 1 :]:
            if other[0] >= x1:
                break
            if other[1] < y1 and y0 < other[3]:
                compared += count * other[4]
        if compared > MAX_COMPARED:
            place.report(
                "too many detailed pieces lie above each other",
                "give these parts larger steps or fewer cuboids, or describe the build in units",
            )
            return False
    return True


def check_overlaps(pieces: Sequence[Piece], places: Sequence[Place]) -> None:
    """Report every two pieces that cannot both be where they are said to be."""
    frames = [bounds(piece.core_um) for piece in pieces]
    reported = 0
    for one, two in combinations(range(len(pieces)), 2):
        if not frames[one].overlaps(frames[two]):
            continue
        if reported == MAX_REPORTED:
            places[two].report("more pieces overlap", "mend those above first")
            return
        depth = max(_depth(a, b) for a in pieces[one].core_um for b in pieces[two].core_um)
        if depth > 0:
            reported += 1
            names = [pieces[index].id.partition("/")[2] for index in (one, two)]
            places[two].report(
                f"{names[0]} and {names[1]} overlap by {format_length(depth)}",
                "move one of them by that much",
            )


def _depth(a: Cuboid, b: Cuboid) -> int:
    """How far two cuboids would have to be moved apart; not above 0 if they do not overlap."""
    return min(min(a[axis + 3] - b[axis], b[axis + 3] - a[axis]) for axis in range(3))


def check_floating(
    pieces: Sequence[Piece], joints: Sequence[Joint], places: Sequence[Place]
) -> None:
    """Report pieces with nothing beneath them and no joint that holds them."""
    held = {piece for joint in joints for piece in joint.pieces}
    floor = min(bounds(piece.cuboids_um).z0 for piece in pieces)
    for piece, place in zip(pieces, places, strict=True):
        height = bounds(piece.cuboids_um).z0
        if piece.id in held or height <= max(0, floor):
            continue
        if not any(rests_on(piece.core_um, other.core_um) for other in pieces if other != piece):
            place.report(
                f"{piece.id.partition('/')[2]} floats {format_length(height)} above the table",
                "leave out its height to lower it, or join it to another piece",
            )
