"""How long a first and a later run take: ``cd tests && python -m benchmarks.timings``.

A first run compiles the packer's loops into an empty cache; a later one finds them there.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Annotated

import typer

from benchmarks.plain import show, timed

app = typer.Typer(add_completion=False)


def seconds_of(arguments: list[str], cache: Path) -> float:
    """Return the seconds that the program takes in a process of its own.

    Status 1 is an answer (something does not fit) and counts as done.

    Raises
    ------
    RuntimeError
        If the program fails; its words are in the message.
    """
    program = Path(sys.executable).parent / "packdown"
    environment = {**os.environ, "NUMBA_CACHE_DIR": str(cache)}
    done, seconds = timed(
        lambda: subprocess.run(
            [str(program), *arguments], env=environment, capture_output=True, text=True, check=False
        )
    )
    if done.returncode not in {0, 1} or "Traceback" in done.stderr:
        raise RuntimeError(f"{' '.join(arguments)}: status {done.returncode}\n{done.stderr}")
    return seconds


def row(name: str, times: list[float]) -> tuple[object, ...]:
    """Return the first of some times, and the least and most of the others."""
    first, *later = times
    return (name, first, min(later), max(later))


@app.command()
def measure(
    repeats: Annotated[int, typer.Option(min=1, help="Later runs of each command.")] = 3,
) -> None:
    """Print the seconds of the demo and of some commands without any solving."""
    with tempfile.TemporaryDirectory() as folder:
        cache = Path(folder) / "cache"
        demos = [Path(folder) / f"demo-{number}" for number in range(repeats + 1)]
        rows = [row("demo", [seconds_of(["demo", str(demo)], cache) for demo in demos])]
        for name, *arguments in (["--version"], ["--help"], ["check", str(demos[0])]):
            times = [seconds_of([name, *arguments], cache) for _ in demos]
            rows.append(row(name, times))
    show(
        "Seconds, process start included", ("command", "first", "later, least", "later, most"), rows
    )


if __name__ == "__main__":
    app()
