"""The tables of settings: rules, strength of joints and effort."""

from collections.abc import Mapping
from dataclasses import replace

from packdown.files.measured import bend, hold
from packdown.files.table import Table
from packdown.files.values import choice, flag, length, number, weight, whole
from packdown.model import Effort, JointKind, Lifting, Magnet, Prefer, Settings
from packdown.units import Rounding

__all__ = [
    "JOINT_KINDS",
    "OPENABLE",
    "read_bends",
    "read_clearance",
    "read_factors",
    "read_holds",
    "read_lifting",
    "read_magnet",
    "read_rules",
]

JOINT_KINDS = {str(kind): kind for kind in JointKind}
OPENABLE: tuple[JointKind, ...] = tuple(kind for kind in JointKind if kind is not JointKind.GLUED)
_PREFER = {str(prefer): prefer for prefer in Prefer}
BENDING = tuple(kind for kind in OPENABLE if kind is not JointKind.STACKED)
_FACTOR = number(0.1, 100.0)


def read_rules(table: Table, base: Settings, shock: Mapping[str, int]) -> Settings:
    """Read ``[rules]`` over the settings that hold without it.

    Parameters
    ----------
    table
        The table; ``clearance`` in it belongs to the containers and is left to them.
    base
        The settings for every key that is not given.
    shock
        Shock factors by name.
    """
    return replace(
        base,
        support_percent=table.get("support_percent", whole(1, 100), base.support_percent),
        shock_factor=table.get("shock", choice(shock), base.shock_factor),
        joint_tolerance_um=table.get(
            "joint_tolerance", length(Rounding.UP, low=0), base.joint_tolerance_um
        ),
        weight_limit_g=table.get("weight_limit", weight(Rounding.DOWN), base.weight_limit_g),
        rather_keep_s=table.get("rather_keep_s", whole(0), base.rather_keep_s),
        prefer=table.get("prefer", choice(_PREFER), base.prefer),
    )


def read_clearance(table: Table, base_um: int) -> int:
    """Read the distance that containers keep unless they say otherwise, in micrometres."""
    return table.get("clearance", length(Rounding.UP, low=0), base_um)


def read_holds(table: Table, base: Mapping[JointKind, int]) -> dict[JointKind, int]:
    """Read ``[holds]``: what one connection holds at rest, in grams, by kind of joint."""
    found: dict[JointKind, int] = {
        kind: table.get(str(kind), hold, base.get(kind, 0)) for kind in OPENABLE
    }
    table.done()
    return found


def read_bends(table: Table, base: Mapping[JointKind, int]) -> dict[JointKind, int]:
    """Read ``[bends]``: what one connection bears at rest, in millinewton-metres, by kind."""
    found: dict[JointKind, int] = {
        kind: table.get(str(kind), bend, base.get(kind, 0)) for kind in BENDING
    }
    table.done()
    return found


def read_factors(table: Table, base: Effort) -> Effort:
    """Read the factors from practised hands to a hobbyist's."""
    effort = replace(
        base,
        low=table.get("low", _FACTOR, base.low),
        usual=table.get("usual", _FACTOR, base.usual),
        high=table.get("high", _FACTOR, base.high),
    )
    if table.done() and not effort.low <= effort.usual <= effort.high:
        table.place.report(
            f"expected low <= usual <= high, not {effort.low:g}, {effort.usual:g}, {effort.high:g}"
        )
    return effort


def read_lifting(table: Table, base: Lifting) -> Lifting:
    """Read ``[lifting]``: how containers are lifted, and from which weight on one is heavy."""
    found = Lifting(
        limit_g=table.get("limit", weight(Rounding.DOWN), base.limit_g),
        two_people_above_g=table.get(
            "two_people_above", weight(Rounding.DOWN), base.two_people_above_g
        ),
        table_um=table.get("table", length(Rounding.UP), base.table_um),
        hands_percent=table.get("hands_percent", whole(0, 100), base.hands_percent),
        has_handles=table.get("handles", flag, base.has_handles),
    )
    table.done()
    return found


def read_magnet(table: Table, base: Magnet) -> Magnet:
    """Read ``[magnets]``: size and remanence of the strongest magnets in the parts."""
    found = Magnet(
        diameter_um=table.get("diameter", length(Rounding.UP), base.diameter_um),
        thickness_um=table.get("thickness", length(Rounding.UP), base.thickness_um),
        remanence_mt=table.get("remanence_mt", whole(1, 2_000), base.remanence_mt),
    )
    table.done()
    return found
