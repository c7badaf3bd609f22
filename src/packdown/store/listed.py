"""What the store tells of one container, and of the containers of one build."""

from dataclasses import dataclass

from packdown.store.records import Box, Total

__all__ = ["ListedItem", "Listing", "Named", "Spread", "Stop"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """So many pieces of one name."""

    name: str
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedItem:
    """One thing that was put into a container, as far as it is still there.

    Parameters
    ----------
    number
        In loading order, as on the drawings of the plan.
    name, kind
        As in the plan.
    layer
        1 on the floor.
    place
        Where in the container, in words.
    present, num_pieces
        How many of its pieces are there, and how many there were.
    broken
        How many of them are broken.
    """

    number: int
    name: str
    kind: str
    layer: int
    place: str
    present: int
    num_pieces: int
    broken: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A container with all that lies in it.

    Parameters
    ----------
    box
        The container.
    number
        How many pieces lie in it.
    weight_g, payload_g
        What they weigh with the container, and what may be put into it.
    stacked_on
        The container that it is carried on, if any.
    items
        What was put in by the plan, in loading order.
    by_hand
        Pieces that were put in by hand, by name.
    missing
        Pieces that were last seen here and are missing, by name.
    """

    box: Box
    number: int
    weight_g: int
    payload_g: int
    stacked_on: Box | None
    items: tuple[ListedItem, ...]
    by_hand: tuple[Named, ...]
    missing: tuple[Named, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One container to be opened for a build.

    Parameters
    ----------
    box
        The container.
    lift_off
        Containers that are carried on it, the highest first.
    number
        How many pieces of the build lie in it.
    what
        What they were put in as, by name.
    """

    box: Box
    lift_off: tuple[Box, ...]
    number: int
    what: tuple[Named, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The containers that a build is spread over, in the order in which to open them."""

    id: str
    name: str
    number: int
    stops: tuple[Stop, ...]
    elsewhere: tuple[Total, ...]
