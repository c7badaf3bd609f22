"""What is brought to an event: the chosen wishes, what is left and why, and the plan."""

from dataclasses import dataclass

from packdown.model.event import Event, Wish
from packdown.model.loading import Loading
from packdown.model.plan import Plan

__all__ = ["Bringing", "Left", "Pick", "Turnover"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """A wish of a session.

    Parameters
    ----------
    session
        Id of the session.
    wish
        What it wants.
    """

    session: str
    wish: Wish


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """A wish that is not met.

    Parameters
    ----------
    pick
        The wish.
    reasons
        What keeps it from being brought along with what is chosen, in words.
    remedies
        What would make it fit, in words; all of them are needed together.
    """

    pick: Pick
    reasons: tuple[str, ...]
    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turnover:
    """The work before sessions that start at the same time, or after the last of a day.

    Parameters
    ----------
    day, at_s
        Day of the event, and the second since midnight when sessions start, or the last ended.
    sessions
        Ids of the sessions that start; none at the end of a day.
    stays, strikes, sets_up
        Ids of builds that stay where they stand, that are cleared up, and that are set up.
    strike_s, set_up_s
        How long clearing up and setting up take, one after the other.
    set_up_allowed_s, strike_allowed_s, gap_s
        Time allowed for setting up, for clearing up, and for both; None where nothing limits it.
    """

    day: int
    at_s: int
    sessions: tuple[str, ...]
    stays: tuple[str, ...]
    strikes: tuple[str, ...]
    sets_up: tuple[str, ...]
    strike_s: int
    set_up_s: int
    set_up_allowed_s: int | None
    strike_allowed_s: int | None
    gap_s: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bringing:
    """The answer to an event.

    Parameters
    ----------
    event
        What was asked.
    chosen
        The wishes that are met, in the order of the sessions.
    left
        All other wishes, with what keeps them.
    whole
        Ids of the builds that are packed as builds.
    made_there
        Ids of the builds that are put together there, from pieces of other builds and loose ones.
    turnovers
        Setting up and clearing up, in the order of time.
    plan
        How what is brought is packed.
    loads
        How the containers are loaded on each journey; none without a load space.
    musts, worth
        How many wishes that a session cannot do without are met, and the worth of all that are.
    musts_bound, worth_bound
        No choice meets more, as far as it is proved; the bound on the worth is for as many musts.
    proved
        Whether no choice is better.
    """

    event: Event
    chosen: tuple[Pick, ...]
    left: tuple[Left, ...]
    whole: tuple[str, ...]
    made_there: tuple[str, ...]
    turnovers: tuple[Turnover, ...]
    plan: Plan
    loads: tuple[Loading, ...]
    musts: int
    worth: int
    musts_bound: int
    worth_bound: int
    proved: bool

    @property
    def standing_at_end(self) -> tuple[str, ...]:
        """Ids of the builds that stand when the last session is over."""
        return self.turnovers[-1].strikes if self.turnovers else ()
