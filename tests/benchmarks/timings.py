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

    Raises
    ------
    RuntimeError
        If the program ends with a status other than 0; its words are in the message.
    """
    program = Path(sys.executable).parent / "packdown"
    environment = {**os.environ, "NUMBA_CACHE_DIR": str(cache)}
    done, seconds = timed(
        lambda: subprocess.run(
            [str(program), *arguments], env=environment, capture_output=True, text=True, check=False
        )
    )
    if done.returncode:
        raise RuntimeError(f"{' '.join(arguments)}: status {done.returncode}\n{done.stderr}")
    return seconds


@app.command()
def measure(
    repeats: Annotated[int, typer.Option(help="Later runs of each command.")] = 3,
) -> None:
    """Print the seconds of the demo and of some commands without any solving."""
    rows: list[tuple[object, ...]] = []
    with tempfile.TemporaryDirectory() as folder:
        cache = Path(folder) / "cache"
        demos = [Path(folder) / f"demo-{number}" for number in range(repeats + 1)]
        times = [seconds_of(["demo", str(demo)], cache) for demo in demos]
        rows.append(("demo", times[0], min(times[1:], default="-"), max(times[1:], default="-")))
        for arguments in (["--version"], ["--help"], ["check", str(demos[0])]):
            times = [seconds_of(arguments, cache) for _ in range(repeats + 1)]
            name = " ".join(argument for argument in arguments if argument != str(demos[0]))
            rows.append((name, times[0], min(times[1:], default="-"), max(times[1:], default="-")))
    show(
        "Seconds, process start included", ("command", "first", "later, least", "later, most"), rows
    )


if __name__ == "__main__":
    app()
