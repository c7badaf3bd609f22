"""What keeps a choice from being brought, in figures and in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from packdown.model import Limits, PackedContainer, Plan, Turnover
from packdown.planning.bringing.turnovers import NEVER
from packdown.units import format_minutes, format_weight

__all__ = ["Fault", "FaultKind", "gross_g", "ordinal", "plan_faults", "time_faults"]

_ORDINALS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
)  # fmt: skip


class FaultKind(StrEnum):
    """Which limit is in the way."""

    PIECES = "pieces"
    CLASH = "clash"
    TABLES = "tables"
    CONTAINERS = "containers"
    WEIGHT = "weight"
    LOAD = "load"
    TIME = "time"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One limit that is broken.

    Parameters
    ----------
    kind
        Which limit.
    reason
        What is in the way.
    remedy
        What would make it fit; empty where only another choice would.
    """

    kind: FaultKind
    reason: str
    remedy: str = ""


def ordinal(number: int) -> str:
    """Return a number that counts something: in words up to the twelfth.

    >>> ordinal(7), ordinal(21)
    ('seventh', '21st')
    """
    if number <= len(_ORDINALS):
        return _ORDINALS[number - 1]
    ending = "th" if number // 10 % 10 == 1 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def plan_faults(plan: Plan, limits: Limits) -> Iterator[Fault]:
    """Yield what the number and the weight of the packed containers break."""
    used = [container for container in plan.containers if container.fill]
    most = limits.most_containers
    if most is not None and len(used) > most:
        yield Fault(
            kind=FaultKind.CONTAINERS,
            reason=f"would need a {ordinal(len(used))} container, {most} allowed",
            remedy=f"allow {len(used)} containers",
        )
    weight = sum(gross_g(plan, container) for container in used)
    if limits.weight_g is not None and weight > limits.weight_g:
        yield Fault(
            kind=FaultKind.WEIGHT,
            reason=f"all would weigh {format_weight(weight)}, "
            f"{format_weight(limits.weight_g)} allowed",
            remedy=f"allow {format_weight(-(-weight // 100) * 100)}",
        )


def gross_g(plan: Plan, container: PackedContainer) -> int:
    """Return the weight of a container with what lies in it."""
    weight = {item.id: item.weight_g for item in plan.items}
    return container.tare_g + sum(weight[place.item] for place in container.fill)


def time_faults(turnovers: Sequence[Turnover]) -> Iterator[Fault]:
    """Yield every turnover that takes longer than it may."""
    for turn in turnovers:
        both = turn.strike_s + turn.set_up_s
        if both >= NEVER:
            reason = "a step needs more helpers than there are"
            yield Fault(kind=FaultKind.TIME, reason=reason, remedy="find another helper")
            continue
        for what, took, allowed in (
            ("set-up", turn.set_up_s, turn.set_up_allowed_s),
            ("clearing up at the end of the day", turn.strike_s, turn.strike_allowed_s),
            ("changing over", both, turn.gap_s),
        ):
            if allowed is not None and took > allowed:
                more = _minutes(took)
                yield Fault(
                    kind=FaultKind.TIME,
                    reason=f"{what} would take {more}, {format_minutes(allowed)} allowed",
                    remedy=f"allow {more}, or find another helper",
                )


def _minutes(seconds: int) -> str:
    """Show seconds as minutes, rounded up."""
    return format_minutes(seconds if seconds < 90 else -(-seconds // 60) * 60)
