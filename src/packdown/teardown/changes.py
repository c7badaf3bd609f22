"""Changes to a split: what two halves, or one sub-assembly less, would cost."""

from collections.abc import Collection, Sequence

from packdown.model import Build, Rules, Settings
from packdown.teardown.assembly import Assembler
from packdown.teardown.graph import bits, graph_of
from packdown.teardown.windows import Split, Windows
from packdown.teardown.wishes import wished

__all__ = ["cost_of", "cuts", "effort_of", "joinable"]


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
    assembler = Assembler(wished(build), settings, key_weight_g)
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


def cost_of(build: Build, sub_assemblies: Sequence[Collection[str]], place_s: int) -> int:
    """Return what a partition weighs in choosing: its effort, and more for joints rather kept.

    The joints of pieces that travel alone, which no choice spares, are left out.
    """
    return effort_of(wished(build), sub_assemblies, place_s)


def joinable(
    build: Build, sub_assemblies: Sequence[Collection[str]], place_s: int
) -> tuple[tuple[int, int, int], ...]:
    """Return which two sub-assemblies share joints, and the seconds saved by not splitting them.

    Joints that are rather kept count for more, and those of pieces that travel alone not at all.

    Returns
    -------
    tuple of (int, int, int)
        Places in `sub_assemblies` and the effort saved, most first.
    """
    graph = graph_of(wished(build))
    owner = {i: n for n, part in enumerate(sub_assemblies) for i in bits(graph.mask(part))}
    saved: dict[tuple[int, int], int] = {}
    for pair, joint in graph.joints:
        ends = [owner.get(i) for i in bits(pair)]
        if None not in ends and ends[0] != ends[1]:
            a, b = sorted(end for end in ends if end is not None)
            saved[a, b] = saved.get((a, b), place_s) + joint.effort_s
    found = [(a, b, effort) for (a, b), effort in saved.items()]
    return tuple(sorted(found, key=lambda entry: (-entry[2], entry)))
