"""What slides and what tips, against figures of EN 12195-1:2010.

Accelerations of 0.8 g forward and 0.5 g to the other sides were read in a handbook of transport
insurers; the force of a block is from memory; tipping is derived from moments.
"""

import pytest

from packdown.limits.securing import block_force_n, slides, tips, upright_force_n


@pytest.mark.parametrize(("push", "newtons"), [(0.8, 117.7), (0.5, 58.8)])
def test_force_of_a_block(push: float, newtons: float) -> None:
    """20 kg with friction 0.2: (0.8 - 0.2) x 20 x 9.81 N = 117.72, and 58.86 with 0.5."""
    assert block_force_n(20_000, 0.2, push) == pytest.approx(newtons, abs=0.07)


def test_friction_that_holds_needs_no_block() -> None:
    """With as much friction as push nothing is left to hold."""
    assert block_force_n(20_000, 0.5, 0.5) == 0


@pytest.mark.parametrize(("friction", "expected"), [(0.15, True), (0.45, True), (0.6, False)])
def test_what_slides_at_half_a_g(friction: float, *, expected: bool) -> None:
    """Derived: friction below 0.5 does not hold at 0.5 g."""
    assert slides(friction, 0.5) is expected


@pytest.mark.parametrize(
    ("height", "push", "expected"), [(420, 0.5, True), (280, 0.5, False), (280, 0.8, True)]
)
def test_what_tips(height: int, push: float, *, expected: bool) -> None:
    """Derived: a base of 400 mm, the centre of gravity at 420 mm (.476) and at 280 mm (.714)."""
    assert tips(200_000, height * 1_000, push) is expected


def test_force_that_keeps_upright() -> None:
    """By moments about the edge: (0.5 x 420 - 200) / 600 x 10 kg x 9.81 = 1.635 N at 600 mm."""
    assert upright_force_n(10_000, 200_000, 420_000, 600_000, 0.5) == pytest.approx(1.635, rel=1e-3)
