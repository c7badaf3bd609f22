"""The least-effort split of a build: found, and proved as far as can be.

First the linear program over all sets that may stay whole, and the best choice among those it
turned up. Where a gap is left, all sets are listed that any split below some effort can have; the
best choice among them is the least split, or there is none below that effort.

References
----------
Baldacci, R., Christofides, N., Mingozzi, A. (2008), Mathematical Programming 115(2), 351-385:
listing all columns within the gap.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packdown.teardown.choose import Choice, choose
from packdown.teardown.columns import Columns
from packdown.teardown.graph import BuildGraph
from packdown.teardown.room import Room
from packdown.teardown.windows import Windows

__all__ = ["Least", "first_parts", "forget", "least", "straight_parts"]

#: Most branches in listing sets, and parts of the gap that are tried first.
NODES = 600_000
SHARES = (0.3, 0.7, 1.0)
#: Answers that are kept.
REMEMBERED = 64
#: How often cuts are added where the gap is too wide to list all sets.
TIGHTENINGS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Least:
    """The best split that was found.

    Parameters
    ----------
    parts
        Masks of the pieces of its sub-assemblies.
    bound_s
        Seconds that no split is below.
    """

    parts: tuple[int, ...]
    bound_s: int


def least(windows: Windows, stop: Callable[[], bool] = lambda: False) -> Least:
    """Return the best split of a build that can be found, and a bound of all.

    Parameters
    ----------
    windows
        The build, the rooms and the rules.
    stop
        Asked often; once true, the best so far is the answer, and is not remembered.
    """
    key = _question(windows)
    if windows.limit is None and key in _answers:
        return _answers[key]
    parts = first_parts(windows)
    answer = Least(parts=tuple(parts), bound_s=0)
    if windows.rooms and len(parts) > 1:
        proof = _Proof(windows, parts, stop)
        proof.run()
        proof.improve()
        answer = Least(parts=tuple(proof.parts), bound_s=proof.columns.bound_s)
    if windows.limit is None and not stop():
        while len(_answers) >= REMEMBERED:
            del _answers[next(iter(_answers))]
        _answers[key] = answer
    return answer


def forget() -> None:
    """Forget all answers."""
    _answers.clear()


def first_parts(windows: Windows) -> list[int]:
    """Return sub-assemblies near those of the cheapest straight cuts, none of which collapses."""
    while True:
        parts = windows.improved(windows.leaves(windows.graph.all))
        if windows.all_carried(parts):
            return parts


def straight_parts(windows: Windows) -> list[int]:
    """Return the sub-assemblies of the cheapest straight cuts, none of which collapses."""
    while True:
        parts = windows.leaves(windows.graph.all)
        if windows.all_carried(parts):
            return parts


Question = tuple[BuildGraph, tuple[Room, ...], int, tuple[int, int, int]]
_answers: dict[Question, Least] = {}


def _question(windows: Windows) -> Question:
    assembler = windows.assembler
    return (windows.graph, tuple(windows.rooms), windows.place_s, assembler.holding)


class _Proof:
    """Closes the gap between the best split and the bound.

    Parameters
    ----------
    windows, parts, stop
        As for `least`; the parts of a split that is known.
    """

    def __init__(self, windows: Windows, parts: Sequence[int], stop: Callable[[], bool]) -> None:
        self.windows, self.parts, self.stop = windows, list(parts), stop
        self.stuck = {part for part in parts if not windows.whole(part)}
        self.columns = Columns(windows, parts, stop)
        self.nodes = NODES

    @property
    def effort_s(self) -> int:
        """Seconds of the best split."""
        return self.windows.cost(self.parts)

    def run(self) -> None:
        """Find better splits and better bounds until they meet, or the budget is spent."""
        columns = self.columns
        columns.solve()
        for _ in range(TIGHTENINGS + 1):
            self._choose(dict(columns.master.costs), self.effort_s - 1)
            if columns.bound_s >= self.effort_s or self._closed() or self.stop():
                return
            if not columns.exact or not columns.tighten():
                return
            columns.solve()

    def improve(self) -> None:
        """Merge and exchange where that saves more, unless the split is proved least."""
        if self.columns.bound_s < self.effort_s:
            better = self.windows.improved(self.parts)
            if self.windows.all_carried(better):
                self.parts = better

    def _closed(self) -> bool:
        """List all sets that a better split can have, for more and more of the gap."""
        low, high = self.columns.bound_s, self.effort_s - 1
        targets = dict.fromkeys(low + int((high - low) * share) for share in SHARES)
        for target_s in targets:
            costs = self.columns.within(target_s, self.nodes) if self.columns.exact else None
            if costs is None:
                return False
            choice = self._choose(costs, target_s)
            self.columns.raise_bound(-(-choice.bound // 2) - self.windows.place_s)
            if choice.masks:
                return True
            if self.columns.bound_s <= target_s:
                return False
        return True

    def _choose(self, costs: dict[int, int], most_s: int) -> Choice:
        """Take the best choice of sets that may stay whole, at no more than some effort."""
        units = self.columns.units
        while True:
            choice = choose(units.count, costs, 2 * (most_s + self.windows.place_s))
            bad = [mask for mask in choice.masks if not self._usable(mask)]
            if not bad:
                break
            for mask in bad:
                del costs[mask]
        if choice.masks:
            self.parts = [units.pieces(mask) for mask in choice.masks]
        return choice

    def _usable(self, mask: int) -> bool:
        """Whether a set may be a sub-assembly; a unit that fits nowhere has no choice."""
        windows, pieces = self.windows, self.columns.units.pieces(mask)
        if self.columns.whole(mask):
            carried = windows.all_carried([pieces])
            if not carried:
                self.columns.refusals.forbid(mask)
            return carried
        if pieces in self.stuck:
            return True
        item = windows.assembler.item(pieces) if pieces.bit_count() == 1 else None
        return item is not None and any(room.takes(item) for room in windows.rooms)
