"""Which joints to split, so that each sub-assembly fits some container at little effort."""

from collections.abc import Callable, Iterable
from enum import Enum

from packdown.model import Build, Container, Item, Rules, Settings
from packdown.teardown.assembly import Assembler
from packdown.teardown.least import first_parts, least, straight_parts
from packdown.teardown.room import rooms_of
from packdown.teardown.windows import Split, Windows
from packdown.teardown.wishes import wished

__all__ = ["Aim", "split"]


class Aim(Enum):
    """What split is asked for.

    Attributes
    ----------
    LEAST
        That of least effort.
    QUICK
        One that is found several times faster and seldom costs more.
    STRAIGHT
        The best of straight cuts, each right through what it parts.
    """

    LEAST = "least"
    QUICK = "quick"
    STRAIGHT = "straight"


def split(
    build: Build,
    containers: Iterable[Container],
    settings: Settings,
    rules: Rules,
    key_weight_g: int,
    *,
    limit: Callable[[Item], bool] | None = None,
    aim: Aim = Aim.LEAST,
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
    aim
        How far to go.
    stop
        Asked often; once true, the best so far is taken.
    """
    assembler = Assembler(wished(build), settings, key_weight_g)
    windows = Windows(assembler, rooms_of(containers, rules), rules.place_s, limit)
    if aim is Aim.LEAST:
        return windows.result(least(windows, stop).parts)
    return windows.result((first_parts if aim is Aim.QUICK else straight_parts)(windows))
