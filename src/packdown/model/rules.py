"""The rules of a plan: what of the settings it was made under, and is verified against."""

from dataclasses import dataclass, field

from packdown.model.magnet import Magnet

__all__ = ["Rules"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """The settings a plan was made under, and is verified against.

    Parameters
    ----------
    support_percent, shock_factor, joint_tolerance_um, weight_limit_g
        As in the settings of the workspace.
    place_s
        Seconds that one more sub-assembly costs.
    effort_low, effort_high
        Factors from the usual effort to the ends of its range.
    key_weight_g
        Weight of one loose key.
    keep_together, keep_apart
        Groups of piece ids.
    travel_factor, shelf_factor
        As in the settings of the workspace.
    lift_limit_g
        Above this a container is heavy to lift alone: the user's own figure.
    magnet
        What the magnets in the parts are.
    """

    support_percent: int
    shock_factor: int
    joint_tolerance_um: int
    weight_limit_g: int
    place_s: int
    effort_low: float
    effort_high: float
    key_weight_g: int
    keep_together: tuple[tuple[str, ...], ...] = ()
    keep_apart: tuple[tuple[str, ...], ...] = ()
    travel_factor: int = 3
    shelf_factor: int = 1
    lift_limit_g: int = 15_000
    magnet: Magnet = field(default_factory=Magnet)
