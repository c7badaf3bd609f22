"""An independent look at placed solids: what is outside, overlaps or floats."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from packdown.geometry import Solid, Vector, bounds, lowest_faces, overlap, rests_on

__all__ = ["Faults", "faults"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Faults:
    """Numbers of things that a careful hand would not accept.

    Parameters
    ----------
    outside
        Solids that reach out of the container.
    overlaps
        Pairs of solids that share volume.
    floating
        Solids with less than the wanted share of their lowest faces on the floor or on others.
    """

    outside: int = 0
    overlaps: int = 0
    floating: int = 0

    @property
    def total(self) -> int:
        """All of them together."""
        return self.outside + self.overlaps + self.floating

    def __add__(self, other: "Faults") -> "Faults":
        return Faults(
            outside=self.outside + other.outside,
            overlaps=self.overlaps + other.overlaps,
            floating=self.floating + other.floating,
        )


def faults(solids: Sequence[Solid], inner: Vector, support_percent: int = 80) -> Faults:
    """Count the faults of one container.

    Parameters
    ----------
    solids
        What lies in it, each of disjoint cuboids in the frame of the container.
    inner
        Its inner size in micrometres.
    support_percent
        Least share of the lowest faces that must be supported.
    """
    boxes = [bounds(solid) for solid in solids]
    return Faults(
        outside=sum(
            min(box[:3]) < 0 or any(high > side for high, side in zip(box[3:], inner, strict=True))
            for box in boxes
        ),
        overlaps=sum(
            boxes[one].overlaps(boxes[two]) and overlap(solids[one], solids[two])
            for one, two in combinations(range(len(solids)), 2)
        ),
        floating=sum(
            100 * _supported(index, solids) < support_percent * _base(solids[index])
            for index in range(len(solids))
        ),
    )


def _base(solid: Solid) -> int:
    return sum(face.area for face in lowest_faces(solid))


def _supported(index: int, solids: Sequence[Solid]) -> int:
    """Area of the lowest faces that lies on the floor or on other solids."""
    solid = solids[index]
    low = bounds(solid).z0
    if low == 0:
        return _base(solid)
    soles = [cuboid for cuboid in solid if cuboid.z0 == low]
    others = [cuboid for place, other in enumerate(solids) if place != index for cuboid in other]
    return sum(contact.area for contact in rests_on(soles, others))
