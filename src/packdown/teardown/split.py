"""Which joints to split, so that each sub-assembly fits some container at little effort."""

from collections.abc import Callable, Iterable

from packdown.model import Build, Container, Item, Rules, Settings
from packdown.teardown.assembly import Assembler
from packdown.teardown.choose import choose
from packdown.teardown.columns import columns_of
from packdown.teardown.room import rooms_of
from packdown.teardown.windows import Split, Windows
from packdown.teardown.wishes import wished

__all__ = ["split"]


def split(
    build: Build,
    containers: Iterable[Container],
    settings: Settings,
    rules: Rules,
    key_weight_g: int,
    *,
    limit: Callable[[Item], bool] | None = None,
    refine: bool = True,
) -> Split:
    """Choose the sub-assemblies of a build so that each fits some container at little effort.

    Windows of the build are cut in two along planes of its joints until all that is left whole
    fits; of all such cuts the cheapest are taken, then merged and exchanged where that saves
    more. What is chosen is then proved to carry its load; sub-assemblies that collapse are left
    out, and the choice is made anew. Pieces held by fixed joints stay together, pieces that travel
    alone are parted from all others, and joints that are rather kept weigh more than their effort.

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
    refine
        Whether to choose anew by column generation where the bound says it may pay. Without,
        the split is found several times faster and seldom costs more.
    """
    assembler = Assembler(wished(build), settings, key_weight_g)
    windows = Windows(assembler, rooms_of(containers, rules), rules.place_s, limit)
    while True:
        parts = windows.improved(windows.leaves(windows.graph.all))
        carried = windows.all_carried(parts)
        if carried and refine:
            parts = _refined(windows, parts)
            carried = windows.all_carried(parts)
        if carried:
            return windows.result(parts)


def _refined(windows: Windows, parts: list[int]) -> list[int]:
    """Choose anew among all sets that turned up, where the bound says it may pay."""
    graph, place_s = windows.graph, windows.place_s
    if not windows.rooms or len(parts) == 1:
        return parts
    columns = columns_of(windows.assembler, windows.rooms, place_s)
    gap = windows.cost(parts) - columns.bound_s
    if gap <= 0:
        return parts
    tried = columns.within(gap)
    pool = [part for part in (*tried, *windows.seen()) if windows.whole(part)]
    return windows.improved(choose(graph, pool, parts, place_s))
