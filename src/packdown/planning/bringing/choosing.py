"""Choose wishes, and pack what is chosen, until no better choice is left.

An integer program chooses wishes; the packer tries to pack them. What it refuses comes back as a
cut: for good where a bound proves that nothing holds it, and else first for all choices that want
at least as much, which is assumed until a choice is found, then only for the choice itself. Once
no better choice is left, the best one is proved.

References
----------
Benders, J. F. (1962). Partitioning procedures for solving mixed-variables programming problems.
Numerische Mathematik 4, 238-252; Hooker, J. N., Ottosson, G. (2003). Logic-based Benders
decomposition. Mathematical Programming 96, 33-60.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from packdown.planning.bringing.demand import Choice, Demand
from packdown.planning.bringing.master import Master, Value
from packdown.planning.bringing.oracle import Accepted, Oracle
from packdown.planning.bringing.packer import Packer
from packdown.planning.whole_job import chosen

__all__ = ["Chosen", "Progress", "choose"]

ENDLESS = 10**9
Progress = Callable[[float, str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The best choice that was found.

    Parameters
    ----------
    oracle
        What decided on choices.
    best
        The choice, packed; its plan is a draft.
    value, bound
        Musts and worth that it meets, and what no choice exceeds.
    """

    oracle: Oracle
    best: Accepted
    value: Value
    bound: Value

    @property
    def proved(self) -> bool:
        """Whether no choice is better."""
        return self.value == self.bound


def choose(
    demand: Demand,
    packer: Packer,
    *,
    effort: int | None,
    stop: Callable[[], bool] | None = None,
    progress: Progress | None = None,
    first: Callable[[Oracle, Accepted], None] | None = None,
) -> Chosen:
    """Return the best choice that can be brought.

    Parameters
    ----------
    demand
        The event.
    packer
        Packs; it is given back with the same deadline.
    effort, stop, progress
        As for `bring`.
    first
        Told the first choice that can be brought, before the search goes on.
    """
    asked = stop or (lambda: False)
    run = _Run(
        oracle=Oracle(demand=demand, packer=packer),
        effort=packer.tried + (ENDLESS if effort is None else effort),
        stop=asked,
        progress=progress or (lambda _share, _words: None),
        first=first or (lambda _oracle, _best: None),
    )
    packer.stop = lambda: run.over
    run.search()
    packer.stop = asked
    best = run.best or run.nothing()
    return Chosen(oracle=run.oracle, best=best, value=demand.value(best.choice), bound=run.bound)


@dataclass(kw_only=True)
class _Run:
    """One search; what it knows belongs to the run."""

    oracle: Oracle
    effort: int
    stop: Callable[[], bool]
    progress: Progress
    first: Callable[[Oracle, Accepted], None]
    best: Accepted | None = None
    bound: Value = (0, 0)
    _master: Master = field(init=False)
    _begun: int = field(init=False)

    def __post_init__(self) -> None:
        demand = self.oracle.demand
        self._begun = self.oracle.packer.tried
        self._master = Master(demand=demand, containers=chosen(demand.workspace, self.oracle.names))

    def nothing(self) -> Accepted:
        """Return the choice of no wish at all, which always fits."""
        found = self.oracle.accept(())
        if found is None:
            raise RuntimeError("nothing at all does not fit")
        return found

    @property
    def over(self) -> bool:
        """Whether enough was tried, or there is no more time."""
        return self.oracle.packer.tried > self.effort or self.stop()

    def _value(self) -> Value | None:
        return None if self.best is None else self.oracle.demand.value(self.best.choice)

    def search(self) -> None:
        """Find a good choice first, then look at all better ones thoroughly."""
        thoroughly = False
        while not self.over:
            choice = self._master.best(self._value())
            if choice is None:
                if thoroughly and not self._master.drop_assumptions():
                    break
                self._master.drop_assumptions()
                thoroughly = True
                continue
            self._tell()
            before = self.best
            self._judge(choice, thoroughly=thoroughly)
            if before is None and self.best is not None:
                self.first(self.oracle, self.best)
        self._master.drop_assumptions()
        rest = self._master.best(self._value())
        self.bound = self.oracle.demand.value(rest) if rest is not None else self._value() or (0, 0)

    def _tell(self) -> None:
        done = self.oracle.packer.tried - self._begun
        value = self._value()
        words = "looking for a first choice" if value is None else f"worth {value[1]} fits"
        self.progress(min(1.0, done / (self.effort - self._begun)), words)

    def _judge(self, choice: Choice, *, thoroughly: bool) -> None:
        """Pack a choice; take it over, or cut it off."""
        if self.oracle.proved_too_much(choice):
            self._master.forbid_all_of(self._smallest(choice), assumed=False)
            return
        found = self.oracle.accept(choice, thoroughly=thoroughly)
        if found is not None:
            self.best = found
            return
        if self.over:
            return
        self._master.forbid_all_of(choice, assumed=True)
        if thoroughly:
            self._master.forbid(choice)
            return
        tare_g = self.oracle.tare_if_heavy(choice)
        if tare_g:
            self._master.assume_tare(tare_g)
        elif self.best is None:
            self.best = self._smaller(choice)

    def _smallest(self, choice: Choice) -> Choice:
        """Drop wishes as long as it stays proved that nothing holds the rest."""
        kept = choice
        for number in choice:
            rest = tuple(n for n in kept if n != number)
            if rest and self.oracle.proved_too_much(rest):
                kept = rest
        return kept

    def _smaller(self, choice: Choice) -> Accepted | None:
        """Drop one wish after the other, the least worth first, until the rest fits."""
        wishes = [pick.wish for pick in self.oracle.demand.picks]
        order = sorted(choice, key=lambda n: (wishes[n].must, wishes[n].worth, n))
        kept = choice
        for number in order:
            kept = tuple(n for n in kept if n != number)
            if not kept or self.over:
                break
            found = self.oracle.accept(kept, thoroughly=False)
            if found is not None:
                return found
        return None
