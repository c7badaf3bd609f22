"""Commands that say where things are: find, show, where."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packdown.cli.app import Json, app, talk
from packdown.cli.stores import StoreAddress, open_store, print_json, print_lines
from packdown.errors import UsageError

if TYPE_CHECKING:
    from packdown.store.connection import Rows
    from packdown.store.records import Hit

__all__ = ["find"]

All = Annotated[bool, typer.Option("--all", help="Show everything that fits, and every place.")]


@app.command()
def find(
    words: Annotated[
        list[str],
        typer.Argument(help="A part, build, container, event or tag; typing errors are forgiven."),
    ],
    *,
    everything: All = False,
    output: Annotated[
        Path | None, typer.Option("-o", "--output", help="Draw it: a file .svg or .html.")
    ] = None,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Say where something is: container, layer, place, and what must be lifted out first."""
    from packdown.report.searching import search_store

    text, found = search_store(" ".join(words), store, everything=everything, as_json=as_json)
    sys.stdout.write(text)
    if not found.hits:
        raise typer.Exit(1)
    if output:
        with open_store(store).reading() as rows:
            _draw(rows, found.hits[0], output)


def _draw(rows: "Rows", hit: "Hit", output: Path) -> None:
    """Draw where a hit is: its first place, or all of them on a page."""
    from packdown.files import parse_plan, write_text
    from packdown.report.found import found_drawing, found_page, spots_of
    from packdown.store.documents import plan_document
    from packdown.store.places import present_items

    kind = output.suffix.lower()
    if kind not in {".svg", ".html", ".htm"}:
        raise UsageError(f"{output.name}: expected a file .svg or .html")
    boxes = {place.box.id for place in hit.places if place.box}
    texts = {box: text for box in boxes if (text := plan_document(rows, box))}
    parsed = {text: parse_plan(text, "the stowed plan") for text in set(texts.values())}
    plans = {box: parsed[text] for box, text in texts.items()}
    present = {box: present_items(rows, box) for box in boxes}
    spots = spots_of(hit.places, plans, present)
    if not spots:
        raise UsageError(f"{hit.name} lies in no known place, so it cannot be drawn")
    drawn = found_drawing(spots[0]) if kind == ".svg" else found_page(hit, spots)
    write_text(drawn, output)
    talk().print(f"Drawing: {output}", markup=False)


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
