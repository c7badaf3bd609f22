"""What is brought to the example event: time, worth, and whether looser limits ever bring less.

python -m benchmarks.events once
python -m benchmarks.events grid
"""

import sys
import time
from collections.abc import Iterator
from dataclasses import replace

from packdown.data import data_folder
from packdown.files import read_event, read_workspace
from packdown.model import Event, Limits, Workspace
from packdown.planning.bringing import DEFAULT_BRING_EFFORT, Demand, Packer, bring, choose
from packdown.verify import check_bringing, verify

FOLDER = data_folder("examples") / "ropeway"


def once(works: Workspace, event: Event) -> None:
    """Print what is brought with the usual effort, and how long it took."""
    wall, cpu = time.monotonic(), time.process_time()
    found = bring(works, event)
    wall, cpu = time.monotonic() - wall, time.process_time() - cpu
    sound = verify(found.plan).ok and not check_bringing(works, found)
    sys.stdout.write(
        f"worth {found.worth} (at most {found.worth_bound}), {found.musts} musts, "
        f"{'sound' if sound else 'NOT SOUND'}, {wall:.1f} s, {cpu:.1f} s of the processor\n"
    )
    for left in found.left:
        sys.stdout.write(f"  {left.pick.session} {left.pick.wish.build}: {left.reasons}\n")


def relaxed(limits: Limits) -> Iterator[tuple[str, Limits]]:
    """Yield limits of which one is looser each, with what was done."""
    weight, set_up, strike = limits.weight_g or 0, limits.set_up_s or 0, limits.strike_s or 0
    for grams in (250, 500, 1_000):
        yield f"weight + {grams} g", replace(limits, weight_g=weight + grams)
    for seconds in (60, 300):
        yield f"set up + {seconds} s", replace(limits, set_up_s=set_up + seconds)
    yield "strike + 300 s", replace(limits, strike_s=strike + 300)
    yield "a helper more", replace(limits, helpers=limits.helpers + 1)
    yield "a journey more", replace(limits, journeys=limits.journeys + 1)
    yield "no load space", replace(limits, load_space=None)
    yield "no number of containers", replace(limits, most_containers=None)
    yield "larger tables", replace(limits, table_um=None)


def grid(works: Workspace, event: Event) -> None:
    """Print the value under every relaxation, and those that are below the first."""
    packer = Packer()

    def value(limits: Limits) -> tuple[int, int]:
        demand = Demand(workspace=works, event=replace(event, limits=limits))
        return choose(demand, packer, effort=DEFAULT_BRING_EFFORT).value

    first = value(event.limits)
    sys.stdout.write(f"{first} as it is\n")
    for what, limits in relaxed(event.limits):
        found = value(limits)
        sys.stdout.write(f"{found} {what}{'' if found >= first else '  LESS'}\n")


def main() -> None:
    """Run what is asked."""
    works = read_workspace(FOLDER)
    event = read_event(FOLDER, "pass-days", works)
    {"once": once, "grid": grid}[sys.argv[1]](works, event)


if __name__ == "__main__":
    main()
