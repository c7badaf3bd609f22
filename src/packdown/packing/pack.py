"""Packing a problem, and one container, under every rule."""

from collections.abc import Callable

from packdown.model import Container, Fill, Item, Packing, PackingProblem, Rules
from packdown.packing.kinds import kinds_of

__all__ = ["pack", "pack_one"]


def pack(
    problem: PackingProblem,
    *,
    effort: int,
    seed: int,
    stop: Callable[[], bool] | None = None,
    progress: Callable[[float], None] | None = None,
) -> Packing:
    """Pack items into containers.

    First the volume without a place is made small, then the number of containers in use, then
    their litres. The same problem, effort and seed give the same packing, unless stopped.

    Parameters
    ----------
    problem
        Items, containers and rules.
    effort
        Work to do, in multiples of one greedy packing; at least 1.
    seed
        Decides all that is random.
    stop
        Asked between trials; once true, the best packing so far is returned. The first greedy
        packing always finishes.
    progress
        Told the share of the work done, from 0 to 1.

    Raises
    ------
    ValueError
        If the effort is below 1.
    """
    if effort < 1:
        raise ValueError(f"effort must be at least 1, not {effort}")
    from packdown.packing.placements import fills_of  # noqa: PLC0415 - loads the compiled loops
    from packdown.packing.search import Search  # noqa: PLC0415 - loads the compiled loops

    kinds = kinds_of(problem)
    search = Search(kinds, seed, stop or (lambda: False))
    state = search.run(effort, progress or (lambda _: None))
    fills = fills_of(kinds, state.rows)
    packed = {placement.item for fill in fills for placement in fill.placements}
    return Packing(
        fills=fills, unpacked=tuple(item.id for item in problem.items if item.id not in packed)
    )


def pack_one(
    items: tuple[Item, ...], container: Container, rules: Rules, *, effort: int, seed: int
) -> Fill | None:
    """Pack all items into one container, or return None if that is not found.

    Parameters
    ----------
    items
        What must go into it; at least one.
    container
        The container; its payload counts as given, whatever stands on or under it.
    rules
        Support, weight limit and groups.
    effort
        Times that a batch of trial fills is made at most.
    seed
        Decides all that is random.
    """
    from packdown.packing.placements import fills_of  # noqa: PLC0415 - loads the compiled loops
    from packdown.packing.search import Search  # noqa: PLC0415 - loads the compiled loops

    kinds = kinds_of(PackingProblem(items=items, containers=(container,), rules=rules))
    rows = Search(kinds, seed, lambda: False).one(0, effort)
    return fills_of(kinds, {0: rows})[0] if len(rows) == len(items) else None
