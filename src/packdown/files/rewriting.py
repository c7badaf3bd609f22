"""Placed builds written anew: as a drawing, or as a list of placements."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from packdown.errors import UsageError
from packdown.files.drawn import Symbol, drawing_text
from packdown.files.drawn.drafting import draft
from packdown.files.drawn.lettering import Draft
from packdown.files.drawn.symbols import ANCHORS, NO_SHIFT
from packdown.files.spots import Spot, heights
from packdown.files.workspace import Standing
from packdown.geometry import WayUp
from packdown.units import format_length

__all__ = ["drawn_entry", "listed_entry"]

Entry = dict[str, object]
_NOTES = ("keys", "glued", "keep", "rather_keep", "alone", "joints")
_ANCHOR_NAMES = {anchor: name for name, anchor in ANCHORS.items()}
_STEPS = 8


def listed_entry(standing: Standing, entry: Mapping[str, object]) -> Entry:
    """List every piece of a placed build; notes about its joints stay as they are."""
    rows = []
    for spot, z_um in zip(standing.spots, heights(standing.spots), strict=True):
        row: Entry = {"id": spot.id, "part": spot.part.id if spot.part else ""}
        at = [_said(um, standing.square_um) for um in (spot.x_um, spot.y_um)]
        row["at"] = [*at, format_length(z_um)]
        if spot.turn:
            row["turn"] = spot.turn
        if spot.way_up is not WayUp.UPRIGHT:
            row["way_up"] = str(spot.way_up)
        rows.append(row)
    return {"place": rows} | {key: entry[key] for key in _NOTES if key in entry}


def drawn_entry(
    standing: Standing,
    entry: Mapping[str, object],
    cell_um: int | None,
    spoken_of: Collection[str],
) -> Entry:
    """Draw a placed build.

    Pieces that are spoken of keep their ids, so that notes about them stay as they are; all others
    are called by their places.

    Raises
    ------
    UsageError
        If there is no grid to draw on.
    """
    square_um = standing.square_um
    if square_um is None:
        raise UsageError(
            "There is no grid to draw on.", hint="give square in [grid] of packdown.toml"
        )
    placed = zip(standing.spots, heights(standing.spots), strict=True)
    spots = [replace(spot, z_um=z, together=None, lift_um=0) for spot, z in placed]
    found = _plainest(spots, square_um, cell_um)
    drawn: Entry = {}
    if found.cell_um != square_um:
        drawn["cell"] = _said(found.cell_um, square_um)
    drawn["symbols"] = {
        letter: _symbol(symbol, square_um) for letter, symbol in found.symbols.items()
    }
    drawn["plan"] = drawing_text(found.levels)
    notes = {key: entry[key] for key in _NOTES if key in entry}
    kept = [own for own in found.names if own in spoken_of or _says(notes, own)]
    names = {own: found.names[own] for own in kept if found.names[own] != own}
    return drawn | ({"names": names} if names else {}) | notes


def _says(note: object, own: str) -> bool:
    """Whether a note names a piece."""
    if isinstance(note, Mapping):
        return any(_says(each, own) for each in note.values())
    return any(_says(each, own) for each in note) if isinstance(note, list) else note == own


def _plainest(spots: list[Spot], square_um: int, cell_um: int | None) -> Draft:
    """Return the drawing with fewest shifts, then with fewest characters."""
    cells = [cell_um] if cell_um else [square_um * squares for squares in (1, 2)]
    drafts = [draft(spots, square_um, cell) for cell in cells]

    def plainness(found: Draft) -> tuple[int, int]:
        shifted = sum(symbol.shift_um != NO_SHIFT for symbol in found.symbols.values())
        return shifted, len(drawing_text(found.levels))

    return min(drafts, key=plainness)


def _symbol(symbol: Symbol, square_um: int) -> object:
    part = symbol.part.id if symbol.part else ""
    said: Entry = {"part": part}
    if symbol.anchor != ANCHORS["middle"]:
        said["on"] = _ANCHOR_NAMES[symbol.anchor]
    if symbol.shift_um != NO_SHIFT:
        said["shift"] = [_said(um, square_um) for um in symbol.shift_um]
    if symbol.way_up is not WayUp.UPRIGHT:
        said["way_up"] = str(symbol.way_up)
    return said if len(said) > 1 else part


def _said(um: int, square_um: int | None) -> float | str:
    """Return a distance in squares where it is a whole number of eighths of them."""
    if square_um is None or um * _STEPS % square_um:
        return format_length(um)
    eighths = um * _STEPS // square_um
    return eighths // _STEPS if eighths % _STEPS == 0 else eighths / _STEPS
