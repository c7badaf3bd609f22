"""Which joints to open so that what stays joined is strong enough.

What does not lie safely is split by the cheapest cuts, as if there were room for anything. Where
many pieces would make that long, it is first opened where it comes off, bends or collapses in the
way up in which it carries most; if that parts nothing, along the cheapest plane. Parts that are
strong enough together are then joined again, the dearest joints first.
"""

from collections.abc import Collection, Iterator
from itertools import combinations

from packdown.geometry import WayUp
from packdown.teardown.assembly import Assembler
from packdown.teardown.collapse import Collapse, collapse
from packdown.teardown.graph import BuildGraph, components, neighbours
from packdown.teardown.room import Room
from packdown.teardown.strength import hanging
from packdown.teardown.windows import Windows

__all__ = ["loosened"]

FAR = 10**9
#: For anything: what is split for it is split for its strength alone.
ANYWHERE = Room(size_um=(FAR, FAR, FAR), payload_g=FAR, steel=False)
#: So many pieces are cut by trying all planes, again and again.
FEW = 40


def loosened(assembler: Assembler, mask: int) -> list[int]:
    """Return the sub-assemblies that stay joined once enough joints are opened.

    Each lies safely in some way up, unless it is one unit, which fixed joints hold together.

    Parameters
    ----------
    assembler
        Says what lies safely.
    mask
        Pieces that joints hold together.
    """
    windows = Windows(assembler, (ANYWHERE,), assembler.settings.effort.place_s)
    todo, firm = [mask], []
    while todo:
        part = todo.pop()
        if any(assembler.safe_ways(part)):
            firm.append(part)
        elif part.bit_count() <= FEW:
            firm.extend(_cheapest(windows, part))
        elif len(parts := _opened(assembler, part)) > 1:
            todo.extend(parts)
        else:
            firm.append(part)
    return _joined_again(assembler, firm)


def _cheapest(windows: Windows, mask: int) -> list[int]:
    """Return the parts into which the cheapest cuts part a few pieces."""
    while True:
        parts = windows.leaves(mask)
        if windows.all_carried(parts):
            return parts


def _opened(assembler: Assembler, mask: int) -> list[int]:
    """Return the parts into which something weak falls; itself if it is one unit."""
    graph, shock = assembler.graph, assembler.settings.shock_factor
    if mask in graph.units:
        return [mask]
    ways = assembler.ways(mask) or (WayUp.UPRIGHT,)
    falls = {way: collapse(graph, mask, way, shock) for way in ways}
    way = max(falls, key=lambda way: falls[way].load)
    off = hanging(graph, mask, way, shock)
    for parts in (_without(graph, mask, falls[way]), _cut(graph, mask, off)):
        if len(parts) > 1:
            return parts
    cuts = (_cut(graph, mask, side) for side in _sides(graph, mask))
    return max(cuts, key=lambda parts: sum(map(graph.inner_effort, parts)))


def _without(graph: BuildGraph, mask: int, fall: Collapse) -> list[int]:
    """Return the parts that stay joined without the joints that give way, as far as they open."""
    giving = set(fall.joints)
    kept = [pair for pair, j in graph.joints if pair & mask == pair and j.id not in giving]
    kept += [pair for pair, j in graph.joints if pair & mask == pair and j.fixed]
    return components(mask, neighbours(len(graph.index), kept))


def _cut(graph: BuildGraph, mask: int, side: int) -> list[int]:
    """Return the parts on both sides of a cut; units stay whole, on the side of any of theirs."""
    whole = sum(unit for unit in graph.units if unit & side & mask)
    return [part for half in (whole & mask, mask & ~whole) for part in graph.components(half)]


def _sides(graph: BuildGraph, mask: int) -> Iterator[int]:
    """Yield one side of each plane through some pieces, and of each unit."""
    for side in (*graph.planes, *graph.units):
        if side & mask and mask & ~side:
            yield side & mask


def _joined_again(assembler: Assembler, parts: Collection[int]) -> list[int]:
    """Return fewer parts: two that lie safely together become one, the dearest joints first."""
    graph, parts = assembler.graph, list(parts)
    refused: set[int] = set()
    while True:
        inner = {part: graph.inner_effort(part) for part in parts}
        pairs = {
            one | two: graph.inner_effort(one | two) - inner[one] - inner[two]
            for one, two in combinations(parts, 2)
            if one | two not in refused and graph.is_connected(one | two)
        }
        for both in sorted(pairs, key=lambda both: (-pairs[both], both)):
            if any(assembler.safe_ways(both)):
                parts = [part for part in parts if not part & both] + [both]
                break
            refused.add(both)
        else:
            return sorted(parts, key=lambda part: part & -part)
