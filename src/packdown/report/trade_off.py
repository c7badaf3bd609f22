"""What may be traded for what: a table of plans with bars beside the figures."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from rich import box
from rich.console import Console
from rich.table import Table

from packdown.model import Choice, Plan

__all__ = ["choice_of", "choices_data", "print_choices"]

CELLS = 10
"""Width of the longest bar."""
UM3_PER_LITRE = 10**15


def choice_of(number: int, plan: Plan) -> Choice:
    """Return the figures of a plan under a number."""
    return Choice(
        number=number,
        containers=plan.objective.containers,
        volume_um3=plan.objective.volume_um3,
        weight_g=plan.objective.weight_g,
        effort_s=plan.objective.effort_s,
        effort_low_s=plan.objective.effort_low_s,
        effort_high_s=plan.objective.effort_high_s,
        joints_split=plan.objective.joints_split,
        effort_proved=plan.bounds.effort_s.met,
    )


def choices_data(plans: Sequence[Plan]) -> list[dict[str, Any]]:
    """Return the figures of plans, numbered from 1.

    Parameters
    ----------
    plans
        Plans in the order in which they are numbered.
    """
    return [asdict(choice_of(number, plan)) for number, plan in enumerate(plans, start=1)]


def print_choices(plans: Sequence[Plan], console: Console) -> None:
    """Print plans as a table; bars show volume and effort beside each other.

    Parameters
    ----------
    plans
        Plans in the order in which they are numbered; at least one.
    console
        Where to print.
    """
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False)
    for heading in ("number", "containers", "litres"):
        table.add_column(heading, justify="right")
    table.add_column("", no_wrap=True)
    for heading in ("joints split", "minutes"):
        table.add_column(heading, justify="right")
    table.add_column("", no_wrap=True)
    volume = max(plan.objective.volume_um3 for plan in plans)
    effort = max(plan.objective.effort_s for plan in plans)
    for number, plan in enumerate(plans, start=1):
        own = plan.objective
        table.add_row(
            str(number),
            str(own.containers),
            f"{own.volume_um3 / UM3_PER_LITRE:.1f}",
            _bar(own.volume_um3, volume),
            str(own.joints_split),
            f"{own.effort_low_s / 60:.1f} to {own.effort_high_s / 60:.1f}",
            _bar(own.effort_s, effort),
        )
    console.print(table)
    console.print("Minutes are for splitting and making the joints again.")


def _bar(value: int, most: int) -> str:
    """Return a bar in halves of cells."""
    halves = round(2 * CELLS * value / most) if most else 0
    return "\N{BOX DRAWINGS HEAVY HORIZONTAL}" * (halves // 2) + (
        "\N{BOX DRAWINGS HEAVY LEFT}" if halves % 2 else ""
    )
