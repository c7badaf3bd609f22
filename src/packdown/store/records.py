"""What the store tells: where pieces are, and what lies in a container."""

from dataclasses import dataclass
from enum import StrEnum

from packdown.geometry import Cuboid, Vector

__all__ = [
    "Box",
    "Found",
    "Hit",
    "HitKind",
    "State",
    "StowedItem",
    "Total",
    "Whereabouts",
]


class State(StrEnum):
    """Where a piece is, in one word."""

    STOWED = "stowed"
    OUT = "out"
    MISSING = "missing"
    UNSTOWED = "unstowed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A container by its names."""

    id: str
    short_id: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StowedItem:
    """What was put into a container as one, and is still there.

    Parameters
    ----------
    number
        In loading order, as on the drawings of the plan.
    item, name, kind
        As in the plan.
    layer
        1 on the floor.
    box_um, inner_um
        The smallest box around it, and the inside of its container.
    under
        Names of what rests on it.
    lift_first
        Numbers and names of what must be lifted out before it, in that order.
    """

    number: int
    item: str
    name: str
    kind: str
    layer: int
    box_um: Cuboid
    inner_um: Vector
    under: tuple[str, ...] = ()
    lift_first: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """Some pieces that are in the same place.

    Parameters
    ----------
    number
        How many.
    state
        Where they are, in one word.
    broken
        Whether they are broken.
    box
        The container they lie in, if any.
    item
        What they were put in as, or None for pieces put in by hand.
    inside
        Name of the measured piece that they are part of; then `number` counts what is in it.
    event
        What they are out for, if that is known.
    seen_in, seen_at
        The container they were last seen in, and when.
    """

    number: int
    state: State
    broken: bool = False
    box: Box | None = None
    item: StowedItem | None = None
    inside: str | None = None
    event: str | None = None
    seen_in: Box | None = None
    seen_at: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Total:
    """How many pieces lie in one container, or are elsewhere."""

    state: State
    box: Box | None
    number: int


class HitKind(StrEnum):
    """What a search found."""

    PART = "part"
    BUILD = "build"
    PART_OF_BUILD = "part of a build"
    PIECE = "piece"
    CONTAINER = "container"
    EVENT = "event"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """Something that a search found.

    Parameters
    ----------
    kind
        What it is.
    id, name
        Its id, and what to call it.
    score
        How well it fits the words, from 0 to 1.
    number
        How many pieces it stands for.
    totals
        How many of them lie in each container, or are elsewhere.
    places
        Where exactly they are, the easiest to reach first; as many as were asked for.
    photos
        Files that show it, for a single piece.
    """

    kind: HitKind
    id: str
    name: str
    score: float
    number: int
    totals: tuple[Total, ...]
    places: tuple[Whereabouts, ...]
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search found, the best first, and how many more would have fitted as well."""

    hits: tuple[Hit, ...]
    num_more: int = 0
