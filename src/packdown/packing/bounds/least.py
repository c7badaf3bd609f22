"""Lower bounds on containers, litres and weight that hold for every plan, however it splits."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from packdown.model import Container, PackingProblem, Piece, Rules
from packdown.packing.bounds.shapes import Thing, shape_of_item, shape_of_piece
from packdown.packing.bounds.task import Task
from packdown.packing.bounds.tightest import in_line, slabs

__all__ = [
    "NamedBounds",
    "PackingBounds",
    "container_bounds",
    "item_bounds",
    "named_bounds",
    "things_of",
]

LIMIT = 0.2
"""Deterministic time for each of the three figures, roughly in seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingBounds:
    """Figures below which no plan that packs every piece can be.

    Parameters
    ----------
    containers
        Number of containers used.
    volume_um3
        Their inner volume, in cubic micrometres.
    weight_g
        Weight of the packed containers, tares included.
    feasible
        False only if it is proved that no plan packs every piece; the figures are then 0.
    """

    containers: int
    volume_um3: int
    weight_g: int
    feasible: bool


def container_bounds(
    pieces: Sequence[Piece],
    containers: Sequence[Container],
    rules: Rules,
    *,
    bagged: Collection[str] | None = None,
    limit: float = LIMIT,
) -> PackingBounds:
    """Return lower bounds that hold for every plan that packs all pieces, however it splits.

    Parameters
    ----------
    pieces
        Every piece to be packed, of builds and loose. Cores of one build share no volume.
    containers
        What may be used.
    rules
        Weight limit and groups.
    bagged
        Ids of the loose pieces that go into bags; None if that is not known and any of them may.
        A bag is no smaller than what is in it, but may lie as its pieces may not.
    limit
        Deterministic time for each figure. A small limit weakens the bounds, never breaks them.

    Notes
    -----
    A plan must put each piece into one container in which it fits alone, in an allowed way up and
    with clearance. Certain volumes (cores, inflated by the clearance where a piece is an item of
    its own) and weights add up to no more than a container holds, and so do volumes scaled by
    dual feasible functions. Of pieces that have no room beside each other, or are too heavy
    together, a container holds one. Of pieces to be kept apart it has at most one, unless they
    can be in the same item. Weights of keys are left out.
    """
    apart, together = _memberships(rules.keep_apart), _memberships(rules.keep_together)
    things: Counter[Thing] = Counter()
    for piece in pieces:
        bag = piece.build is None and (bagged is None or piece.id in bagged)
        shape = shape_of_piece(piece, bag=bag)
        unit = None if shape.own_item else piece.build or ""
        thing = Thing(
            shape=shape,
            weight_g=piece.weight_g,
            apart=tuple((group, unit) for group in apart[piece.id]),
            together=tuple(together[piece.id]),
        )
        things[thing] += 1
    return _bounds(Task(things, containers, rules), limit)


def item_bounds(problem: PackingProblem, *, limit: float = LIMIT) -> PackingBounds:
    """Return lower bounds for every packing that leaves out no item of a problem.

    Parameters
    ----------
    problem
        Items, containers and rules; support, loads and the order of need are not looked at.
    limit
        Deterministic time for each figure. A small limit weakens the bounds, never breaks them.
    """
    return _bounds(Task(Counter(things_of(problem)), problem.containers, problem.rules), limit)


def _bounds(task: Task, limit: float) -> PackingBounds:
    figures = task.least(limit)
    if figures is None:
        return PackingBounds(containers=0, volume_um3=0, weight_g=0, feasible=False)
    load = sum(thing.weight_g * n for thing, n in zip(task.things, task.numbers, strict=True))
    return PackingBounds(
        containers=figures[0], volume_um3=figures[1], weight_g=figures[2] + load, feasible=True
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedBounds:
    """Lower bounds on the number of containers for some items, each by one argument alone.

    Parameters
    ----------
    volume, weight
        What all items take, against what the largest containers hold.
    l1, l2
        Items in line, and slabs: Martello, S., Pisinger, D., Vigo, D. (2000), Operations Research
        48(2), 256-267. An item counts by the way it may lie in which it takes least.
    dual_feasible
        The best volume scaled by dual feasible functions; never below `l2` for one sort of
        container.
    clique
        Items of which no two share a container.
    """

    volume: int
    weight: int
    l1: int
    l2: int
    dual_feasible: int
    clique: int

    @property
    def best(self) -> int:
        """The largest of them."""
        return max(self.volume, self.weight, self.l2, self.dual_feasible, self.clique)


def named_bounds(problem: PackingProblem) -> NamedBounds | None:
    """Return each lower bound on the number of containers by itself, without a solver.

    Returns
    -------
    NamedBounds or None
        None if one of them proves that the containers do not hold all items.
    """
    task = Task(Counter(things_of(problem)), problem.containers, problem.rules)
    line = tuple(sort.by(in_line(sort.grown), sort.grown) for sort in task.sorts)
    slab = tuple(sort.by(slabs(sort.grown), sort.grown) for sort in task.sorts)
    figures = {
        "volume": task.fewest(task.rows[:1]),
        "weight": task.fewest_by_weight(),
        "l1": task.fewest([line]),
        "l2": task.fewest([line, slab]),
        "dual_feasible": task.fewest(task.rows),
        "clique": task.largest_clique(),
    }
    numbers = {name: figure for name, figure in figures.items() if figure is not None}
    if len(numbers) < len(figures) or max(numbers.values()) > len(problem.containers):
        return None
    return NamedBounds(**numbers)


def things_of(problem: PackingProblem) -> list[Thing]:
    """Return each item of a problem as the bounds see it."""
    rules = problem.rules
    apart, together = _memberships(rules.keep_apart), _memberships(rules.keep_together)
    return [
        Thing(
            shape=shape_of_item(item),
            weight_g=item.weight_g,
            apart=tuple(sorted({(group, None) for piece in item.pieces for group in apart[piece]})),
            together=tuple(sorted({group for piece in item.pieces for group in together[piece]})),
        )
        for item in problem.items
    ]


def _memberships(groups: Iterable[Collection[str]]) -> defaultdict[str, list[int]]:
    member: defaultdict[str, list[int]] = defaultdict(list)
    for index, group in enumerate(groups):
        for piece in set(group):
            member[piece].append(index)
    return member
