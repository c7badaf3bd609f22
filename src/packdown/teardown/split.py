"""Which joints to split, so that each sub-assembly fits some container at little effort."""

from collections.abc import Callable, Iterable

from packdown.model import Build, Container, Item, Rules, Settings
from packdown.teardown.assembly import Assembler
from packdown.teardown.least import first_parts, least
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
    stop: Callable[[], bool] = lambda: False,
) -> Split:
    """Choose the sub-assemblies of a build so that each fits some container at little effort.

    Windows of the build are cut in two along planes of its joints until all that is left whole
    fits; of all such cuts the cheapest are taken, then merged and exchanged where that saves
    more. From there the least-effort split is looked for, and proved as far as can be. No
    sub-assembly that collapses under its load is taken. Pieces held by fixed joints stay together,
    pieces that travel alone are parted from all others, and joints that are rather kept weigh more
    than their effort.

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
        Whether to look for the least-effort split. Without, the split is found several times
        faster and seldom costs more.
    stop
        Asked often; once true, the best so far is taken.
    """
    assembler = Assembler(wished(build), settings, key_weight_g)
    windows = Windows(assembler, rooms_of(containers, rules), rules.place_s, limit)
    parts = least(windows, stop).parts if refine else first_parts(windows)
    return windows.result(parts)
