"""Splitting and packing apart or together: ``cd tests && python -m benchmarks.equal_time``.

Each collection has the fewest containers in which the whole search places everything in the time
that all three get: every build split with the least effort and then packed, again and again;
repair alone, from the same start with other random choices; and the search as the planner runs it.
"""

import random
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Annotated

import typer

from benchmarks.plain import show, warm_up
from packdown.files.defaults import read_defaults
from packdown.geometry import volume
from packdown.model import Build, Prefer, Workspace
from packdown.planning.job import Job, Partition
from packdown.planning.pack_up import Search
from packdown.planning.state import State
from packdown.planning.whole_job import least_effort_split
from support.grown_builds import SHAPES, grown_build
from support.small import crate, loose, tile, wall

ENDLESS = 10**9
SIZE = (346, 265, 174)  # millimetres
MOST = 12

app = typer.Typer(add_completion=False)


def collection(seed: int, containers: int) -> Workspace:
    """Return five builds of all shapes, loose tiles and walls, and equal crates."""
    rng = random.Random(seed)
    settings = read_defaults().settings
    return Workspace(
        name=f"Collection {seed}",
        settings=settings,
        parts=(tile(), wall()),
        loose=(*loose(tile(), rng.randint(10, 30)), *loose(wall(), rng.randint(10, 30))),
        builds=tuple(
            _named(
                grown_build(shape, rng.randint(20, 60), settings, seed=10 * seed + number), shape
            )
            for number, shape in enumerate(SHAPES)
        ),
        containers=tuple(
            crate(f"crate-{number}", *SIZE, clearance_um=1_000) for number in range(containers)
        ),
        key_weight_g=1,
    )


def _named(build: Build, name: str) -> Build:
    """Return a build by another name, so that several can be in one collection."""

    def renamed(piece: str) -> str:
        return f"{name}/{piece.partition('/')[2]}"

    return replace(
        build,
        id=name,
        name=name,
        pieces=tuple(replace(p, id=renamed(p.id), build=name) for p in build.pieces),
        joints=tuple(
            replace(
                j,
                id=f"{name}/{j.id.partition('/')[2]}",
                pieces=(renamed(j.pieces[0]), renamed(j.pieces[1])),
            )
            for j in build.joints
        ),
    )


class Apart(Search):
    """Packs the start, harder and harder."""

    def run(self, start: Partition) -> State:
        """Return the best packing of the start."""
        best = self._packed(start, 1)
        while not (best.complete or self._over):
            best = min(best, self._packed(start, 8), key=lambda state: state.score)
        return best


class Repair(Search):
    """Splits further until all fits, from the start again and again."""

    def run(self, start: Partition) -> State:
        """Return the best repaired state."""
        first = self._evaluate(start)
        best = self._repaired(first, ENDLESS)
        while not self._over:
            self._tried.clear()
            best = min(best, self._repaired(first, ENDLESS), key=lambda state: state.score)
        return best


def searched(kind: type[Search], workspace: Workspace, seconds: float, seed: int) -> State:
    """Run one kind of search on a collection for so long."""
    job = Job(workspace=workspace, containers=workspace.containers)
    start = least_effort_split(job)
    end = time.monotonic() + seconds
    search = kind(
        job=job,
        prefer=Prefer.REBUILD,
        seed=seed,
        effort=ENDLESS,
        stop=lambda: time.monotonic() > end,
        progress=lambda _share, _words: None,
    )
    return search.run(start)


def tightest(seed: int, seconds: float) -> int:
    """Return the fewest crates into which the whole search brings a collection in the time."""
    inside = collection(seed, 1).containers[0].volume_um3
    job = Job(workspace=collection(seed, 1), containers=())
    solid = sum(volume(p.core_um) for b in job.builds for p in b.pieces)
    solid += sum(volume(piece.core_um) for piece in job.workspace.loose)
    for number in range(-(-solid // inside), MOST):
        if searched(Search, collection(seed, number), seconds, seed).complete:
            return number
    raise AssertionError(f"collection {seed} needs {MOST} crates or more")


@app.command()
def run(
    number: Annotated[int, typer.Option(help="How many collections.")] = 5,
    seconds: Annotated[float, typer.Option(help="Time for each search.")] = 15.0,
) -> None:
    """Print what each kind of search leaves out, and the effort it takes."""
    warm_up()
    kinds: dict[str, type[Search]] = {"apart": Apart, "repair": Repair, "together": Search}
    rows: list[tuple[object, ...]] = []
    for seed in range(number):
        crates = tightest(seed, seconds)
        workspace = collection(seed, crates)
        job = Job(workspace=workspace, containers=workspace.containers)
        states = [searched(kind, workspace, seconds, seed) for kind in kinds.values()]
        rows.append((seed, crates, *map(_words(job), states)))
    show(
        f"{number} collections at their tightest, {seconds:g} s for each search",
        ("collection", "crates", *kinds),
        rows,
        "Seconds of effort to split and rebuild, or how many items are left without a place.",
    )


def _words(job: Job) -> Callable[[State], str]:
    def words(state: State) -> str:
        if state.complete:
            return f"{job.cost_s(state.partition)} s"
        return f"{len(state.missing)} left"

    return words


if __name__ == "__main__":
    app()
