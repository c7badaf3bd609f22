"""What containers admit."""

from dataclasses import replace

import pytest

from packdown.geometry import WayUp
from packdown.model import Lining
from packdown.teardown.room import rooms_of
from support.teardown_builds import RULES, box


@pytest.mark.parametrize(
    ("size_mm", "way", "fits"),
    [
        ((96, 46, 30), WayUp.UPRIGHT, True),
        ((46, 96, 30), WayUp.UPRIGHT, True),
        ((97, 46, 30), WayUp.UPRIGHT, False),
        ((96, 46, 31), WayUp.UPSIDE_DOWN, False),
        ((30, 96, 46), WayUp.ON_LEFT, True),
        ((30, 96, 46), WayUp.ON_FRONT, False),
        ((96, 30, 46), WayUp.ON_BACK, True),
    ],
)
def test_clearance_is_kept_to_walls_but_not_to_the_lid(
    size_mm: tuple[int, int, int],
    way: WayUp,
    fits: bool,  # noqa: FBT001
) -> None:
    """100 x 50 x 30 mm with 2 mm to the walls takes 96 x 46 x 30 mm, as it lies."""
    (room,) = rooms_of([box("a", 100, 50, 30, clearance_um=2_000)], RULES)
    x, y, z = (side * 1_000 for side in size_mm)
    assert room.admits((x, y, z), 1, way, magnets=False) is fits


def test_weight_counts() -> None:
    """What is heavier than the payload is not admitted."""
    (room,) = rooms_of([box("a", 100, 50, 30, payload_g=500)], RULES)
    assert room.admits((1, 1, 1), 500, WayUp.UPRIGHT, magnets=False)
    assert not room.admits((1, 1, 1), 501, WayUp.UPRIGHT, magnets=False)


def test_magnets_stand_upright_on_steel() -> None:
    """On a steel lining pieces with magnets in their underside may lie upright only."""
    (room,) = rooms_of([replace(box("a", 100, 50, 30), lining=Lining.STEEL)], RULES)
    assert room.admits((1, 1, 1), 1, WayUp.UPRIGHT, magnets=True)
    assert not room.admits((1, 1, 1), 1, WayUp.UPSIDE_DOWN, magnets=True)
    assert room.admits((1, 1, 1), 1, WayUp.UPSIDE_DOWN, magnets=False)


def test_rooms_that_others_cover_are_left_out() -> None:
    """Of a large and a small box and the small one's twin only the large one counts."""
    rooms = rooms_of([box("a", 50, 50, 30), box("b", 50, 50, 30), box("c", 60, 50, 30)], RULES)
    assert [room.size_um for room in rooms] == [(60_000, 50_000, 30_000)]


def test_rooms_that_differ_in_kind_both_count() -> None:
    """A larger but weaker box does not stand in for a smaller strong one."""
    boxes = [box("a", 50, 50, 30), box("b", 60, 50, 30, payload_g=100)]
    assert len(rooms_of(boxes, RULES)) == 2
