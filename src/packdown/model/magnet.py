"""The magnets in a collection's parts: small discs of one kind."""

from dataclasses import dataclass
from math import pi

__all__ = ["MU0", "Magnet"]

MU0 = 4e-7 * pi
"""The magnetic constant, in T m/A."""
DENSITY = 7.5
"""Grams per cubic centimetre of sintered neodymium magnets; their makers state 7.4 to 7.65."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Magnet:
    """A disc magnet, magnetised through its thickness.

    Parameters
    ----------
    diameter_um, thickness_um
        Its size.
    remanence_mt
        Remanence in millitesla: 1,300 for the common grade N42.
    """

    diameter_um: int = 5_000
    thickness_um: int = 2_000
    remanence_mt: int = 1_300

    @property
    def remanence_t(self) -> float:
        """Remanence in tesla."""
        return self.remanence_mt / 1_000

    @property
    def area_mm2(self) -> float:
        """Area of one pole."""
        return pi * (self.diameter_um / 2_000) ** 2

    @property
    def volume_mm3(self) -> float:
        """Volume."""
        return self.area_mm2 * self.thickness_um / 1_000

    @property
    def moment(self) -> float:
        """Magnetic moment in A m2: remanence times volume by the constant of the vacuum."""
        return self.remanence_t * self.volume_mm3 * 1e-9 / MU0

    @property
    def mass_g(self) -> float:
        """Weight."""
        return self.volume_mm3 * DENSITY / 1_000
