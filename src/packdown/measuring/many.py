"""Many mesh files at once, by several processes."""

import os
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path

from packdown.errors import InputError, Problem, UsageError
from packdown.measuring.measure import How, Measured, measure_file
from packdown.measuring.reading import KINDS

__all__ = ["MAX_FILES", "find_files", "measure_files"]

Outcome = Measured | Problem
MAX_FILES = 10_000
FEW_BYTES = 30 * 2**20
"""Starting processes takes longer than measuring so little."""


def find_files(named: Iterable[Path]) -> tuple[Path, ...]:
    """Return the files that are named, and all mesh files in the folders that are named.

    Raises
    ------
    UsageError
        If a folder holds none, or there are too many.
    """
    found: dict[Path, None] = {}
    for path in named:
        inside = [path]
        if path.is_dir():
            inside = sorted(
                each for each in path.rglob("*") if each.suffix.lower().removeprefix(".") in KINDS
            )
            if not inside:
                raise UsageError(
                    f"{path} holds no mesh files", hint=f"known kinds: {', '.join(KINDS)}"
                )
        found.update(dict.fromkeys(inside))
        if len(found) > MAX_FILES:
            raise UsageError(f"these are more than {MAX_FILES:,} files", hint="name fewer folders")
    return tuple(found)


def measure_files(
    files: Sequence[Path],
    how: How,
    *,
    jobs: int | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> Iterator[tuple[int, Outcome]]:
    """Measure files and yield each result with the number of its file, as they come.

    Parameters
    ----------
    files
        What to measure.
    how
        How to measure.
    jobs
        How many processes work; None for one a core, or none but this where there is little to do.
    stop
        Asked now and then; once it says so, what was begun is finished and the rest left out.
    """
    count = min(jobs or _cores(), len(files))
    few = jobs is None and sum(_size(path) for path in files) < FEW_BYTES
    if count <= 1 or few:
        for number, path in enumerate(files):
            if stop():
                return
            yield number, _outcome(path, how)
        return
    context = get_context("spawn")
    with ProcessPoolExecutor(count, mp_context=context, initializer=_begin) as pool:
        yield from _by_pool(pool, files, how, stop)


def _by_pool(
    pool: ProcessPoolExecutor, files: Sequence[Path], how: How, stop: Callable[[], bool]
) -> Iterator[tuple[int, Outcome]]:
    waiting: dict[Future[Outcome], int] = {
        pool.submit(_outcome, path, how): number for number, path in enumerate(files)
    }
    while waiting:
        if stop():
            pool.shutdown(wait=False, cancel_futures=True)
            waiting = {future: number for future, number in waiting.items() if future.running()}
        done, _ = wait(waiting, timeout=0.2, return_when=FIRST_COMPLETED)
        for future in done:
            number = waiting.pop(future)
            yield number, _result(future, files[number])


def _result(future: "Future[Outcome]", path: Path) -> Outcome:
    try:
        return future.result()
    except BrokenProcessPool:
        return Problem(
            file=str(path),
            entry="",
            message="was not measured: a process ended before its time",
            hint="was it out of memory? measure the large files one by one, with --jobs 1",
        )


def _outcome(path: Path, how: How) -> Outcome:
    try:
        return measure_file(path, how)
    except InputError as error:
        return error.problems[0]


def _begin() -> None:
    """Leave Ctrl-C to the process that hands out the files."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _cores() -> int:
    return os.cpu_count() or 1


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0
