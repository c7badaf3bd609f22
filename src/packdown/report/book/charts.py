"""Charts of the summary: how full and heavy containers are, what fewer or more of them cost."""

from collections.abc import Sequence
from typing import Any

from packdown.model import Choice, PackedContainer, Plan
from packdown.report.lookup import Lookup
from packdown.report.words import counted, minutes_range
from packdown.units import format_litres, format_minutes, format_weight

__all__ = ["fills", "trade_off"]


def fills(lookup: Lookup) -> dict[str, Any]:
    """Return a row for each used container: how full it is, and its weight of what it may weigh.

    Weights share one scale, so that the longest bar is the heaviest container.
    """
    allowed = {c.id: c.tare_g + c.payload_g for c in lookup.used}
    gross = {c.id: lookup.gross_g(c) for c in lookup.used}
    limit_g = lookup.plan.rules.lift_limit_g
    most = max([limit_g, *gross.values()], default=limit_g)
    return {
        "lift": format_weight(limit_g),
        "lift_at": round(100 * limit_g / most),
        "rows": [_row(lookup, c, allowed[c.id], most) for c in lookup.used],
    }


def _row(lookup: Lookup, container: PackedContainer, allowed: int, most: int) -> dict[str, Any]:
    gross = lookup.gross_g(container)
    return {
        "id": container.id,
        "name": container.name,
        "percent": round(100 * lookup.fill_share(container)),
        "litres": format_litres(container.volume_um3),
        "gross": format_weight(gross),
        "gross_at": round(100 * gross / most),
        "allowed": format_weight(allowed),
        "is_heavy": gross > lookup.plan.rules.lift_limit_g,
    }


def trade_off(plan: Plan, choices: Sequence[Choice]) -> dict[str, Any] | None:
    """Return what could be chosen instead, as bars of minutes by number of containers."""
    if len(choices) < 2:
        return None
    most = max(1, *(choice.effort_s for choice in choices))
    rows = [
        {
            "boxes": counted(choice.containers, "container"),
            "litres": format_litres(choice.volume_um3),
            "minutes": minutes_range(choice.effort_low_s, choice.effort_high_s),
            "at": round(100 * choice.effort_s / most),
            "splits": counted(choice.joints_split, "joint"),
            "saves": _saved(choices, index),
            "is_this": _is_this(plan, choice),
        }
        for index, choice in enumerate(choices)
    ]
    return {"rows": rows}


def _saved(choices: Sequence[Choice], index: int) -> str:
    """Say what a choice saves compared with the one before it, which has fewer containers."""
    if not index:
        return ""
    before, own = choices[index - 1], choices[index]
    extra, less = own.containers - before.containers, before.effort_s - own.effort_s
    if less <= 0:
        return ""
    more = f"{extra} more" if extra > 0 else "other containers"
    return (
        f"{more} saves about {format_minutes(less)}"
        if extra == 1
        else (f"{more} save about {format_minutes(less)}")
    )


def _is_this(plan: Plan, choice: Choice) -> bool:
    own = plan.objective
    return (own.containers, own.volume_um3, own.effort_s) == (
        choice.containers,
        choice.volume_um3,
        choice.effort_s,
    )
