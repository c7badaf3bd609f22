"""All tables of the packer in one run: ``cd tests && python -m benchmarks.packing_tables``.

On two free cores it takes about three hours; ``--share 0.1`` gives everything a tenth of the time.
"""

from typing import Annotated

import typer

from benchmarks import (
    compare_py3dbp,
    published,
    published_blocks,
    random_rules,
    scenery,
    small_groups,
)

app = typer.Typer(add_completion=False)


@app.command()
def run(
    share: Annotated[float, typer.Option(help="Share of the full time for each instance.")] = 1.0,
    largest: Annotated[int, typer.Option(help="Largest scenery beside py3dbp.")] = 1_000,
) -> None:
    """Print every table, with py3dbp on the same work beside ours."""
    for support in (0, 100):
        published_blocks.run(first=21, last=30, seconds=30 * share, support=support)
    published.bins(seconds=12 * share)
    scenery.anytime()
    compare_py3dbp.collections(seconds=15 * share, largest=largest)
    small_groups.run()
    random_rules.run()


if __name__ == "__main__":
    app()
