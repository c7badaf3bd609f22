"""The times behind the effort of a joint, against published motion times.

The elements are those of the public data card of predetermined motion times (1 TMU = 0.036 s);
position, press, release and disengage are from memory.
"""

import pytest

from packdown.files import read_defaults
from packdown.files.defaults import MS_BY_TMU
from packdown.model import Effort, JointKind


@pytest.fixture(name="effort")
def effort_of_the_defaults() -> Effort:
    """The effort that ships with the program."""
    return read_defaults().settings.effort


def test_a_time_unit() -> None:
    """27.8 TMU are one second, to the three figures printed."""
    second_ms = 27.8 * MS_BY_TMU
    assert second_ms == pytest.approx(1_000, rel=1e-3)


def test_loose_tile_is_placed_in_1357_ms(effort: Effort) -> None:
    """Reach, grasp, move to an exact place, position loosely, release: 37.7 TMU."""
    # 12.9 + 2.0 + 15.2 + 5.6 + 2.0 = 37.7 TMU
    assert effort.remake_ms[JointKind.STACKED] == pytest.approx(1_357, rel=1e-3)
    assert effort.remake_ms[JointKind.MAGNETIC] == pytest.approx(1_357, rel=1e-3)


def test_keyed_joint_is_closed_in_2120_ms(effort: Effort) -> None:
    """The same with a close position and a press: 58.9 TMU."""
    # 12.9 + 2.0 + 15.2 + 16.2 + 10.6 + 2.0 = 58.9 TMU
    assert effort.remake_ms[JointKind.KEYED] == pytest.approx(2_120, rel=1e-3)


def test_close_joint_is_split_in_1361_ms(effort: Effort) -> None:
    """Reach, grasp, disengage a close fit, move, release: 37.8 TMU; a loose one 34.3 TMU."""
    # 12.9 + 2.0 + 7.5 + 13.4 + 2.0 = 37.8 TMU and 12.9 + 2.0 + 4.0 + 13.4 + 2.0 = 34.3 TMU
    assert effort.split_ms[JointKind.KEYED] == pytest.approx(1_361, rel=1e-3)
    assert effort.split_ms[JointKind.MAGNETIC] == pytest.approx(1_235, rel=1e-3)


def test_a_hundred_tiles_take_minutes_not_hours(effort: Effort) -> None:
    """A hundred tiles take 2.26 min loose and 3.53 min keyed, in practised hands."""
    loose, keyed = (
        100 * effort.remake_ms[kind] / 60_000 for kind in (JointKind.STACKED, JointKind.KEYED)
    )
    assert loose == pytest.approx(2.26, rel=2e-3)
    assert keyed == pytest.approx(3.53, rel=2e-3)


def test_usual_effort_is_two_to_four_times_the_practised(effort: Effort) -> None:
    """A hobbyist takes two to four times as long. Common practice, no source."""
    assert (effort.low, effort.usual, effort.high) == (2.0, 3.0, 4.0)
    # (1.361 + 2.120) s x 3 = 10.4 s for one keyed connection
    assert effort.joint_s(JointKind.KEYED, 1) == 10
