"""What is brought to an event, in words: per session, what stays and why, and the timetable."""

from dataclasses import asdict
from typing import Any

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from packdown.model import Bringing, Left, Pick, Session, Turnover, Wish, Workspace
from packdown.report.timeline import clock
from packdown.report.words import counted, listed

__all__ = ["bringing_data", "print_bringing", "result_words"]

MINUTE = 60


def bringing_data(bringing: Bringing) -> dict[str, Any]:
    """Return what is brought as JSON can hold it, without the plan and the loads themselves."""
    event = bringing.event
    return {
        "event": {"id": event.id, "name": event.name},
        "musts": bringing.musts,
        "worth": bringing.worth,
        "musts_bound": bringing.musts_bound,
        "worth_bound": bringing.worth_bound,
        "proved": bringing.proved,
        "chosen": [asdict(pick) for pick in bringing.chosen],
        "left": [asdict(left) for left in bringing.left],
        "whole": bringing.whole,
        "made_there": bringing.made_there,
        "standing_at_end": bringing.standing_at_end,
        "turnovers": [asdict(turn) for turn in bringing.turnovers],
        "containers": [container.id for container in bringing.plan.containers if container.fill],
        "weight_g": bringing.plan.objective.weight_g,
        "journeys": [[one.container for one in load.loaded] for load in bringing.loads],
    }


def result_words(bringing: Bringing) -> str:
    """Say how much is met, and whether more could be."""
    wishes = [wish for session in bringing.event.sessions for wish in session.wishes]
    musts = sum(wish.must for wish in wishes)
    said = f"{len(bringing.chosen)} of {counted(len(wishes), 'wish', 'wishes')} met"
    if musts:
        said += f", {bringing.musts} of {counted(musts, 'must')}"
    said += f", worth {bringing.worth} of {sum(wish.worth for wish in wishes)}"
    if bringing.proved:
        return f"{said}: no choice is better."
    if bringing.musts_bound > bringing.musts:
        return f"{said}; at most {counted(bringing.musts_bound, 'must')} could be."
    return f"{said}; not proved best: at most {bringing.worth_bound} could be."


def print_bringing(workspace: Workspace, bringing: Bringing, console: Console) -> None:
    """Print what is brought to each session, what stays and why, and the timetable."""
    names = _Names(workspace, bringing)
    console.print(Text(bringing.event.name, style="bold"))
    console.print(Text(result_words(bringing)))
    console.print()
    for session in bringing.event.sessions:
        console.print(Text(_when(session), style="bold"), Text(session.name))
        for pick in bringing.chosen:
            if pick.session == session.id:
                console.print(Text(f"  + {names.wish(pick.wish)}{_made(bringing, pick)}"))
        for left in bringing.left:
            if left.pick.session == session.id:
                _print_left(left, names, console)
    if any(turn.sets_up or turn.strikes for turn in bringing.turnovers):
        console.print()
        console.print(Text("Setting up and clearing up", style="bold underline"))
        console.print(_turnovers(bringing, names))
    for number, load in enumerate(bringing.loads, start=1):
        console.print()
        which = f", journey {number} of {len(bringing.loads)}" if len(bringing.loads) > 1 else ""
        order = listed([names.containers[one.container] for one in load.loaded])
        console.print(Text(f"{load.space.name}{which}: load {order}, in this order."))


class _Names:
    """The words for what is named by id."""

    def __init__(self, workspace: Workspace, bringing: Bringing) -> None:
        self.builds = {b.id: b.name for b in (*workspace.builds, *workspace.designs)}
        self.parts = {part.id: part.name for part in workspace.parts}
        self.sessions = {session.id: session.name for session in bringing.event.sessions}
        self.containers = {c.id: c.name for c in bringing.plan.containers}

    def wish(self, wish: Wish) -> str:
        """Name a wish."""
        if wish.build is not None:
            return self.builds[wish.build]
        return f"{wish.count} x {self.parts[wish.part or '']}"


def _made(bringing: Bringing, pick: Pick) -> str:
    there = pick.wish.build in bringing.made_there
    return ", put together there" if there else ""


def _when(session: Session) -> str:
    start, end = _time(session.start_s), _time(session.end_s)
    return f"Day {session.day}, {start} to {end}"


def _time(seconds: int) -> str:
    return f"{seconds // 3_600:02}:{seconds // MINUTE % MINUTE:02}"


def _print_left(left: Left, names: _Names, console: Console) -> None:
    must = " (a must)" if left.pick.wish.must else ""
    console.print(Text(f"  - {names.wish(left.pick.wish)}{must}: {'; '.join(left.reasons)}"))
    if left.remedies:
        remedy = " and ".join(left.remedies)
        console.print(Text(f"      {remedy[0].upper()}{remedy[1:]}.", style="italic"))


def _turnovers(bringing: Bringing, names: _Names) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False)
    for heading in ("day", "before"):
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column("work", overflow="fold")
    for heading in ("clear up", "set up", "limit", "pause"):
        table.add_column(heading, justify="right", no_wrap=True)
    for turn in bringing.turnovers:
        work = [
            f"{verb} {listed([names.builds[name] for name in builds])}"
            for verb, builds in (
                ("clear up", turn.strikes),
                ("leave standing", turn.stays),
                ("set up", turn.sets_up),
            )
            if builds
        ]
        if work:
            when = _time(turn.at_s) if turn.sessions else f"after {_time(turn.at_s)}"
            words = "; ".join(work)
            table.add_row(str(turn.day), when, Text(words[0].upper() + words[1:]), *_times(turn))
    return table


def _times(turn: Turnover) -> tuple[str, str, str, str]:
    """Return the times of clearing up and setting up, the limit, and the pause there is."""
    limit = turn.set_up_allowed_s if turn.sessions else turn.strike_allowed_s
    return (
        clock(turn.strike_s) if turn.strike_s else "",
        clock(turn.set_up_s) if turn.set_up_s else "",
        "" if limit is None else clock(limit),
        "" if turn.gap_s is None else clock(turn.gap_s),
    )
