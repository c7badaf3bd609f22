"""Who lifts a container: the user's limit, the lifting equation and the share of a team."""

import pytest

from packdown.files import read_filter, read_lift_tables
from packdown.limits.handling import Handling, Journey, People, handle, people_for
from packdown.limits.lifting import Coupling
from packdown.model import Lifting

TO_BOOT = Journey(name="floor to boot", from_um=0, to_um=700_000)
USUAL = Lifting()


def lift(size_mm: tuple[int, int, int], gross_g: int, settings: Lifting = USUAL) -> Handling:
    """Estimate a lift from the floor into a boot."""
    size_um = [side * 1_000 for side in size_mm]
    return handle(size_um, gross_g, TO_BOOT, settings, read_lift_tables(), read_filter())


def test_a_long_box_into_the_boot() -> None:
    """By hand, after NIOSH 94-110: 600 x 400 x 300 mm, hands at 15 and 85 cm, poor coupling.

    Origin: H 25 + 20 = 45, 25/45 x (1 - .003 x 60) x (.82 + 4.5/70) x .90 x 23 kg = 8.34 kg.
    Destination: H 20 + 20 = 40, 25/40 x (1 - .003 x 10) x .8843 x .90 x 23 = 11.10 kg.
    """
    found = lift((600, 400, 300), 8_000)
    assert found.coupling is Coupling.POOR
    assert found.origin_kg == pytest.approx(8.34, abs=0.01)
    assert found.destination_kg == pytest.approx(11.10, abs=0.01)
    assert found.index == pytest.approx(8.0 / 8.34, abs=0.002)
    assert found.people is People.ONE


def test_the_filter_takes_the_least_zone_of_the_way() -> None:
    """HSE INDG143: from the floor it is 10 and 7 kg (from memory)."""
    found = lift((600, 400, 300), 8_000)
    assert (found.men_kg, found.women_kg) == (10, 7)


def test_good_handles_make_a_short_box_easier() -> None:
    """NIOSH 94-110, table 7: good instead of fair, 1.00 instead of 0.95 for low hands."""
    fair = lift((400, 300, 220), 8_000)
    good = lift((400, 300, 220), 8_000, Lifting(has_handles=True))
    assert (fair.coupling, good.coupling) == (Coupling.FAIR, Coupling.GOOD)
    assert fair.origin_kg == pytest.approx(0.95 * good.origin_kg)
    assert fair.destination_kg == good.destination_kg


@pytest.mark.parametrize(
    ("gross_g", "index", "people"),
    [
        (15_000, 1.0, People.ONE),
        (15_001, 0.9, People.TWO),
        (9_000, 1.01, People.TWO),
        (20_000, 2.0, People.TWO),
        (20_001, 2.0, People.LIGHTEN),
    ],
)
def test_one_two_or_lighter(gross_g: int, index: float, people: People) -> None:
    """15 kg alone (EN 1005-2, from memory); HSE L23: two lift 2/3 of 15 + 15 kg, which is 20."""
    assert people_for(gross_g, index, USUAL, read_filter()) is people


def test_the_users_own_limit_counts() -> None:
    """With a limit of 25 kg, 23 kg are the most for one all the same."""
    strong = Lifting(limit_g=25_000)
    assert people_for(23_000, 1.0, strong, read_filter()) is People.ONE
    assert people_for(24_000, 1.0, strong, read_filter()) is People.TWO
    assert people_for(6_000, 0.5, Lifting(limit_g=5_000), read_filter()) is People.TWO
