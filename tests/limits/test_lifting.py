"""The lifting equation against the examples of its manual, and of others who quote it.

Manual: Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation,
DHHS (NIOSH) Publication 94-110, revised 2021. CCOHS: Canadian Centre for Occupational Health and
Safety, on the NIOSH lifting equation. Printed results multiply rounded multipliers, so they differ
a little from full precision, which is given where both are checked.
"""

from dataclasses import replace

import pytest

from packdown.files import read_lift_tables
from packdown.limits.lifting import (
    Coupling,
    Duration,
    Lift,
    System,
    composite_index,
    coupling_of,
    frequency_multiplier,
    horizontal_estimate,
    lifting_index,
    mean_rate,
    multipliers,
    recommended_weight,
)

TABLES = read_lift_tables()
BEST = Lift(horizontal=25, vertical=75, travel=25)
US_FLOOR = Lift(
    horizontal=10, vertical=22, travel=37, rate=3, coupling=Coupling.FAIR, system=System.US
)
PRESS = Lift(horizontal=23, vertical=15, travel=49, coupling=Coupling.FAIR, system=System.US)


def weight(lift: Lift) -> float:
    """Return the recommended weight of a lift."""
    return recommended_weight(lift, TABLES)


def test_the_best_of_places_leaves_the_load_constant() -> None:
    """Manual p. 7: 23 kg; 51 lb at 10 in and 30 in."""
    assert weight(BEST) == 23.0
    us = Lift(horizontal=10, vertical=30, travel=10, system=System.US)
    assert weight(us) == pytest.approx(51.0, rel=1e-12)


def test_package_inspection_at_the_origin() -> None:
    """Manual, figure 14, p. 46: 34.9 lb; 34.81 in full precision; index 0.7 for 26 lb.

    The load of 26 lb is from memory.
    """
    found = multipliers(US_FLOOR, TABLES)
    printed = (1.0, 0.94, 0.87, 1.0, 0.88, 0.95)
    own = (found.horizontal, found.vertical, found.travel, found.turn, found.rate, found.coupling)
    assert own == pytest.approx(printed, abs=0.005)
    assert weight(US_FLOOR) == pytest.approx(34.9, rel=5e-3)
    assert weight(US_FLOOR) == pytest.approx(34.81, abs=0.005)
    assert lifting_index(26, weight(US_FLOOR)) == pytest.approx(0.7, abs=0.05)


def test_package_inspection_at_the_destination() -> None:
    """Manual p. 46: 15.2 lb; 15.25 in full precision; index 1.7. The rate counts at the origin."""
    lift = replace(US_FLOOR, horizontal=20, vertical=59, origin=22)
    assert weight(lift) == pytest.approx(15.2, rel=5e-3)
    assert weight(lift) == pytest.approx(15.25, abs=0.005)
    assert lifting_index(26, weight(lift)) == pytest.approx(1.7, abs=0.05)


def test_the_same_lift_in_metric_units() -> None:
    """A worked exercise on the same task: 15.7 kg and 0.76; derived in full 15.68 and 0.765."""
    lift = Lift(horizontal=25, vertical=55, travel=95, rate=3, coupling=Coupling.FAIR)
    assert weight(lift) == pytest.approx(15.68, rel=1e-3)
    assert lifting_index(12, weight(lift)) == pytest.approx(0.765, rel=1e-3)


def test_from_a_pile_on_the_floor_to_a_table() -> None:
    """CCOHS: 11.4 kg, with coarse steps of the tables; derived in full 11.49."""
    lift = Lift(horizontal=30, vertical=0, travel=115, rate=1 / 12, coupling=Coupling.POOR)
    assert weight(lift) == pytest.approx(11.4, rel=0.02)
    assert weight(lift) == pytest.approx(11.49, abs=0.005)


@pytest.mark.parametrize(
    ("coupling", "printed", "full"),
    [(Coupling.POOR, 15.7, 16.09), (Coupling.GOOD, 17.5, 17.87)],
)
def test_from_a_raised_pile(coupling: Coupling, printed: float, full: float) -> None:
    """CCOHS: the pile raised to 75 cm, 15.7 kg, and 17.5 kg with handles."""
    lift = Lift(horizontal=30, vertical=75, travel=40, coupling=coupling)
    assert weight(lift) == pytest.approx(printed, rel=0.03)
    assert weight(lift) == pytest.approx(full, abs=0.005)


def test_loading_punch_press_stock() -> None:
    """Manual, example 1, p. 33 to 37, from memory: 16.3 and 14.5 lb, indices 2.7 and 3.0."""
    end = replace(PRESS, vertical=64, origin=15)
    assert weight(PRESS) == pytest.approx(16.3, rel=0.03)
    assert weight(PRESS) == pytest.approx(16.02, abs=0.005)
    assert weight(end) == pytest.approx(14.5, rel=0.03)
    assert weight(end) == pytest.approx(14.15, abs=0.005)
    assert lifting_index(44, weight(PRESS)) == pytest.approx(2.7, abs=0.1)
    assert lifting_index(44, weight(end)) == pytest.approx(3.0, abs=0.15)


