"""Fields and pulls of disc magnets against published figures and SciPy's Bessel functions.

Limits of air transport: IATA Dangerous Goods Regulations, packing instruction 953 (UN 2807), and 49
CFR 173.21(d). "Derived" figures follow from the dipole formula.
"""

from math import pi

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import j1

from packdown.limits.magnets import (
    MU0,
    AirClass,
    Magnet,
    air_class,
    distance_to_mm,
    field_gauss,
    flux_index,
    gauss,
    most_moment,
    pull_ceiling_n,
    pull_force_n,
    random_share,
)

DISC = Magnet()


def disc(diameter_mm: int, thickness_mm: int, remanence_mt: int = 1_300) -> Magnet:
    """Return a disc."""
    return Magnet(
        diameter_um=diameter_mm * 1_000,
        thickness_um=thickness_mm * 1_000,
        remanence_mt=remanence_mt,
    )


@pytest.mark.parametrize(("strength", "field"), [(0.418, 0.005253), (0.159, 0.001998)])
def test_field_strengths_of_the_instructions(strength: float, field: float) -> None:
    """Derived: 0.418 and 0.159 A/m, the limits of PI 953 and of the older PI 902, in gauss."""
    assert gauss(strength) == pytest.approx(field, rel=1e-3)


def test_two_degrees_of_a_compass() -> None:
    """Derived: the limit turns a compass by 2 degrees where the earth's field is 15 uT across."""
    assert np.degrees(np.arctan(0.525 / 15.04)) == pytest.approx(2.0, abs=0.01)


def test_a_small_disc_at_ten_millimetres() -> None:
    """A worked example in a physics forum: 3 x 2 mm, 1.38 T: 0.01553 A m2 and 3.11 mT."""
    magnet = disc(3, 2, 1_380)
    assert magnet.moment == pytest.approx(0.01553, rel=3e-3)
    assert field_gauss(magnet.moment, 0.010) / 10 == pytest.approx(3.11, rel=3e-3)


def test_the_usual_disc() -> None:
    """Derived: 5 x 2 mm, 1.30 T, 7.5 g/cm3: 0.040625 A m2 and 0.2945 g."""
    assert DISC.moment == pytest.approx(0.040625, rel=1e-3)
    assert DISC.mass_g == pytest.approx(0.2945, rel=1e-3)


@pytest.mark.parametrize(("metres", "field"), [(2.1, 8.773e-6), (4.6, 8.347e-7)])
def test_the_usual_disc_far_away(metres: float, field: float) -> None:
    """Derived: its field on the axis, in gauss."""
    assert field_gauss(DISC.moment, metres) == pytest.approx(field, rel=1e-3)


def test_how_many_aligned_discs_reach_the_limit() -> None:
    """Derived: 598 stay below 0.00525 G at 2.1 m, 599 do not; 5,888 reach it at 4.5 m."""
    classes = [air_class(DISC, number) for number in (227, 228, 598, 599, 5_888, 5_889)]
    low, ask, declare, forbidden = AirClass
    assert classes == [low, ask, ask, declare, declare, forbidden]


def test_five_hundred_discs() -> None:
    """Derived: 0.004387 G aligned, 0.000196 G if they point anywhere."""
    aligned = field_gauss(500 * DISC.moment, 2.1)
    assert aligned == pytest.approx(0.004387, rel=1e-3)
    assert aligned * random_share(500) == pytest.approx(0.000196, rel=3e-3)


@pytest.mark.parametrize(("metres", "moment"), [(2.1, 24.31), (4.5, 239.2), (4.6, 255.5)])
def test_moments_that_reach_the_limit(metres: float, moment: float) -> None:
    """Derived: 0.00525 G at the distances of PI 953 and of 49 CFR 173.21(d)."""
    assert most_moment(0.00525, metres) == pytest.approx(moment, rel=1e-3)


def _vokoun(magnet: Magnet, gap_mm: float) -> float:
    """Integrate the formula of Vokoun and others (2009) by SciPy."""
    radius, thick = magnet.diameter_um / 2_000, magnet.thickness_um / 1_000

    def integrand(k: float) -> float:
        rim = 1 - np.exp(-k * thick / radius)
        return float(j1(k) ** 2 / k * rim**2 * np.exp(-2 * k * gap_mm / radius))

    total = sum(quad(integrand, a, a + 20)[0] for a in range(0, 2_000, 20))
    area = pi * radius**2 * 1e-6
    return float(magnet.remanence_t**2 / (2 * MU0) * area * 2 * total)


@pytest.mark.parametrize(
    ("gap_mm", "newtons"), [(0.0, 7.24), (0.2, 4.37), (0.5, 2.65), (1.0, 1.33), (2.0, 0.43)]
)
def test_pull_of_the_usual_disc_on_steel(gap_mm: float, newtons: float) -> None:
    """Vokoun and others (2009), J. Magn. Magn. Mater. 321, 3758; figures derived from it."""
    found = pull_force_n(DISC, round(gap_mm * 1_000))
    assert found == pytest.approx(newtons, rel=0.02)
    assert found == pytest.approx(_vokoun(DISC, gap_mm), rel=2e-3)


@pytest.mark.parametrize(
    ("magnet", "newtons"),
    [
        (disc(5, 2, 1_240), 6.59),
        (disc(5, 1), 4.25),
        (disc(3, 1), 2.30),
        (disc(6, 2), 9.20),
        (disc(8, 3), 17.76),
    ],
)
def test_pull_of_other_discs(magnet: Magnet, newtons: float) -> None:
    """Derived from the formula of Vokoun and others (2009), in contact with steel."""
    assert pull_force_n(magnet) == pytest.approx(newtons, rel=0.02)


def test_no_pull_exceeds_its_ceiling() -> None:
    """Derived: Br2 A / (2 mu0) of a disc of 5 mm and 1.30 T is 13.20 N."""
    assert pull_ceiling_n(DISC) == pytest.approx(13.20, rel=1e-3)
    assert pull_force_n(disc(5, 50)) < pull_ceiling_n(DISC)


@pytest.mark.parametrize(("magnet", "index"), [(DISC, 324), (disc(3, 1), 92)])
def test_flux_index_of_loose_discs(magnet: Magnet, index: float) -> None:
    """16 CFR 1262: below 50 kG2 mm2; these small discs are far above it (derived)."""
    assert flux_index(magnet) == pytest.approx(index, rel=0.02)


def test_distance_to_half_a_millitesla() -> None:
    """ICNIRP: devices are in general not affected below 0.5 mT; derived 25.3 mm, 100 discs 118."""
    assert distance_to_mm(DISC.moment) == pytest.approx(25.3, rel=0.01)
    assert distance_to_mm(DISC.moment, 0.001) == pytest.approx(20.1, rel=0.01)
    assert distance_to_mm(100 * DISC.moment) == pytest.approx(118, rel=0.01)
