"""Splits and bounds of small builds: ``cd tests && python -m benchmarks.small_builds``.

They are compared with all partitions, each from a cold start. A bound above the optimum, or a split
below it, is an error.
"""

from collections import Counter
from typing import Annotated

import typer

from benchmarks.plain import show, timed
from packdown.teardown.least import forget
from support.teardown_oracle import against_every_partition

app = typer.Typer(add_completion=False)


@app.command()
def run(
    number: Annotated[int, typer.Option(help="How many builds.")] = 500,
    most: Annotated[int, typer.Option(help="Most pieces of a build; the least is 4.")] = 9,
) -> None:
    """Print how many splits and bounds are the optimum over all partitions."""
    met: Counter[str] = Counter()

    def compare() -> None:
        for seed in range(number):
            forget()
            met.update(against_every_partition(10_000 + seed, 4 + seed % (most - 3)))

    _, seconds = timed(compare)
    show(
        f"{number} random builds of 4 to {most} pieces against every partition",
        ("builds", "some partition fits", "split least", "bound exact", "joints exact"),
        [(number, met["all"], met["split"], met["bound"], met["joints"])],
        f"{seconds:.0f} s. No bound was above the optimum, no split below it.",
    )


if __name__ == "__main__":
    app()
