"""The cheapest guillotine cuts of a build, by dynamic programming over its windows."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from packdown.model import Item
from packdown.teardown.assembly import Assembler
from packdown.teardown.room import Room

__all__ = ["Split", "Windows"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A way to split a build, or a part of one, into sub-assemblies.

    Parameters
    ----------
    sub_assemblies
        Piece ids of each sub-assembly in the order of the build.
    effort_s
        Seconds for the split joints and for placing every sub-assembly but the first. Joints of
        pieces that travel alone do not count; those rather kept count for more.
    items
        The item of each sub-assembly, parallel to `sub_assemblies`.
    stuck
        Pieces of sub-assemblies that fit nowhere or do not hold, however the build is split;
        their items only serve to say so.
    """

    sub_assemblies: tuple[tuple[str, ...], ...]
    effort_s: int
    items: tuple[Item, ...]
    stuck: tuple[str, ...] = ()


class Windows:
    """The windows of a build and the cheapest way to split each.

    Parameters
    ----------
    assembler
        Makes the sub-assemblies.
    rooms
        What the containers admit.
    place_s
        Seconds that one more sub-assembly costs.
    limit
        Says of an item that fits whether it may stay whole; None if all may.
    """

    def __init__(
        self,
        assembler: Assembler,
        rooms: Sequence[Room],
        place_s: int,
        limit: Callable[[Item], bool] | None = None,
    ) -> None:
        self.assembler = assembler
        self.graph = assembler.graph
        self.rooms = rooms
        self.place_s = place_s
        self.limit = limit
        #: More than any split costs: what a stuck unit adds.
        self.stuck_s = self.graph.inner_effort(self.graph.all) + place_s * len(self.graph.index) + 1
        self._inner: dict[int, int] = {}
        self._whole: dict[int, bool] = {}
        self._best: dict[int, tuple[int, tuple[int, ...]]] = {}

    def inner(self, mask: int) -> int:
        """Effort of all joints inside a mask."""
        if mask not in self._inner:
            self._inner[mask] = self.graph.inner_effort(mask)
        return self._inner[mask]

    def whole(self, mask: int) -> bool:
        """Whether a mask can stay one sub-assembly."""
        if mask not in self._whole:
            self._whole[mask] = self.assembler.fits(mask, self.rooms) and self._allowed(mask)
        return self._whole[mask]

    def all_carried(self, parts: Iterable[int]) -> bool:
        """Whether no part collapses.

        Those that do, and all that collapse likewise, are from now on nothing that can stay whole.
        """
        weak = [
            part
            for part in parts
            if self.whole(part) and not self.assembler.is_carried(part, self.rooms)
        ]
        if weak:
            for mask in [mask for mask, whole in self._whole.items() if whole]:
                self._whole[mask] = self.assembler.fits(mask, self.rooms)
            self._whole.update(dict.fromkeys(weak, False))
            self._best.clear()
        return not weak

    def _allowed(self, mask: int) -> bool:
        if self.limit is None:
            return True
        item = self.assembler.item(mask)
        return item is not None and self.limit(item)

    def seen(self) -> list[int]:
        """Return the windows that were found to be able to stay whole."""
        return [mask for mask, whole in self._whole.items() if whole]

    def cost(self, parts: Iterable[int]) -> int:
        """Effort of splitting the union of parts into just these parts."""
        parts = tuple(parts)
        union = sum(parts)
        return (
            self.inner(union)
            - sum(self.inner(part) for part in parts)
            + self.place_s * (len(parts) - 1)
        )

    def halves(self, window: int) -> list[tuple[int, int]]:
        """Return the different ways to cut a window along one plane; if none does, unit by unit."""
        found: dict[int, None] = {}
        for below in self.graph.planes:
            half = window & below
            if half and half != window:
                found[half] = None
        if not found:
            units = [unit for unit in self.graph.units if unit & window]
            found = dict.fromkeys(unit for unit in units if unit != window)
        return [(half, window & ~half) for half in found]

    def best(self, window: int) -> tuple[int, tuple[int, ...]]:
        """Return the least cost of a window and the parts it is cut into, none if left whole."""
        if window not in self._best:
            self._best[window] = self._solve(window)
        return self._best[window]

    def _solve(self, window: int) -> tuple[int, tuple[int, ...]]:
        apart = self.graph.components(window)
        if len(apart) > 1:
            return self._total(apart), tuple(apart)
        if self.whole(window):
            return 0, ()
        ways = sorted(
            (self.cost(pair), number, pair) for number, pair in enumerate(self.halves(window))
        )
        best: tuple[int, tuple[int, ...]] = (self.stuck_s, ())
        for cost, _, pair in ways:
            if cost >= best[0]:
                break
            total = cost + sum(self.best(half)[0] for half in pair)
            if total < best[0] or not best[1]:
                best = (total, pair)
        return best

    def _total(self, parts: Sequence[int]) -> int:
        return self.cost(parts) + sum(self.best(part)[0] for part in parts)

    def leaves(self, window: int) -> list[int]:
        """Return the sub-assemblies into which the cheapest cuts part a window."""
        todo, found = [window], []
        while todo:
            mask = todo.pop()
            parts = self.best(mask)[1]
            todo.extend(reversed(parts))
            if not parts:
                found.append(mask)
        return found

    def improved(self, parts: Sequence[int]) -> list[int]:
        """Return cheaper parts: two that may stay whole are merged, units change sides."""
        parts = list(parts)
        while (better := self._merged(parts) or self._shifted(parts)) is not None:
            parts = better
        return parts

    def _merged(self, parts: list[int]) -> list[int] | None:
        pairs = [pair for pair in combinations(parts, 2) if self.whole(pair[0] | pair[1])]
        if not pairs:
            return None
        one, two = max(pairs, key=self.cost)
        return [part | two if part == one else part for part in parts if part != two]

    def _shifted(self, parts: list[int]) -> list[int] | None:
        """Move one unit to the sub-assembly where that saves most, if any move does."""
        best, change = 0, None
        for unit in self.graph.units:
            home = next(part for part in parts if part & unit)
            if home == unit:
                continue
            rest = home & ~unit
            leaving = self.inner(home) - self.inner(rest)
            for part in parts:
                saved = self.inner(part | unit) - self.inner(part) - leaving
                if part != home and saved > best and self.whole(part | unit) and self.whole(rest):
                    best, change = saved, (home, rest, part, part | unit)
        if change is None:
            return None
        swap = {change[0]: change[1], change[2]: change[3]}
        return [swap.get(part, part) for part in parts]

    def result(self, parts: Iterable[int]) -> Split:
        """Return parts as a split, in the order of their first pieces."""
        ordered = sorted(parts, key=lambda mask: mask & -mask)
        stuck = sum(mask for mask in ordered if not self.whole(mask))
        return Split(
            sub_assemblies=tuple(self.graph.ids(mask) for mask in ordered),
            effort_s=self.cost(ordered),
            items=tuple(self.assembler.item_regardless(mask) for mask in ordered),
            stuck=self.graph.ids(stuck),
        )
