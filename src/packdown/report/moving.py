"""Moves and the history, in words."""

from collections.abc import Iterator, Sequence

from packdown.report.whereabouts import plural
from packdown.store.moments import shown
from packdown.store.moving import Moved
from packdown.store.undoing import Entry
from packdown.units import format_weight

__all__ = ["history_lines", "moved_lines"]


def moved_lines(moved: Moved) -> Iterator[str]:
    """Yield what a move did, and a caution where a container holds too much."""
    where = f"in {moved.box.name} ({moved.box.short_id})" if moved.box else "out"
    yield f"{plural(len(moved.pieces), 'piece')} now {where}."
    if moved.weight_g > moved.payload_g:
        yield (
            f"It holds {format_weight(moved.weight_g)} and may hold "
            f"{format_weight(moved.payload_g)}: take something out."
        )


def history_lines(entries: Sequence[Entry], limit: int) -> Iterator[str]:
    """Yield the changes, the newest first."""
    for entry in entries[:limit]:
        undone = "" if entry.stands else " (undone)"
        yield f"{entry.id:>4}  {shown(entry.at)}  {entry.summary}{undone}"
    if len(entries) > limit:
        yield f"{plural(len(entries) - limit, 'earlier change')}: say --limit {len(entries)}."
