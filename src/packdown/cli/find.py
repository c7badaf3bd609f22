"""Commands that say where things are: find, show, where."""

from typing import Annotated

import typer

from packdown.cli.app import Json, app
from packdown.cli.stores import StoreAddress, open_store, print_json, print_lines

__all__ = ["find"]

HITS = 8
"""Hits that are shown unless all are asked for."""
PLACES = 4
"""Places of each."""
All = Annotated[bool, typer.Option("--all", help="Show everything that fits, and every place.")]


@app.command()
def find(
    words: Annotated[
        list[str],
        typer.Argument(help="A part, build, container, event or tag; typing errors are forgiven."),
    ],
    *,
    everything: All = False,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Say where something is: container, layer, place, and what must be lifted out first."""
    from packdown.report.whereabouts import found_data, found_lines
    from packdown.store import finding

    with open_store(store).reading() as rows:
        found = finding.find(
            rows,
            " ".join(words),
            num_hits=None if everything else HITS,
            num_places=None if everything or as_json else PLACES,
        )
    if as_json:
        print_json(found_data(found))
    elif found.hits:
        print_lines(found_lines(found))
    else:
        print_lines(["Nothing is called that, or anything like it."])
    if not found.hits:
        raise typer.Exit(1)


@app.command()
def show(
    container: Annotated[str, typer.Argument(help="Id, short id or name of a container.")],
    *,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """List what lies in a container, the highest layer first."""
    from packdown.report.listing import listing_lines
    from packdown.store.listing import list_container

    with open_store(store).reading() as rows:
        listing = list_container(rows, container)
    if as_json:
        print_json(listing)
    else:
        print_lines(listing_lines(listing))


@app.command()
def where(
    build: Annotated[list[str], typer.Argument(help="Id or name of a build.")],
    *,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """List the containers that a build is spread over, in the order in which to open them."""
    from packdown.report.listing import spread_lines
    from packdown.store.listing import spread_of

    with open_store(store).reading() as rows:
        spread = spread_of(rows, " ".join(build))
    if as_json:
        print_json(spread)
    else:
        print_lines(spread_lines(spread))
