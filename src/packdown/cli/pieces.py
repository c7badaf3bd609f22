"""Commands on single pieces and on tables of them: piece, contents, counts."""

import sys
from pathlib import Path
from typing import Annotated

import typer

from packdown.cli.app import Json, Output, app, talk
from packdown.cli.stores import StoreAddress, Yes, confirm, open_store, print_json, print_lines

__all__ = ["piece"]


@app.command()
def piece(
    name: Annotated[str, typer.Argument(help="Id or own name of one piece.")],
    *,
    own_name: Annotated[
        str | None, typer.Option("--name", help="Give it a name of its own; '' takes it away.")
    ] = None,
    tags: Annotated[
        list[str] | None, typer.Option("--tag", help="Words to search by; '' for none.")
    ] = None,
    photos: Annotated[
        list[str] | None, typer.Option("--photo", help="Files that show it; '' for none.")
    ] = None,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Tell one piece apart from others of its part by a name, tags or photos; or show it."""
    from packdown.store.individuals import describe, individual

    target = open_store(store)
    if own_name is None and tags is None and photos is None:
        with target.reading() as rows:
            known = individual(rows, name)
    else:
        known = describe(target, name, name=own_name, tags=_filled(tags), paths=_filled(photos))
    if as_json:
        print_json(known)
        return
    print_lines([f"{known.piece}: {known.name}" if known.name else known.piece])
    print_lines(f"  tag: {tag}" for tag in known.tags)
    print_lines(f"  photo: {path}" for path in known.photos)


def _filled(values: list[str] | None) -> list[str] | None:
    return None if values is None else [value for value in values if value.strip()]


@app.command()
def forget(
    pieces: Annotated[
        list[str],
        typer.Argument(help="Pieces, builds or parts, or a container for all that is in it."),
    ],
    *,
    number: Annotated[int | None, typer.Option("--number", min=1, help="How many of each.")] = None,
    store: StoreAddress = None,
    yes: Yes = False,
) -> None:
    """Strike off what you no longer own; undo brings it back."""
    from packdown.store.individuals import strike_off

    target = open_store(store)
    confirm(f"Strike off {', '.join(pieces)}?", yes=yes)
    struck = strike_off(target, pieces, number)
    talk().print(f"Struck off: {len(struck)} pieces.", markup=False)


@app.command()
def contents(
    container: Annotated[
        str | None, typer.Argument(help="Only what lies in this container.")
    ] = None,
    *,
    output: Output = None,
    source: Annotated[
        Path | None,
        typer.Option("--from", metavar="FILE", help="Take over places from such a table."),
    ] = None,
    store: StoreAddress = None,
    as_json: Json = False,
) -> None:
    """Write every piece and its place as CSV, or take such a table over."""
    from packdown.files import read_stated
    from packdown.store import exchange
    from packdown.store.finding import box_of

    target = open_store(store)
    if source is not None:
        stated = [
            exchange.Stated(
                piece=one.piece,
                place=one.place,
                condition=one.condition,
                event=one.event,
                entry=one.entry,
            )
            for one in read_stated(source, exchange.Content._fields)
        ]
        changed = exchange.put_contents(target, stated, source.name)
        talk().print(f"{len(changed)} pieces are somewhere else now.", markup=False)
        return
    with target.reading() as rows:
        found = exchange.contents(rows, box_of(rows, container) if container else None)
    _write(exchange.Content._fields, found, output, as_json=as_json)


@app.command()
def counts(*, output: Output = None, store: StoreAddress = None, as_json: Json = False) -> None:
    """Write every line of every count as CSV."""
    from packdown.store import exchange

    with open_store(store).reading() as rows:
        found = exchange.counts(rows)
    _write(exchange.CountedLine._fields, found, output, as_json=as_json)


def _write(
    header: tuple[str, ...],
    rows: tuple[tuple[object, ...], ...],
    output: Path | None,
    *,
    as_json: bool,
) -> None:
    from packdown.files import rows_text, write_text

    if as_json:
        print_json([dict(zip(header, row, strict=True)) for row in rows])
    elif output:
        write_text(rows_text(header, rows), output)
        talk().print(f"{len(rows)} rows: {output}", markup=False)
    else:
        sys.stdout.write(rows_text(header, rows))
