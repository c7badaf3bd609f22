"""What is still about before one leaves: pieces that went out and are not stowed again."""

from dataclasses import dataclass

from packdown.store.connection import Rows
from packdown.store.places import all_boxes
from packdown.store.records import Box, State

__all__ = ["Loose", "Sweep", "sweep"]

_ABOUT = """
SELECT p.state, COALESCE(v.name, q.name), b.name, p.event, p.seen_in, COUNT(*), MAX(c.at)
FROM pieces p
JOIN parts q ON q.id = p.part_id
LEFT JOIN builds b ON b.id = p.build_id
LEFT JOIN individuals v ON v.piece_id = p.id
LEFT JOIN changes c ON c.id = p.seen_change
WHERE p.state IN ('out', 'missing')
GROUP BY p.state, COALESCE(v.name, q.name), b.name, p.event, p.seen_in
ORDER BY p.state DESC, b.name, COALESCE(v.name, q.name), p.event, p.seen_in
"""
_NEVER = "SELECT COUNT(*) FROM pieces WHERE state = 'unstowed'"


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """Some pieces that are out or missing.

    Parameters
    ----------
    state
        Out or missing.
    name, build
        What they are called, and the build they belong to.
    event
        What they are out for.
    number
        How many.
    seen_in, seen_at
        The container they were last seen in, and when.
    """

    state: State
    name: str
    build: str | None
    event: str | None
    number: int
    seen_in: Box | None
    seen_at: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """All that is out or missing, and how many pieces were never stowed."""

    loose: tuple[Loose, ...]
    never_stowed: int


def sweep(rows: Rows) -> Sweep:
    """Return every piece that went out and is not stowed again, builds together."""
    found = rows.rows(_ABOUT)
    boxes = all_boxes(rows)
    return Sweep(
        loose=tuple(
            Loose(
                state=State(state),
                name=name,
                build=build,
                event=event,
                number=number,
                seen_in=boxes.get(box or ""),
                seen_at=at,
            )
            for state, name, build, event, box, number, at in found
        ),
        never_stowed=rows.rows(_NEVER)[0][0],
    )
