"""Load spaces: the inside of a vehicle, and the allowance of a flight."""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from packdown.geometry import Cuboid, Solid, Vector, bounds

__all__ = ["Allowance", "Flight", "LoadSpace", "Opening", "OpeningSide"]


class OpeningSide(StrEnum):
    """Through which side of a load space things go in."""

    BACK = "back"
    LEFT = "left"
    RIGHT = "right"
    TOP = "top"

    @property
    def axis(self) -> int:
        """The axis along which things go in: 0 for x, 1 for y, 2 for z."""
        return {"back": 1, "left": 0, "right": 0, "top": 2}[self]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A rectangle in one side of a load space.

    Parameters
    ----------
    side
        The side it is in.
    low_um, size_um
        Its lower corner and its size on the two other axes, in the order x, y, z: for the back
        across and up from the left end of the floor.
    """

    side: OpeningSide
    low_um: tuple[int, int]
    size_um: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSpace:
    """The inside of a vehicle.

    Its frame is that of somebody who stands behind it and looks in: x runs from left to right,
    y from the tailgate forward to the seat back, z up from the floor.

    Parameters
    ----------
    id, name
        Short name in files, and the words for it.
    size_um
        Width across, length from the tailgate to the seat back, and height, where it is largest.
    opening
        Where things go in.
    blocked_um
        What is taken away by wheel arches and a sloping seat back; nothing rests on it.
    door_um
        What the tailgate takes away when it is closed; when it is open it is in nobody's way.
    payload_g
        Most that may be loaded.
    seat_back_um
        Height of the seat back above the floor.
    guarded
        Whether a net or a guard holds what is above the seat back.
    friction
        Static friction between containers and floor, and between containers.
    lashing_points
        Number of eyes to strap to.
    sill_um
        Height above the ground over which things are lifted in.
    """

    kind: ClassVar[str] = "vehicle"

    id: str
    name: str
    size_um: Vector
    opening: Opening
    blocked_um: Solid = ()
    door_um: Solid = ()
    payload_g: int
    seat_back_um: int
    guarded: bool = False
    friction: float
    lashing_points: int = 0
    sill_um: int

    def __post_init__(self) -> None:
        if min(self.size_um) <= 0:
            raise ValueError(f"load space {self.id}: size_um must be positive, not {self.size_um}")
        across = [self.size_um[axis] for axis in range(3) if axis != self.opening.side.axis]
        for low, extent, whole in zip(
            self.opening.low_um, self.opening.size_um, across, strict=True
        ):
            if low < 0 or extent <= 0 or low + extent > whole:
                raise ValueError(f"load space {self.id}: the opening is not within its side")
        if self.taken_um:
            box = bounds(self.taken_um)
            if min(box[:3]) < 0 or any(h > s for h, s in zip(box[3:], self.size_um, strict=True)):
                raise ValueError(f"load space {self.id}: what is taken away is not inside it")

    @property
    def taken_um(self) -> Solid:
        """All that is taken away once the vehicle is closed."""
        return self.blocked_um + self.door_um

    @property
    def usable_um(self) -> Vector:
        """Size that may be filled: up to the seat back, or to the roof behind a net or guard."""
        width, length, height = self.size_um
        return width, length, height if self.guarded else min(height, self.seat_back_um)

    @property
    def volume_um3(self) -> int:
        """Usable volume, less what is taken away, in cubic micrometres."""
        width, length, height = self.usable_um
        within = (Cuboid(c.x0, c.y0, c.z0, c.x1, c.y1, min(c.z1, height)) for c in self.taken_um)
        return width * length * height - sum(c.volume for c in within if c.z1 > c.z0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """Pieces of baggage of one sort; every limit is the carrier's to state.

    Parameters
    ----------
    pieces
        How many pieces.
    weight_g
        Most that one piece may weigh.
    linear_um
        Most that length, width and height of one piece may add up to, or None.
    size_um
        Size into which one piece must fit, on any side, or None.
    """

    pieces: int
    weight_g: int
    linear_um: int | None = None
    size_um: Vector | None = None

    def __post_init__(self) -> None:
        if self.pieces < 0 or self.weight_g <= 0:
            raise ValueError("an allowance needs a number of pieces and a positive weight")


@dataclass(frozen=True, slots=True, kw_only=True)
class Flight:
    """What one traveller, or a party, may take on a flight.

    Parameters
    ----------
    id, name
        Short name in files, and the words for it.
    checked
        Baggage that is handed in.
    cabin
        Baggage that is carried on board, or None.
    """

    kind: ClassVar[str] = "flight"

    id: str
    name: str
    checked: Allowance
    cabin: Allowance | None = None
