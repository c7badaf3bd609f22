"""Magnets: their moment, the field far away, the pull close by, and what carriers ask about.

All of it is estimated for uniformly magnetised discs; nothing here is a measurement. A steel
lining lowers the field outside by an amount that no simple formula gives, so it is not counted.
"""

from enum import StrEnum
from math import pi, sqrt

import numpy as np

from packdown.model import Magnet
from packdown.model.magnet import MU0

__all__ = [
    "CHECK_DISTANCE_M",
    "FAR_DISTANCE_M",
    "MU0",
    "AirClass",
    "Magnet",
    "air_class",
    "distance_to_mm",
    "field_gauss",
    "flux_index",
    "gauss",
    "most_moment",
    "pull_ceiling_n",
    "pull_force_n",
    "random_share",
]

CHECK_DISTANCE_M = 2.1
"""Distance at which a package must not turn a compass by more than 2 degrees, else it is
magnetized material for aircraft (UN 2807, IATA Dangerous Goods Regulations, instruction 953)."""
FAR_DISTANCE_M = 4.6
"""Distance of the second limit of instruction 953; 49 CFR 173.21(d) has the same at 4.5 m."""
CAUTIOUS_G = 0.002
"""Half a degree: the lower limit of the older instruction 902, 0.159 A/m."""
TWO_DEGREES_G = 0.00525
"""Two degrees, 0.418 A/m."""
HAZARD_INDEX = 50.0
"""kG^2 mm^2, 16 CFR 1262: a loose magnet at or above it is a hazard if it is swallowed."""
IMPLANT_T = 0.0005
"""0.5 mT: below it devices are in general not affected (ICNIRP)."""


class AirClass(StrEnum):
    """What an estimate of the field means for a flight; the carrier decides."""

    LOW = "low"
    ASK = "ask"
    DECLARE = "declare"
    FORBIDDEN = "forbidden"


def field_gauss(moment: float, distance_m: float) -> float:
    """Return the field of a dipole on its axis, where it is strongest, in gauss.

    Beyond five lengths of the magnet the dipole is right within 2 %.
    """
    return 1e4 * MU0 * moment / (2 * pi * distance_m**3)


def most_moment(limit_gauss: float, distance_m: float) -> float:
    """Return the moment in A m2 whose field on the axis is a limit."""
    return limit_gauss * 1e-4 * 2 * pi * distance_m**3 / MU0


def distance_to_mm(moment: float, tesla: float = IMPLANT_T) -> float:
    """Return how far away on the axis a field has sunk to a value, in millimetres."""
    return 1e3 * float((MU0 * moment / (2 * pi * tesla)) ** (1 / 3))


def gauss(ampere_per_metre: float) -> float:
    """Return the field in gauss of a field strength in A/m."""
    return ampere_per_metre * MU0 * 1e4


def air_class(magnet: Magnet, number: int) -> AirClass:
    """Say what so many magnets mean for a flight if all of them point the same way."""
    moment = number * magnet.moment
    if field_gauss(moment, 4.5) > TWO_DEGREES_G:
        return AirClass.FORBIDDEN
    near = field_gauss(moment, CHECK_DISTANCE_M)
    if near > TWO_DEGREES_G:
        return AirClass.DECLARE
    return AirClass.ASK if near >= CAUTIOUS_G else AirClass.LOW


def random_share(number: int) -> float:
    """Return the field of magnets that point anywhere, as a share of that of aligned ones."""
    return 1 / sqrt(number) if number else 0.0


def flux_index(magnet: Magnet) -> float:
    """Return the flux index in kG2 mm2: field on the pole, squared, times the pole's area.

    16 CFR 1262, after ASTM F963; the field in the middle of the pole of a disc follows from its
    surface charge.
    """
    thick, radius = magnet.thickness_um, magnet.diameter_um / 2
    surface_kg = 10 * magnet.remanence_t / 2 * thick / sqrt(thick**2 + radius**2)
    return surface_kg**2 * magnet.area_mm2


def pull_ceiling_n(magnet: Magnet) -> float:
    """Return the newtons that no pull of a disc on steel exceeds: Br2 A / (2 mu0)."""
    return magnet.remanence_t**2 * magnet.area_mm2 * 1e-6 / (2 * MU0)


def pull_force_n(magnet: Magnet, gap_um: int = 0) -> float:
    """Return the pull of a disc on thick flat steel across a gap, in newtons.

    Vokoun, D., Beleggia, M., Heller, L., Sittner, P. (2009): Magnetostatic interactions and forces
    between cylindrical permanent magnets, Journal of Magnetism and Magnetic Materials 321(22),
    3758-3763. The steel acts as a mirror image at twice the gap. The integral over the wave number
    is cut where the square of the Bessel function is 1 / (pi k) on average, and the rest added.

    Parameters
    ----------
    magnet
        The disc.
    gap_um
        Paint, a label or a skin of plastic between disc and steel.
    """
    radius = magnet.diameter_um / 2
    cut, steps = 120.0, 6_000
    k = (np.arange(steps) + 0.5) * cut / steps
    rim = 1 - np.exp(-k * magnet.thickness_um / radius)
    away = np.exp(-2 * k * gap_um / radius)
    total = float((_bessel(k) ** 2 / k * rim**2 * away).sum() * cut / steps)
    total += float(away[-1]) / (pi * cut) if gap_um == 0 else 0.0
    return pull_ceiling_n(magnet) * 2 * total


def _bessel(x: np.ndarray) -> np.ndarray:
    """Return the Bessel function of the first kind and order 1, by its integral over a turn."""
    turns = 256
    angle = (np.arange(turns) + 0.5) * pi / turns
    values: np.ndarray = np.cos(angle[:, None] - np.sin(angle)[:, None] * x[None, :]).mean(axis=0)
    return values
