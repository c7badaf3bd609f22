"""Events: sessions with the builds they want, and what limits what can be brought."""

from dataclasses import dataclass

__all__ = ["Event", "Limits", "Session", "Wish"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A build, or loose pieces of one part, that a session wants.

    Parameters
    ----------
    build
        Id of the build; None for loose pieces.
    part, count
        The part of loose pieces, and how many of them.
    must
        Whether the session cannot do without it: no worth of others outweighs that.
    worth
        What it is worth against other wishes; more than 0.
    """

    build: str | None = None
    part: str | None = None
    count: int = 0
    must: bool = False
    worth: int = 1

    def __post_init__(self) -> None:
        if (self.build is None) == (self.part is None):
            raise ValueError("a wish is for a build or for a part")
        if (self.part is not None) != (self.count > 0):
            raise ValueError("a wish for a part says how many")
        if self.worth < 1:
            raise ValueError(f"a wish is worth at least 1, not {self.worth}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A time slot.

    Parameters
    ----------
    id, name
        Short name in files, and the words for it.
    day
        Day of the event, from 1.
    start_s, end_s
        Seconds since midnight.
    tables
        How many tables it has.
    wishes
        What it wants.
    """

    id: str
    name: str
    day: int
    start_s: int
    end_s: int
    tables: int
    wishes: tuple[Wish, ...]

    def __post_init__(self) -> None:
        if not 0 <= self.start_s < self.end_s:
            raise ValueError(f"session {self.id}: it must end after it starts")

    @property
    def begins(self) -> tuple[int, int]:
        """Day and second of its start, to order sessions by."""
        return (self.day, self.start_s)

    def overlaps(self, other: "Session") -> bool:
        """Whether both go on at the same time, for however short."""
        return self.day == other.day and self.start_s < other.end_s and other.start_s < self.end_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What limits an event; None is no limit.

    Parameters
    ----------
    containers
        Ids of the containers that may be brought; None for all there are.
    most_containers
        How many of them at most.
    weight_g
        Weight of all packed containers together, on all journeys.
    load_space
        Id of the load space they travel in.
    journeys
        How often that is filled.
    set_up_s
        Time to set up before a session.
    strike_s
        Time to clear up after the last session of a day.
    helpers
        How many people lend a hand; at least 1.
    table_um
        Length and width of one table.
    """

    containers: tuple[str, ...] | None = None
    most_containers: int | None = None
    weight_g: int | None = None
    load_space: str | None = None
    journeys: int = 1
    set_up_s: int | None = None
    strike_s: int | None = None
    helpers: int = 1
    table_um: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        if self.helpers < 1 or self.journeys < 1:
            raise ValueError("at least one helper and one journey")


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """A convention, a club night, an open day.

    Parameters
    ----------
    id, name
        Short name in files, and the words for it.
    sessions
        Its time slots, in the order in which they start.
    limits
        What can be brought.
    """

    id: str
    name: str
    sessions: tuple[Session, ...]
    limits: Limits

    def __post_init__(self) -> None:
        if list(self.sessions) != sorted(self.sessions, key=lambda session: session.begins):
            raise ValueError(f"event {self.id}: sessions must be in the order of their start")
