"""Containers: boxes, trays, drawers and cases with an inside to fill."""

from dataclasses import dataclass
from enum import StrEnum

from packdown.geometry import Vector

__all__ = ["Container", "Lining"]


class Lining(StrEnum):
    """What the floor of a container is made of."""

    NONE = "none"
    FOAM = "foam"
    STEEL = "steel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Container:
    """One physical container.

    Parameters
    ----------
    id, name, type
        Short name in files, words on its label, and its kind in the catalogue.
    inner_um, outer_um
        Length, width and height inside and outside; what is inside lies within
        ``0..inner_um`` on each axis.
    tare_g, payload_g
        Weight of the empty container, and what may be put into it.
    lining
        Its floor; on steel, pieces with magnets stand on the floor, magnets down.
    clearance_um
        Distance kept between items, and from items to the four walls.
    sheet_um
        Thickness of the sheet laid on every item that carries another; 0 for none.
    stacked_on
        Id of the container it stands on when carried, or None.
    stack_limit_g
        Gross weight that may stand on it, or None for no limit.
    nest_um
        How far a container of the same size sinks into it from above.
    """

    id: str
    name: str
    type: str
    inner_um: Vector
    outer_um: Vector
    tare_g: int
    payload_g: int
    lining: Lining = Lining.NONE
    clearance_um: int = 2_000
    sheet_um: int = 0
    stacked_on: str | None = None
    stack_limit_g: int | None = None
    nest_um: int = 0

    def __post_init__(self) -> None:
        if min(self.inner_um) <= 0:
            raise ValueError(f"container {self.id}: inner_um must be positive, not {self.inner_um}")
        if any(o < i for o, i in zip(self.outer_um, self.inner_um, strict=True)):
            raise ValueError(f"container {self.id}: outer_um must not be below inner_um")
        if self.payload_g <= 0:
            raise ValueError(f"container {self.id}: payload_g must be positive")

    @property
    def volume_um3(self) -> int:
        """Inner volume in cubic micrometres."""
        length, width, height = self.inner_um
        return length * width * height
