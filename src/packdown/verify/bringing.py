"""What is brought to an event, checked against the event and the collection alone."""

from collections import Counter
from collections.abc import Iterator

from packdown.geometry import bounds
from packdown.model import Bringing, Grade, ItemKind, Pick, Session, Wish, Workspace

__all__ = ["check_bringing"]


def check_bringing(workspace: Workspace, bringing: Bringing) -> tuple[str, ...]:
    """Return everything that is wrong with an answer to an event; nothing if all is right.

    Every wish is met or left with a reason; what is met is owned, packed and has tables whenever
    its sessions go on; containers, weight and times are within the limits; what is needed first
    has the lower rank.

    Parameters
    ----------
    workspace
        The collection.
    bringing
        What is to be checked; it may be wrong in any way.
    """
    check = _Check(workspace, bringing)
    return (
        *check.wishes(),
        *check.figures(),
        *check.pieces(),
        *check.tables(),
        *check.containers(),
        *check.times(),
        *check.ranks(),
    )


class _Check:
    """The answer with its parts by name."""

    def __init__(self, workspace: Workspace, bringing: Bringing) -> None:
        self.told = bringing
        self.event = bringing.event
        self.sessions = {session.id: session for session in self.event.sessions}
        self.builds = {build.id: build for build in (*workspace.builds, *workspace.designs)}
        self.owned = dict(workspace.owned)
        for build in workspace.builds:
            if build.grade is not Grade.PLACED:
                for piece in build.pieces:
                    for part, number in piece.contains:
                        if part in self.owned:
                            self.owned[part] -= number

    def wishes(self) -> Iterator[str]:
        """Yield wishes that are met and left, or neither, or left without a reason."""
        asked = Counter(
            (session.id, wish) for session in self.event.sessions for wish in session.wishes
        )
        told = [*self.told.chosen, *(left.pick for left in self.told.left)]
        if Counter((pick.session, pick.wish) for pick in told) != asked:
            yield "wishes that are met and left are not those of the event"
        for left in self.told.left:
            if not left.reasons:
                yield f"{_name(left.pick.wish)} is left without a reason"

    def figures(self) -> Iterator[str]:
        """Yield sums that are not right."""
        wishes = [pick.wish for pick in self.told.chosen]
        value = sum(wish.must for wish in wishes), sum(wish.worth for wish in wishes)
        bound = self.told.musts_bound, self.told.worth_bound
        if value != (self.told.musts, self.told.worth):
            yield f"says {self.told.musts} musts and worth {self.told.worth}, they are {value}"
        if bound < value:
            yield f"the bound {bound} is below what is met, {value}"
        if self.told.proved and bound != value:
            yield f"is called proved, but the bound is {bound}"

    def at_start_of(self, moment: Session) -> list[Pick]:
        """Return the wishes that are met while a session starts."""
        return [
            pick
            for pick in self.told.chosen
            if (own := self.sessions[pick.session]).day == moment.day
            and own.start_s <= moment.start_s < own.end_s
        ]

    def pieces(self) -> Iterator[str]:
        """Yield what is not owned or not packed when it is needed, or wanted twice at once."""
        packed = Counter(piece.part for piece in self.told.plan.pieces)
        there = {piece.build for piece in self.told.plan.pieces}
        if self.told.plan.not_packed:
            yield f"{len(self.told.plan.not_packed)} items have no place"
        for session in self.event.sessions:
            now: Counter[str] = Counter()
            standing: Counter[str] = Counter()
            for pick in self.at_start_of(session):
                build = self.builds.get(pick.wish.build or "")
                standing.update([build.id] if build else [])
                if build is None:
                    now[pick.wish.part or ""] += pick.wish.count
                elif build.grade is Grade.PLACED:
                    now.update(piece.part for piece in build.pieces)
                elif build.id not in there:
                    yield f"{session.name}: {build.name} is not packed"
            for name in (name for name, times in standing.items() if times > 1):
                yield f"{session.name}: {name} would stand in two places"
            for part, number in now.items():
                most = min(packed[part], self.owned.get(part, number))
                if number > most:
                    yield f"{session.name}: needs {number} x {part}, there are {most}"

    def tables(self) -> Iterator[str]:
        """Yield sessions whose builds do not fit their tables."""
        table = self.event.limits.table_um
        if table is None:
            return
        for session in self.event.sessions:
            area = 0
            for pick in self.told.chosen:
                if pick.session == session.id and pick.wish.build in self.builds:
                    pieces = self.builds[pick.wish.build].pieces
                    x, y, _ = bounds([c for piece in pieces for c in piece.cuboids_um]).size
                    area += x * y
                    if min(x, y) > min(table) or max(x, y) > max(table):
                        yield f"{session.name}: {pick.wish.build} is larger than a table"
            if area > session.tables * table[0] * table[1]:
                yield f"{session.name}: its builds cover more than its tables"

    def containers(self) -> Iterator[str]:
        """Yield containers that may not be brought, are too many or weigh too much."""
        limits, plan = self.event.limits, self.told.plan
        weight = {item.id: item.weight_g for item in plan.items}
        used = [container for container in plan.containers if container.fill]
        gross = sum(c.tare_g + sum(weight.get(p.item, 0) for p in c.fill) for c in used)
        if limits.containers is not None:
            for container in used:
                if container.id not in limits.containers:
                    yield f"{container.id} is not to be brought"
        if limits.most_containers is not None and len(used) > limits.most_containers:
            yield f"{len(used)} containers, {limits.most_containers} allowed"
        if limits.weight_g is not None and gross > limits.weight_g:
            yield f"all weighs {gross} g, {limits.weight_g} g allowed"
        if limits.load_space is not None:
            away = [one.container for load in self.told.loads for one in load.loaded]
            if sorted(away) != sorted(container.id for container in used):
                yield "not every container is loaded exactly once"
            if len(self.told.loads) > limits.journeys:
                yield f"{len(self.told.loads)} journeys, {limits.journeys} allowed"

    def times(self) -> Iterator[str]:
        """Yield sessions that nobody sets up for, and work that takes longer than it may."""
        starting = [name for turn in self.told.turnovers for name in turn.sessions]
        if sorted(starting) != sorted({pick.session for pick in self.told.chosen}):
            yield "not every session is set up for exactly once"
        for turn in self.told.turnovers:
            wanted = {
                pick.wish.build
                for pick in self.told.chosen
                if pick.session in turn.sessions and pick.wish.build
            }
            if turn.sessions and wanted != {*turn.sets_up, *turn.stays}:
                yield f"day {turn.day}, {turn.at_s} s: what is set up is not what is wanted"
            for what, took, allowed in (
                ("setting up", turn.set_up_s, turn.set_up_allowed_s),
                ("clearing up", turn.strike_s, turn.strike_allowed_s),
                ("changing over", turn.set_up_s + turn.strike_s, turn.gap_s),
            ):
                if allowed is not None and took > allowed:
                    yield f"day {turn.day}: {what} takes {took} s, {allowed} s allowed"

    def ranks(self) -> Iterator[str]:
        """Yield builds that are needed before others but have no lower rank."""
        first: dict[str, tuple[int, int]] = {}
        for pick in self.told.chosen:
            if pick.wish.build is not None:
                begins = self.sessions[pick.session].begins
                first[pick.wish.build] = min(first.get(pick.wish.build, begins), begins)
        rank = {
            item.build: item.needed
            for item in self.told.plan.items
            if item.kind is ItemKind.SUB_ASSEMBLY
        }
        for one, start in first.items():
            for two, later in first.items():
                a, b = rank.get(one), rank.get(two)
                if start < later and one in rank and two in rank and (a is None or b is None):
                    yield f"{one} or {two} has no rank"
                elif start < later and a is not None and b is not None and a >= b:
                    yield f"{one} is needed before {two}, but its rank is {a}, not below {b}"


def _name(wish: Wish) -> str:
    return wish.build or f"{wish.count} x {wish.part}"
