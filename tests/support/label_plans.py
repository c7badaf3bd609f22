"""Plans with as many packed containers as a test wants labels, under names of its choice."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from packdown.model import Plan
from support.book_plan import book_plan

__all__ = ["HARD_NAMES", "plan_with"]

HARD_NAMES = (
    "Kiste für Türme, Gräben & Löcher",
    "Příliš žluťoučký kůň z Łodzi",
    "Ящик для башен · Κιβώτιο",
    "a) \\( {nb} %PDF-1.4 <script>alert(1)</script> endstream",
    "two\nlines\tand\x00nothing\x1b[31m",
    "no" * 200,
    "many words " * 60,
    "🏰🏰🏰 倉庫の箱",
    "Ḗ̄" * 90,
    "קופסה עם מגדלים",
    "صندوق الأبراج",
    "x",
)
"""Names that try to leave their label, their line or their file."""


def plan_with(count: int, names: Sequence[str] = (), **changes: Any) -> Plan:  # noqa: ANN401
    """Return a plan with a number of packed containers, all alike but for id and name.

    Parameters
    ----------
    count
        How many.
    names
        Their names, by turns.
    changes
        Other fields of the containers.
    """
    plan = book_plan()
    packed = next(c for c in plan.containers if c.name.startswith("Flat tray"))
    containers = tuple(
        replace(
            packed,
            id=f"box-{number}",
            name=names[(number - 1) % len(names)] if names else f"Box {number}",
            **changes,
        )
        for number in range(1, count + 1)
    )
    return replace(plan, containers=containers)
