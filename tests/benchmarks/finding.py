"""Search a store of 20,000 pieces in 300 containers by misspelt names.

It prints how often the right part comes first, and how long a search takes: inside the library
from opening the store on, and as a whole command from the start of the program on.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from packdown.files import plan_json
from packdown.store.connection import Store
from packdown.store.finding import find
from packdown.store.individuals import describe
from packdown.store.moving import move
from packdown.store.stowing import stow
from support.collections_in_boxes import collection, misspelt


def fill(store: Store, num_pieces: int, num_boxes: int, num_parts: int) -> list[str]:
    """Fill a store, name some pieces and take some out; return the names of the parts."""
    plan, catalogue, names = collection(num_pieces, num_boxes, num_parts)
    stow(store, plan, plan_json(plan), catalogue=catalogue)
    for number in range(1, 21):
        describe(store, plan.pieces[number].id, name=f"The one with label {number}")
    move(store, ["box-1"], "out", event="Spring day")
    return names


class Times:
    """How long something took, each time: by the clock, and of the processor alone.

    Parameters
    ----------
    processor
        Tells the seconds of the processor that were used up so far.
    """

    def __init__(self, processor: Callable[[], float]) -> None:
        self._processor = processor
        self._clock: list[float] = []
        self._used: list[float] = []

    @contextmanager
    def one(self) -> Iterator[None]:
        """Measure once."""
        began, used = time.perf_counter(), self._processor()
        yield
        self._clock.append(time.perf_counter() - began)
        self._used.append(self._processor() - used)

    def __str__(self) -> str:
        told = []
        for what, times in (("by the clock", self._clock), ("of the processor", self._used)):
            late = statistics.quantiles(times, n=20)[18] * 1e3
            middle = statistics.median(times) * 1e3
            told.append(f"median {middle:.1f} ms, 95th percentile {late:.1f} ms {what}")
        return "; ".join(told)


def children_time() -> float:
    """Return the seconds of the processor that finished programs used up."""
    used = os.times()
    return used.children_user + used.children_system


def run() -> None:
    """Fill a store, search it, and print what came of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=20_000)
    parser.add_argument("--containers", type=int, default=300)
    parser.add_argument("--parts", type=int, default=800)
    parser.add_argument("--queries", type=int, default=200)
    asked = parser.parse_args()
    say = sys.stdout.write
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "packdown.db"
        store = Store(f"sqlite:///{path}")
        began = time.perf_counter()
        names = fill(store, asked.pieces, asked.containers, asked.parts)
        say(f"{asked.pieces} pieces of {asked.parts} parts in {asked.containers} containers, ")
        say(f"stowed in {time.perf_counter() - began:.1f} s, {path.stat().st_size / 1e6:.0f} MB\n")
        queries = list(misspelt(names, asked.queries))
        inside, right, wrong = Times(time.process_time), 0, []
        for typed, name in queries:
            with inside.one(), store.reading() as rows:
                hits = find(rows, typed, num_hits=8, num_places=4).hits
            if hits and hits[0].name == name:
                right += 1
            else:
                wrong.append((typed, name, hits[0].name if hits else "nothing"))
        say(f"right part first: {right} of {len(queries)}\n")
        for typed, name, found in wrong:
            say(f"  {typed!r} for {name!r} found {found!r}\n")
        say(f"inside the library: {inside}\n")
        whole = Times(children_time)
        for typed, _ in queries:
            command = ["find", *typed.split(), "--store", str(path)]
            with whole.one():
                subprocess.run(
                    [sys.executable, "-m", "packdown", *command], check=False, capture_output=True
                )
        say(f"the whole command: {whole}\n")


if __name__ == "__main__":
    run()
