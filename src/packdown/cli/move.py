"""Commands that change what is where by hand, and take changes back."""

from typing import Annotated

import typer

from packdown.cli.app import Json, app, talk
from packdown.cli.stores import StoreAddress, open_store, print_json, print_lines

__all__ = ["move"]


@app.command()
def move(
    pieces: Annotated[
        list[str],
        typer.Argument(help="Pieces, items, builds, parts, or a container for all that is in it."),
    ],
    *,
    to: Annotated[str, typer.Option("--to", metavar="CONTAINER", help="Container, or out.")],
    source: Annotated[
        str | None, typer.Option("--from", metavar="CONTAINER", help="Only out of this container.")
    ] = None,
    number: Annotated[int | None, typer.Option("--number", min=1, help="How many of each.")] = None,
    event: Annotated[
        str | None, typer.Option("--event", help="What they are out for, with --to out.")
    ] = None,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Record what was moved by hand, into a container or out."""
    from packdown.report.moving import moved_lines
    from packdown.store import moving

    moved = moving.move(open_store(store), pieces, to, source=source, number=number, event=event)
    if as_json:
        print_json(moved)
    else:
        print_lines(moved_lines(moved))


@app.command()
def history(
    *,
    limit: Annotated[int, typer.Option("--limit", min=1, help="How many changes.")] = 20,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """List the changes of the store, the newest first."""
    from packdown.report.moving import history_lines
    from packdown.store import undoing

    with open_store(store).reading() as rows:
        entries = undoing.history(rows)
    if as_json:
        print_json(entries[:limit])
    else:
        print_lines(history_lines(entries, limit))


@app.command()
def undo(
    change: Annotated[
        int | None, typer.Argument(help="Number in the history; otherwise the last change.")
    ] = None,
    *,
    store: StoreAddress = None,
) -> None:
    """Take back a change; that can be undone in turn."""
    from packdown.store import undoing

    undone = undoing.undo(open_store(store), change)
    talk().print(f"Undone: change {undone.id}, {undone.summary}.", markup=False)
