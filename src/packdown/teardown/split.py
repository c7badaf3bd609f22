"""Which joints to split: the cheapest guillotine cuts of a build, by dynamic programming."""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from packdown.model import Build, Container, Item, Rules, Settings
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import bits, graph_of
from packdown.teardown.room import Room, rooms_of

__all__ = ["Split", "cuts", "effort_of", "joinable", "split"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A way to split a build, or a part of one, into sub-assemblies.

    Parameters
    ----------
    sub_assemblies
        Piece ids of each sub-assembly in the order of the build.
    effort_s
        Seconds for the split joints and for placing every sub-assembly but the first.
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

    def _allowed(self, mask: int) -> bool:
        if self.limit is None:
            return True
        item = self.assembler.item(mask)
        return item is not None and self.limit(item)

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
        """Return the different ways to cut a window along one plane, none empty."""
        found: dict[int, None] = {}
        for below in self.graph.planes:
            half = window & below
            if half and half != window:
                found[half] = None
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


def split(
    build: Build,
    containers: Iterable[Container],
    settings: Settings,
    rules: Rules,
    key_weight_g: int,
    *,
    limit: Callable[[Item], bool] | None = None,
) -> Split:
    """Choose the sub-assemblies of a build so that each fits some container at little effort.

    Windows of the build are cut in two along planes of its joints until all that is left whole
    fits; of all such cuts the cheapest are taken, then merged and exchanged where that saves
    more. Pieces held by fixed joints stay together.

    Parameters
    ----------
    build
        The build.
    containers
        What there is to pack into.
    settings
        Shock factor and tolerance of the joints.
    rules
        Weight limit, and the seconds that one more sub-assembly costs.
    key_weight_g
        Weight of one key.
    limit
        Called with an item that fits; where it says False, the item is split further.
    """
    assembler = Assembler(build, settings, key_weight_g)
    windows = Windows(assembler, rooms_of(containers, rules), rules.place_s, limit)
    return windows.result(windows.improved(windows.leaves(windows.graph.all)))


def cuts(
    build: Build,
    piece_ids: Collection[str],
    settings: Settings,
    rules: Rules,
    key_weight_g: int,
    *,
    most: int = 8,
) -> tuple[Split, ...]:
    """Return the cheapest different ways to split one sub-assembly in two.

    Tried are the planes of its joints, and taking off each piece that holds by itself.

    Parameters
    ----------
    build, piece_ids
        The build, and the pieces of the sub-assembly.
    settings, rules, key_weight_g
        As for `split`.
    most
        Number of ways wanted.

    Returns
    -------
    tuple of Split
        By rising effort, which is what the split adds; both halves can be assembled.
    """
    assembler = Assembler(build, settings, key_weight_g)
    windows = Windows(assembler, (), rules.place_s)
    whole = windows.graph.mask(piece_ids)
    singles = [(unit, whole & ~unit) for unit in windows.graph.units if unit & whole == unit]
    pairs = {min(pair): pair for pair in windows.halves(whole) + singles if all(pair)}
    ordered = sorted(pairs.values(), key=lambda pair: (windows.cost(pair), pair))
    found: list[Split] = []
    for pair in ordered:
        items = [assembler.item(half) for half in sorted(pair, key=lambda mask: mask & -mask)]
        if all(items):
            made = tuple(item for item in items if item)
            found.append(
                Split(
                    sub_assemblies=tuple(item.pieces for item in made),
                    effort_s=windows.cost(pair),
                    items=made,
                )
            )
        if len(found) == most:
            break
    return tuple(found)


def effort_of(build: Build, sub_assemblies: Sequence[Collection[str]], place_s: int) -> int:
    """Return the seconds a partition of a build costs: split joints and places after the first."""
    graph = graph_of(build)
    kept = sum(graph.inner_effort(graph.mask(part)) for part in sub_assemblies)
    return graph.inner_effort(graph.all) - kept + place_s * (len(sub_assemblies) - 1)


def joinable(
    build: Build, sub_assemblies: Sequence[Collection[str]], place_s: int
) -> tuple[tuple[int, int, int], ...]:
    """Return which two sub-assemblies share joints, and the seconds saved by not splitting them.

    Returns
    -------
    tuple of (int, int, int)
        Places in `sub_assemblies` and the effort saved, most first.
    """
    graph = graph_of(build)
    owner = {i: n for n, part in enumerate(sub_assemblies) for i in bits(graph.mask(part))}
    saved: dict[tuple[int, int], int] = {}
    for pair, joint in graph.joints:
        ends = [owner.get(i) for i in bits(pair)]
        if None not in ends and ends[0] != ends[1]:
            a, b = sorted(end for end in ends if end is not None)
            saved[a, b] = saved.get((a, b), place_s) + joint.effort_s
    found = [(a, b, effort) for (a, b), effort in saved.items()]
    return tuple(sorted(found, key=lambda entry: (-entry[2], entry)))
