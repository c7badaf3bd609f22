"""Which joints to split, in which order, and what holds in transit."""

from packdown.teardown.assembly import assemble
from packdown.teardown.bounds import effort_bound, joints_bound
from packdown.teardown.changes import cost_of, cuts, effort_of, joinable
from packdown.teardown.order import Interlocked, Move, order_of_work
from packdown.teardown.rehearsal import check_moves
from packdown.teardown.room import Room, rooms_of
from packdown.teardown.split import Aim, split
from packdown.teardown.steps import number, write_steps
from packdown.teardown.travel import weak_parts
from packdown.teardown.windows import Split

__all__ = [
    "Aim",
    "Interlocked",
    "Move",
    "Room",
    "Split",
    "assemble",
    "check_moves",
    "cost_of",
    "cuts",
    "effort_bound",
    "effort_of",
    "joinable",
    "joints_bound",
    "number",
    "order_of_work",
    "rooms_of",
    "split",
    "weak_parts",
    "write_steps",
]