@pytest.mark.parametrize(
    ("lift", "kg"),
    [
        (Lift(horizontal=40, vertical=15, travel=55), 10.63),
        (Lift(horizontal=40, vertical=15, travel=55, coupling=Coupling.FAIR), 10.10),
        (Lift(horizontal=35, vertical=30, travel=45), 13.07),
        (Lift(horizontal=40, vertical=75, travel=75), 12.65),
        (Lift(horizontal=40, vertical=150, travel=75, origin=75), 9.80),
    ],
)
def test_boxes_to_the_boot_and_to_the_shelf(lift: Lift, kg: float) -> None:
    """Derived by hand from the manual's formulae (p. 7 to 18)."""
    assert weight(lift) == pytest.approx(kg, rel=1e-3)


@pytest.mark.parametrize(
    "change", [{"horizontal": 64}, {"vertical": 176}, {"turn": 136}, {"travel": 176}]
)
def test_out_of_range_nothing_may_be_lifted(change: dict[str, float]) -> None:
    """Manual p. 8 to 12: beyond 63 cm, 175 cm, 135 degrees or 175 cm of travel."""
    for name, value in change.items():
        assert weight(replace(BEST, **{name: value})) == 0.0  # type: ignore[arg-type]
        assert weight(replace(BEST, **{name: value - 1})) > 0.0  # type: ignore[arg-type]


def test_between_two_rows_by_a_straight_line() -> None:
    """Manual p. 7: 2.4 lifts a minute lie between 0.91 and 0.88, at 0.898."""
    assert frequency_multiplier(2.4, 80, Duration.SHORT, TABLES) == pytest.approx(0.898, abs=1e-12)


@pytest.mark.parametrize(
    ("rate", "height", "duration", "expected"),
    [
        (13, 60, Duration.SHORT, 0.0),
        (13, 75, Duration.SHORT, 0.34),
        (10, 60, Duration.LONG, 0.0),
        (10, 75, Duration.LONG, 0.13),
        (0.1, 60, Duration.LONG, 0.85),
        (15.1, 75, Duration.SHORT, 0.0),
    ],
)
def test_corners_of_the_table_of_rates(
    rate: float, height: float, duration: Duration, expected: float
) -> None:
    """Manual, table 5, and its least and greatest rate."""
    assert frequency_multiplier(rate, height, duration, TABLES) == expected


@pytest.mark.parametrize(("height", "expected"), [(30, 40), (20, 45)])
def test_the_estimate_of_the_horizontal_distance(height: float, expected: float) -> None:
    """Manual p. 8: a box 40 cm deep, the hands above and below 25 cm."""
    assert horizontal_estimate(40, height, TABLES) == expected


def test_work_for_a_part_of_the_time() -> None:
    """Manual p. 16: 10 lifts a minute for 8 of 15 minutes count as 5.33."""
    assert mean_rate(10, 8) == pytest.approx(5.333, rel=1e-3)


def test_the_index_of_several_tasks() -> None:
    """Manual p. 28, from memory: 1.9; with the multipliers .94, .88 and .70 it is 1.863."""
    tasks = [(1.0, 2.0), (2 / 3, 4.0), (1.5, 1.0)]
    index = composite_index(tasks, Duration.SHORT, TABLES)
    assert index == pytest.approx(1.9, rel=0.02)
    assert index == pytest.approx(1.863, rel=5e-3)


def test_one_task_alone_has_its_own_index() -> None:
    """An index without rate of 1.0 at 2 lifts a minute is 1 / .91 with it."""
    assert composite_index([(1.0, 2.0)], Duration.SHORT, TABLES) == pytest.approx(1 / 0.91)
    assert composite_index([(1.0, 16.0)], Duration.SHORT, TABLES) == float("inf")
    assert composite_index([], Duration.SHORT, TABLES) == 0.0


@pytest.mark.parametrize(
    ("length", "height", "handles", "expected"),
    [
        (40, 30, True, Coupling.GOOD),
        (40, 30, False, Coupling.FAIR),
        (60, 30, True, Coupling.POOR),
        (40, 32, True, Coupling.POOR),
    ],
)
def test_how_well_a_container_is_held(
    length: float, height: float, expected: Coupling, *, handles: bool
) -> None:
    """Manual p. 17, 18, notes 3 and 5: longer than 40 or higher than 30 cm is poor."""
    assert coupling_of(length, height, TABLES, handles=handles) is expected


def test_contents_that_shift_are_hard_to_hold() -> None:
    """Manual p. 18, note 5."""
    assert coupling_of(30, 20, TABLES, handles=True, shifts=True) is Coupling.POOR
