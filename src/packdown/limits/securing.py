"""What slides or tips in a vehicle, and the force that holds it.

EN 12195-1:2010, Load restraining on road vehicles: accelerations of 0.8 g forward and 0.5 g to
the other sides (read in a handbook of transport insurers); the force of a block, (c - mu) m g, is
from memory. The rule of tipping follows from the moments about the edge of the base.
"""

__all__ = ["GRAVITY", "block_force_n", "slides", "tips", "upright_force_n"]

GRAVITY = 9.81
"""Metres per second squared."""


def slides(friction: float, acceleration_g: float) -> bool:
    """Whether something slides that nothing holds but friction.

    Parameters
    ----------
    friction
        Static friction.
    acceleration_g
        Acceleration as a share of gravity.
    """
    return acceleration_g > friction


def block_force_n(weight_g: int, friction: float, acceleration_g: float) -> float:
    """Return the newtons a block has to bear for something not to slide; none if it stays."""
    return max(0.0, acceleration_g - friction) * weight_g / 1_000 * GRAVITY


def tips(reach_um: float, height_um: float, acceleration_g: float) -> bool:
    """Whether something tips over an edge of its base.

    Parameters
    ----------
    reach_um
        How far the centre of gravity is from that edge, across it.
    height_um
        Height of the centre of gravity above the base.
    acceleration_g
        Acceleration towards the edge, as a share of gravity.
    """
    return acceleration_g * height_um > reach_um


def upright_force_n(
    weight_g: int, reach_um: float, height_um: float, top_um: float, acceleration_g: float
) -> float:
    """Return the newtons that keep something from tipping if they act at its top."""
    turning = acceleration_g * height_um - reach_um
    return max(0.0, turning) / top_um * weight_g / 1_000 * GRAVITY
