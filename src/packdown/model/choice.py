"""The figures of one of several plans to choose from."""

from dataclasses import dataclass

__all__ = ["Choice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What one plan costs, beside others for the same collection.

    Parameters
    ----------
    number
        Its number among them, from 1.
    containers, volume_um3, weight_g
        Containers used, their inner volume in cubic micrometres, and their weight when packed.
    effort_s, effort_low_s, effort_high_s
        Seconds for splitting and rebuilding, and the range within which that is likely to lie.
    joints_split
        Joints that are opened.
    effort_proved
        Whether no plan takes less effort.
    """

    number: int
    containers: int
    volume_um3: int
    weight_g: int
    effort_s: int
    effort_low_s: int
    effort_high_s: int
    joints_split: int
    effort_proved: bool
