"""Loading: packed containers on their way into a vehicle, and where they end up."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from packdown.geometry import Cuboid, Vector, rotate_vector, rotated
from packdown.model.item import Item
from packdown.model.load_space import Flight, LoadSpace
from packdown.model.plan import PackedContainer, Plan

__all__ = [
    "Baggage",
    "Cargo",
    "FlightLoad",
    "LeftBehind",
    "LoadRules",
    "Loaded",
    "Loading",
    "Securing",
    "Side",
    "cargo_of",
    "placed_cuboid",
    "turned_centre",
]

Side = Literal["forward", "backward", "left", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cargo:
    """A packed container as something to be loaded; it stays upright.

    Parameters
    ----------
    id, name
        Of the container.
    size_um
        Length, width and height outside.
    gross_g
        Weight with all that is in it.
    centre_um
        Centre of gravity in its own frame, from its lower corner.
    stack_limit_g
        Weight that may stand on it, all of it counted, or None for no limit.
    nest_um
        How far a container of the same size sinks into it from above.
    needed
        Rank in which it is needed again (1 is first), or None for last.
    """

    id: str
    name: str
    size_um: Vector
    gross_g: int
    centre_um: Vector
    stack_limit_g: int | None = None
    nest_um: int = 0
    needed: int | None = None

    def __post_init__(self) -> None:
        if min(self.size_um) <= 0 or self.gross_g <= 0:
            raise ValueError(f"cargo {self.id}: size_um and gross_g must be positive")
        if not 0 <= self.nest_um < self.size_um[2]:
            raise ValueError(f"cargo {self.id}: nest_um must be below its height")


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadRules:
    """What a load keeps besides what the vehicle asks for.

    Parameters
    ----------
    heavier_percent
        How much heavier a container may be than each of those it stands on.
    half_percent
        Most of the load, by weight, in either half of the length.
    spread_percent
        Share of the payload up to which a load is light, and need not be spread so.
    reach_um
        A gap up to this wide still blocks what would slide or tip across it.
    forward_g, other_g
        Accelerations to be held, as shares of gravity.
    """

    heavier_percent: int = 25
    half_percent: int = 60
    spread_percent: int = 25
    reach_um: int = 15_000
    forward_g: float = 0.8
    other_g: float = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """One container in the load space, in loading order.

    Parameters
    ----------
    container
        Its id.
    at_um
        Lower corner in the frame of the load space.
    turn
        0 or 90 degrees about the vertical: with 0 its length lies across the vehicle.
    path_um
        Places of its lower corner on its way in, the last one being `at_um`; each step runs along
        one axis, and the first goes in through the opening.
    """

    container: str
    at_um: Vector
    turn: int
    path_um: tuple[Vector, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftBehind:
    """A container that is not loaded, and why."""

    container: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Securing:
    """A container that would slide or tip, and is to be strapped or blocked.

    Parameters
    ----------
    container
        Its id; what stands on it goes with it.
    side
        The way it would go.
    slides, tips
        What it would do.
    force_n
        Force of the block, or of the straps, in newtons.
    """

    container: str
    side: Side
    slides: bool
    tips: bool
    force_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Loading:
    """A loaded vehicle, complete for its own verification.

    Parameters
    ----------
    format, version
        What the file is: always ``packdown-load`` and 1.
    created_with
        Version of the program.
    plan
        Name of the workspace of the plan, or what else was loaded.
    seed, effort
        With the same cargo, space, seed and effort the same load comes out.
    space
        The load space.
    rules
        What the load keeps.
    cargo
        Everything that was to be loaded.
    loaded
        What is loaded, in loading order: what is needed first comes last.
    left
        What is not loaded, and why.
    securing
        What to strap or block.
    """

    format: Literal["packdown-load"] = "packdown-load"
    version: Literal[1] = 1
    created_with: str
    plan: str
    seed: int
    effort: int
    space: LoadSpace
    rules: LoadRules
    cargo: tuple[Cargo, ...]
    loaded: tuple[Loaded, ...]
    left: tuple[LeftBehind, ...]
    securing: tuple[Securing, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Baggage:
    """One container as a piece of baggage.

    Parameters
    ----------
    container
        Its id.
    kind
        Whether it is handed in or carried on board.
    """

    container: str
    kind: Literal["checked", "cabin"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlightLoad:
    """What goes on a flight.

    Parameters
    ----------
    flight
        The flight.
    baggage
        Containers that go, in their own order.
    left
        Containers that do not, and why.
    """

    flight: Flight
    baggage: tuple[Baggage, ...]
    left: tuple[LeftBehind, ...]


def placed_cuboid(cargo: Cargo, place: Loaded) -> Cuboid:
    """Return the outer size of a container as it is loaded."""
    (x, y, z), (length, width, height) = place.at_um, cargo.size_um
    dx, dy = (width, length) if place.turn else (length, width)
    return Cuboid(x, y, z, x + dx, y + dy, z + height)


def turned_centre(cargo: Cargo, turn: int) -> Vector:
    """Return the centre of gravity from the lower corner of a container that is turned."""
    x, y, z = cargo.centre_um
    return (cargo.size_um[1] - y, x, z) if turn else (x, y, z)


def cargo_of(plan: Plan) -> tuple[Cargo, ...]:
    """Return the packed containers of a plan as something to be loaded.

    A container is needed as early as the first of its items.
    """
    items = {item.id: item for item in plan.items}
    return tuple(_cargo(container, items) for container in plan.containers if container.fill)


def _cargo(container: PackedContainer, items: Mapping[str, Item]) -> Cargo:
    ranks = [rank for p in container.fill if (rank := items[p.item].needed) is not None]
    gross_g, centre_um = _weighed(container, items)
    return Cargo(
        id=container.id,
        name=container.name,
        size_um=container.outer_um,
        gross_g=gross_g,
        centre_um=centre_um,
        stack_limit_g=container.stack_limit_g,
        nest_um=container.nest_um,
        needed=min(ranks, default=None),
    )


def _weighed(container: PackedContainer, items: Mapping[str, Item]) -> tuple[int, Vector]:
    """Return gross weight and centre of gravity; the tare counts in the middle."""
    wall = [(o - i) / 2 for o, i in zip(container.outer_um, container.inner_um, strict=True)]
    floor = container.outer_um[2] - container.inner_um[2]
    gross = container.tare_g
    moment = [container.tare_g * side / 2 for side in container.outer_um]
    for place in container.fill:
        item = items[place.item]
        _, shift = rotated(item.cuboids_um, place.way_up, place.turn, place.at_um)
        centre = rotate_vector(item.centre_um, place.way_up, place.turn)
        gross += item.weight_g
        for axis, inset in enumerate((wall[0], wall[1], floor)):
            moment[axis] += item.weight_g * (centre[axis] + shift[axis] + inset)
    gross = max(1, gross)
    x, y, z = (round(total / gross) for total in moment)
    return gross, (x, y, z)
