"""Long work at the terminal: progress, a deadline, and Ctrl-C that keeps the best plan."""

import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from types import FrameType

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from packdown.cli.app import STARTED

__all__ = ["Run", "running"]

FIRST_SEARCH = 0.85
"""Share of the time for searching, as long as it is not known what the rest takes."""
MARGIN = 1.1
"""How much more than the first time finishing may take the second time, saving included."""


@dataclass
class Run:
    """What long work asks and tells while it goes on.

    Parameters
    ----------
    seconds
        When to be done, counted from the start of the program; None for no deadline.
    tell
        Told the share of the work done and how things stand.
    reserve
        Seconds that what comes after the search takes, once that is known.
    """

    seconds: float | None
    tell: Callable[[float, str], None]
    reserve: float | None = None
    interrupted: bool = False
    _start: float = field(default_factory=time.monotonic)

    def stop(self) -> bool:
        """Whether the deadline has passed or the user pressed Ctrl-C."""
        if self.seconds is None:
            return self.interrupted
        rest = (1 - FIRST_SEARCH) * self.seconds if self.reserve is None else self.reserve
        return self.interrupted or self.elapsed >= self.seconds - rest

    def rehearse(self, finish: Callable[[], object]) -> None:
        """Finish once, where there is a deadline, to learn how long that takes."""
        if self.seconds is not None:
            before = self.elapsed
            finish()
            self.reserve = MARGIN * (self.elapsed - before)

    @property
    def elapsed(self) -> float:
        """Seconds since the start."""
        return time.monotonic() - self._start

    def progress(self, share: float, words: str) -> None:
        """Show how far the work is; with a deadline, time counts rather than tries."""
        if self.seconds is not None:
            share = min(1.0, self.elapsed / self.seconds)
        self.tell(share, words)


@contextmanager
def running(
    console: Console, *, seconds: float | None, stopping: str = "the best plan is kept"
) -> Iterator[Run]:
    """Show progress while the body works; the first Ctrl-C asks it to stop, a second ends it."""
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn(),
        console=console, transient=True,
    )  # fmt: skip
    task = bar.add_task("reading", total=1.0)

    def tell(share: float, words: str) -> None:
        bar.update(task, completed=share, description=words)

    run = Run(seconds, tell, _start=STARTED)

    def interrupt(_signal: int, _frame: FrameType | None) -> None:
        if run.interrupted:
            raise KeyboardInterrupt
        run.interrupted = True
        tell(1.0, f"stopping, {stopping}")

    before = signal.signal(signal.SIGINT, interrupt)
    try:
        with bar:
            yield run
    finally:
        signal.signal(signal.SIGINT, before)
