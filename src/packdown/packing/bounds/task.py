"""The bounds of one task: things to be packed, containers and rules."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from functools import cached_property, reduce
from itertools import accumulate
from operator import and_

from packdown.model import Container, Rules, usable_payloads
from packdown.packing.bounds.cliques import Conflicts, conflicts, covering, largest
from packdown.packing.bounds.counting import Clique, Kind, Relaxation, Room
from packdown.packing.bounds.measures import Load, Measure
from packdown.packing.bounds.shapes import Site, Thing, site_of
from packdown.packing.bounds.tightest import in_line, scaled, slabs

__all__ = ["Row", "Sort", "Task"]

MEASURES = 6
"""Measures of room beside the volume."""
CLIQUES = 64
"""Cliques for each sort of container."""

Takes = tuple[int, ...]
"""What each thing takes of a container of one sort, in cubic micrometres."""
Row = tuple[Takes, ...]
"""The same for each sort, by one measure each."""


class Sort:
    """Containers that are alike in all but their tare and name.

    Parameters
    ----------
    site, payload_g
        What they are like.
    things, numbers
        What is to be packed, and how often.
    """

    def __init__(
        self, site: Site, payload_g: int, things: Sequence[Thing], numbers: Sequence[int]
    ) -> None:
        self.site, self.payload_g = site, payload_g
        self.fits = [thing.shape.fit(site) for thing in things]
        self.grown = Load(site.grown, tuple(fit.grown for fit in self.fits), tuple(numbers))
        self.bare = Load(site.room, tuple(fit.bare for fit in self.fits), tuple(numbers))
        self.conflicts: Conflicts = conflicts(things, self.fits, site, payload_g)
        self.mixed = site.clearance > 0 and not all(thing.shape.own_item for thing in things)

    @property
    def by_volume(self) -> Takes:
        """The certain volume of each thing."""
        return tuple(fit.volume_um3 for fit in self.fits)

    def by(self, measure: Measure, load: Load) -> Takes:
        """Return what each thing takes by a measure of one of the loads."""
        takes, inside = measure.takes(load), max(1, load.volume_um3)
        return tuple(one * self.site.volume_um3 // inside for one in takes)

    @cached_property
    def by_measures(self) -> list[Takes]:
        """What each thing takes by the measures that ask for more than the volume."""
        rows: dict[Takes, int] = {}
        for load in (self.grown, self.bare) if self.mixed else (self.grown,):
            for measure in scaled(load, [in_line(load), slabs(load)], MEASURES):
                takes = self.by(measure, load)
                rows[takes] = self._total(takes)
        more = [takes for takes in rows if rows[takes] > self._total(self.by_volume)]
        return sorted(more, key=lambda takes: -rows[takes])[:MEASURES]

    def _total(self, takes: Takes) -> int:
        return sum(one * number for one, number in zip(takes, self.grown.numbers, strict=True))

    @cached_property
    def cliques(self) -> list[list[int]]:
        """Things of which one of these containers holds one at most."""
        inside = sum(1 << index for index, fit in enumerate(self.fits) if fit.fits)
        rows = [row & inside if inside >> own & 1 else 0 for own, row in enumerate(self.conflicts)]
        return covering(rows, CLIQUES)


class Task:
    """Things to be packed, with what bounds the packing.

    Parameters
    ----------
    things
        How many there are of each.
    containers, rules
        What may be used, and how.
    """

    def __init__(
        self, things: Counter[Thing], containers: Sequence[Container], rules: Rules
    ) -> None:
        self.things, self.numbers = list(things), list(things.values())
        self.containers = containers
        payloads = usable_payloads(containers, rules)
        keys = [(site_of(container), payloads[container.id]) for container in containers]
        self.sorts = [Sort(*key, self.things, self.numbers) for key in dict.fromkeys(keys)]
        place = {key: index for index, key in enumerate(dict.fromkeys(keys))}
        self.sort_of = [place[key] for key in keys]

    @cached_property
    def rows(self) -> list[Row]:
        """The volume, and whatever measures ask for more; a sort without more has its volume."""
        number = max((len(sort.by_measures) for sort in self.sorts), default=0)
        padded = [
            [sort.by_volume, *sort.by_measures, *[sort.by_volume] * number][: number + 1]
            for sort in self.sorts
        ]
        return list(zip(*padded, strict=True))

    def fewest(self, rows: Sequence[Row]) -> int | None:
        """Return the fewest containers that hold what everything takes, or None if all do not."""
        if not self._all_fit:
            return None
        inside = [self.sorts[sort].site.volume_um3 for sort in self.sort_of]
        needed = [
            sum(
                number * min(row[s][k] for s, sort in enumerate(self.sorts) if sort.fits[k].fits)
                for k, number in enumerate(self.numbers)
            )
            for row in rows
        ]
        return _most([_fewest(need, inside) for need in needed])

    @property
    def _all_fit(self) -> bool:
        return all(any(sort.fits[k].fits for sort in self.sorts) for k in range(len(self.things)))

    def fewest_by_weight(self) -> int | None:
        """Return the fewest containers that carry everything, or None if all do not."""
        weight = sum(t.weight_g * n for t, n in zip(self.things, self.numbers, strict=True))
        return _fewest(weight, [self.sorts[sort].payload_g for sort in self.sort_of])

    def largest_clique(self) -> int:
        """Return how many things there are of which no two share a container."""
        if not self.sorts:
            return 0
        everywhere = [
            reduce(and_, rows) for rows in zip(*(s.conflicts for s in self.sorts), strict=True)
        ]
        return largest(everywhere, self.numbers)

    def least(self, limit: float) -> list[int] | None:
        """Return the least containers, volume and tare, or None if nothing works."""
        fewest = self.fewest_by_all()
        if fewest is None:
            return None
        relaxation = self.relaxation(fewest)
        figures = []
        for costs in (
            [1] * len(self.containers),
            [container.volume_um3 for container in self.containers],
            [container.tare_g for container in self.containers],
        ):
            least = relaxation.least(costs, limit)
            if least is None:
                return None
            figures.append(least)
        return [max(fewest, figures[0]), *figures[1:]]

    def fewest_by_all(self) -> int | None:
        """Return the most that is proved without a solver, or None if nothing works."""
        fewest = _most([self.fewest(self.rows), self.fewest_by_weight(), self.largest_clique()])
        return None if fewest is None or fewest > len(self.containers) else fewest

    def relaxation(self, fewest: int) -> Relaxation:
        """Return the counting model of all rows, weights, cliques and groups."""
        kinds = [self._kind(index) for index in range(len(self.things))]
        alike: dict[object, list[int]] = defaultdict(list)
        for index, container in enumerate(self.containers):
            alike[container.inner_um, container.tare_g, self.sort_of[index]].append(index)
        rooms = [
            Room(volume_um3=self.sorts[sort].site.volume_um3, payload_g=self.sorts[sort].payload_g)
            for sort in self.sort_of
        ]
        return Relaxation(
            dict(zip(kinds, self.numbers, strict=True)),
            rooms,
            alike.values(),
            [
                self._clique(site, clique, kinds)
                for site, sort in enumerate(self.sort_of)
                for clique in self.sorts[sort].cliques
            ],
            fewest,
        )

    def _kind(self, index: int) -> Kind:
        thing = self.things[index]
        return Kind(
            number=index,
            weight_g=thing.weight_g,
            takes_um3=tuple(tuple(row[sort][index] for sort in self.sort_of) for row in self.rows),
            fits=tuple(self.sorts[sort].fits[index].fits for sort in self.sort_of),
            apart=thing.apart,
            together=thing.together,
        )

    def _clique(self, site: int, clique: Sequence[int], kinds: Sequence[Kind]) -> Clique:
        found = self.sorts[self.sort_of[site]].conflicts
        single = {k for k in clique if self.numbers[k] == 1 or found[k] >> k & 1}
        return Clique(
            site=site,
            kinds=tuple(kinds[k] for k in clique if k in single),
            whole=tuple(kinds[k] for k in clique if k not in single),
        )


def _most(figures: Sequence[int | None]) -> int | None:
    """Return the largest of some lower bounds, or None if one says that nothing works."""
    known = [figure for figure in figures if figure is not None]
    return max(known, default=0) if len(known) == len(figures) else None


def _fewest(needed: int, supplies: Sequence[int]) -> int | None:
    held = accumulate(sorted(supplies, reverse=True), initial=0)
    return next((number for number, total in enumerate(held) if total >= needed), None)
