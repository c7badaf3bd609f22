"""A workspace: everything its files define, checked and unchanging."""

from dataclasses import dataclass

from packdown.model.build import Build, Piece
from packdown.model.container import Container
from packdown.model.load_space import Flight, LoadSpace
from packdown.model.part import Part
from packdown.model.settings import Settings

__all__ = ["Workspace"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Workspace:
    """What a collection consists of.

    Parameters
    ----------
    name
        What the owner calls it.
    settings
        What the owner decided.
    parts
        The kinds of piece.
    loose
        Pieces that belong to no build, as they stand upright in their own frames.
    builds
        What stands on the table.
    designs
        What could stand there, made of pieces that are loose or in other builds.
    owned
        How many pieces there are of each part that is counted, as (part, number).
    containers
        What there is to pack into.
    keep_together, keep_apart
        Groups of piece ids that must share a container, and groups of which no two may.
    key_weight_g, key_size_um
        Weight of one loose key, and its size.
    load_spaces, flights
        What packed containers can be loaded into, and flights they can go on.
    """

    name: str
    settings: Settings
    parts: tuple[Part, ...]
    loose: tuple[Piece, ...]
    builds: tuple[Build, ...]
    containers: tuple[Container, ...]
    designs: tuple[Build, ...] = ()
    owned: tuple[tuple[str, int], ...] = ()
    keep_together: tuple[tuple[str, ...], ...] = ()
    keep_apart: tuple[tuple[str, ...], ...] = ()
    key_weight_g: int = 1
    key_size_um: tuple[int, int, int] = (12_000, 8_000, 3_000)
    load_spaces: tuple[LoadSpace, ...] = ()
    flights: tuple[Flight, ...] = ()
