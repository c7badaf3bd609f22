"""What the wishes of an event ask for: which pieces, when, and what is owned of them."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from packdown.geometry import bounds
from packdown.model import Build, Event, Grade, Pick, Session, Wish, Workspace

__all__ = ["Choice", "Demand"]

Choice = tuple[int, ...]
"""Numbers of wishes in the order of `Demand.picks`."""


@dataclass(frozen=True)
class Demand:
    """An event before the background of a collection.

    Parameters
    ----------
    workspace
        The collection.
    event
        The event.
    """

    workspace: Workspace
    event: Event

    @cached_property
    def picks(self) -> tuple[Pick, ...]:
        """Every wish, in the order of the sessions."""
        return tuple(
            Pick(session=session.id, wish=wish)
            for session in self.event.sessions
            for wish in session.wishes
        )

    @cached_property
    def sessions(self) -> Mapping[str, Session]:
        """The sessions by id."""
        return {session.id: session for session in self.event.sessions}

    @cached_property
    def builds(self) -> Mapping[str, Build]:
        """Every build and design by id."""
        return {build.id: build for build in (*self.workspace.builds, *self.workspace.designs)}

    @cached_property
    def rank(self) -> Mapping[str, int]:
        """For each session its place in the order of starts, from 1; equal starts share one."""
        starts = sorted({session.begins for session in self.event.sessions})
        return {s.id: starts.index(s.begins) + 1 for s in self.event.sessions}

    @cached_property
    def parts_of(self) -> Mapping[str, Counter[str]]:
        """For each build the pieces of each part that it takes from what is owned.

        A build that was only measured keeps its pieces: it takes none.
        """
        return {
            name: Counter(piece.part for piece in build.pieces)
            if build.grade is Grade.PLACED
            else Counter()
            for name, build in self.builds.items()
        }

    @cached_property
    def pool(self) -> Mapping[str, int]:
        """How many pieces of each counted part there are for wishes; others never run short."""
        pool = Counter(dict(self.workspace.owned))
        for build in self.workspace.builds:
            if build.grade is not Grade.PLACED:
                pool.subtract(_contents(build))
        return {part: max(0, pool[part]) for part, _ in self.workspace.owned}

    def takes_parts(self, build: str) -> bool:
        """Whether the pieces of a build are taken from those that are owned of each part."""
        return bool(self.parts_of[build])

    def asks(self, wish: Wish) -> Counter[str]:
        """Return the pieces of each part that a wish takes from what is owned."""
        if wish.build is not None:
            return self.parts_of[wish.build]
        return Counter({wish.part or "": wish.count})

    def active(self, moment: Session) -> tuple[int, ...]:
        """Return the numbers of all wishes of sessions that go on when one starts."""
        return tuple(
            number
            for number, pick in enumerate(self.picks)
            if (other := self.sessions[pick.session]).day == moment.day
            and other.start_s <= moment.start_s < other.end_s
        )

    def needed(self, choice: Iterable[int]) -> Counter[str]:
        """Return how many pieces of each part a choice needs at the same time, at most."""
        chosen = set(choice)
        most: Counter[str] = Counter()
        for session in self.event.sessions:
            now: Counter[str] = Counter()
            for number in chosen.intersection(self.active(session)):
                now.update(self.asks(self.picks[number].wish))
            most |= now
        return most

    def short(self, choice: Iterable[int]) -> Counter[str]:
        """Return how many pieces of each part a choice lacks."""
        needed = self.needed(choice)
        return Counter(
            {part: needed[part] - own for part, own in self.pool.items() if needed[part] > own}
        )

    def clashes(self, choice: Collection[int]) -> list[tuple[int, int]]:
        """Return pairs of wishes for one build in sessions that overlap."""
        return [
            (one, two)
            for one in choice
            for two in choice
            if one < two
            and self.picks[one].wish.build is not None
            and self.picks[one].wish.build == self.picks[two].wish.build
            and self.sessions[self.picks[one].session].overlaps(
                self.sessions[self.picks[two].session]
            )
        ]

    def base_um2(self, build: str) -> int:
        """Return the area of the rectangle a build stands on, in square micrometres."""
        length, width = self.base_um(build)
        return length * width

    def base_um(self, build: str) -> tuple[int, int]:
        """Return length and width of the rectangle a build stands on."""
        box = bounds([cuboid for p in self.builds[build].pieces for cuboid in p.cuboids_um])
        return box.size[0], box.size[1]

    def fits_table(self, build: str) -> bool:
        """Whether a build is no larger than a table, turned or not."""
        table = self.event.limits.table_um
        return table is None or all(
            side <= room
            for side, room in zip(sorted(self.base_um(build)), sorted(table), strict=True)
        )

    def over_tables(self, choice: Iterable[int]) -> tuple[str, ...]:
        """Return the sessions whose builds cover more than their tables, or more than one."""
        table = self.event.limits.table_um
        if table is None:
            return ()
        area: Counter[str] = Counter()
        large = set()
        for number in choice:
            pick = self.picks[number]
            if pick.wish.build is not None:
                area[pick.session] += self.base_um2(pick.wish.build)
                if not self.fits_table(pick.wish.build):
                    large.add(pick.session)
        return tuple(
            session.id
            for session in self.event.sessions
            if session.id in large or area[session.id] > session.tables * table[0] * table[1]
        )

    def value(self, choice: Iterable[int]) -> tuple[int, int]:
        """Return how many musts a choice meets, and the worth of all its wishes."""
        wishes = [self.picks[number].wish for number in choice]
        return sum(wish.must for wish in wishes), sum(wish.worth for wish in wishes)


def _contents(build: Build) -> Counter[str]:
    found: Counter[str] = Counter()
    for piece in build.pieces:
        found.update(dict(piece.contains))
    return found
